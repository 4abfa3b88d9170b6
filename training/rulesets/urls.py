from django.urls import path

from . import views

app_name = "rulesets"

urlpatterns = [
    path("", views.shelf, name="shelf"),
    path("draft/<slug:name>/", views.start, name="start"),
    path("<int:pk>/", views.version, name="version"),
    path("<int:pk>/edit/", views.edit, name="edit"),
    path("<int:pk>/count/", views.count, name="count"),
    path("<int:pk>/<slug:what>/", views.act, name="act"),
]
