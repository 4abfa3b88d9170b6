from django.urls import path

from . import views

app_name = "work"

urlpatterns = [
    path("", views.jobs, name="jobs"),
    path("<uuid:key>/", views.job, name="job"),
    path("<uuid:key>/stop/", views.stop, name="stop"),
    path("<uuid:key>/go-on/", views.go_on, name="go_on"),
    path("<uuid:key>/file/", views.file, name="file"),
]
