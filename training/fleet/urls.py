from django.urls import path

from . import views

app_name = "fleet"

urlpatterns = [
    path("trainees/", views.trainees, name="trainees"),
    path("trainees.csv", views.trainees_csv, name="trainees_csv"),
    path("trainees/<int:pk>/", views.trainee, name="trainee"),
    path("trainees/<int:pk>/attempts.csv", views.attempts_csv, name="attempts_csv"),
    path("groups/", views.groups, name="groups"),
    path("groups/<int:pk>/", views.group, name="group"),
]
