from django.urls import path

from . import uptake_views, views

app_name = "fleet"

urlpatterns = [
    path("uptake/", uptake_views.uptake, name="uptake"),
    path("uptake/<slug:key>.csv", uptake_views.uptake_csv, name="uptake_csv"),
    path("uptake/<slug:key>.png", uptake_views.uptake_png, name="uptake_png"),
    path("conversion/", uptake_views.waiting, name="waiting"),
    path("conversion/<slug:key>.csv", uptake_views.waiting_csv, name="waiting_csv"),
    path("conversion/<slug:key>.png", uptake_views.waiting_png, name="waiting_png"),
    path("trainees/", views.trainees, name="trainees"),
    path("trainees.csv", views.trainees_csv, name="trainees_csv"),
    path("trainees/<int:pk>/", views.trainee, name="trainee"),
    path("trainees/<int:pk>/attempts.csv", views.attempts_csv, name="attempts_csv"),
    path("groups/", views.groups, name="groups"),
    path("groups/<int:pk>/", views.group, name="group"),
]
