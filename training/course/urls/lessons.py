from django.urls import path

from training.lessons import live_views

from .. import lesson_views

app_name = "lessons"

urlpatterns = [
    path("", lesson_views.lesson_list, name="list"),
    path("live/<slug:name>/dropper/", live_views.dropper, name="live"),
    path("live/<slug:name>/dropper/figure/", live_views.dropper_figure, name="live_figure"),
    path("live/<slug:name>/dropper/table/", live_views.dropper_table, name="live_table"),
    path("live/<slug:name>/flight/", live_views.flight, name="flight"),
    path("live/<slug:name>/flight/figure/", live_views.flight_figure, name="flight_figure"),
    path("live/<slug:name>/flight/table/", live_views.flight_table, name="flight_table"),
    path("<slug:slug>/", lesson_views.detail, name="detail"),
    path("<slug:slug>/read/", lesson_views.read, name="read"),
]
