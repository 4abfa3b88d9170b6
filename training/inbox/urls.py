"""The addresses of what phones sent later, and of which two versions there are."""

from django.urls import path

from . import views

app_name = "inbox"

urlpatterns = [
    path("", views.arrived, name="arrived"),
    path("token/", views.token, name="token"),
    path("unplaced/", views.unplaced, name="unplaced"),
    path("<int:pk>/", views.arrival, name="arrival"),
    path("<int:pk>/done/", views.settle, name="settle"),
]
