from django.urls import path

from . import live_views, views

app_name = "lessons"

urlpatterns = [
    path("", views.lesson_list, name="list"),
    path("live/<slug:name>/dropper/", live_views.dropper, name="live"),
    path("live/<slug:name>/dropper/figure/", live_views.dropper_figure, name="live_figure"),
    path("<slug:slug>/", views.detail, name="detail"),
    path("<slug:slug>/read/", views.read, name="read"),
]
