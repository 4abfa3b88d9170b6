from django.urls import path

from . import views

app_name = "office"

urlpatterns = [
    path("health/", views.health, name="health"),
    path("ready/", views.ready, name="ready"),
    path("well/", views.well, name="well"),
]
