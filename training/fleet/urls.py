from django.urls import path

from . import uptake_views, views
from .meetings import views as meeting_views

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
    path("groups/<int:pk>/live/", meeting_views.live, name="group_live"),
    path("groups/<int:pk>/sessions/new/", meeting_views.new_session, name="new_session"),
    path("groups/<slug:code>.ics", meeting_views.group_calendar, name="group_calendar"),
    path("sessions/", meeting_views.sessions, name="sessions"),
    path("sessions/<int:pk>/", meeting_views.change_session, name="change_session"),
    path("sessions/<int:pk>/call-off/", meeting_views.call_off, name="call_off"),
    path("sessions/<uuid:uid>.ics", meeting_views.session_calendar, name="session_calendar"),
]
