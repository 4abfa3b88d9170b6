from django.urls import path

from . import views

app_name = "interchange"

urlpatterns = [
    path("", views.overview, name="overview"),
    path("statements.json", views.download, name="download"),
]
