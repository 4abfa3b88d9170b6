"""The addresses of what is taken to sea; the worker stands at the root, to reach every page."""

from django.urls import path

from . import phone_views, views

app_name = "sea"

urlpatterns = [
    path("worker.js", phone_views.worker_script, name="worker"),
    path("site.webmanifest", phone_views.manifest, name="manifest"),
    path("no-signal/", phone_views.no_signal, name="no_signal"),
    path("signed-out/", phone_views.signed_out, name="signed_out"),
    path("sea/", views.ready, name="ready"),
    path("sea/list/", views.along_list, name="list"),
    path("sea/still/", views.still, name="still"),
]
