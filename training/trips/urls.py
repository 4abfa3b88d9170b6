from django.urls import path

from . import views

app_name = "trips"

urlpatterns = [
    path("", views.trip, name="trip"),
    path("<slug:name>.png", views.trip_chart, name="trip_chart"),
]
