from django.urls import path

from training.deck.downloads import both

from . import practice_views, reading_views, staff_views, views

app_name = "calibration"

urlpatterns = [
    path("", views.rounds, name="rounds"),
    path("new/", staff_views.new_round, name="new_round"),
    path("<int:pk>/", staff_views.show_round, name="round"),
    path("<int:pk>/change/", staff_views.change_round, name="change_round"),
    path("<int:pk>/close/", staff_views.close, name="close"),
    path("<int:pk>/report/", staff_views.report, name="report"),
    *both("<int:pk>/judgements", staff_views.judgements_table, "judgements"),
    *both("<int:pk>/figures", staff_views.summary_table, "summary"),
    path("turn/<int:pk>/", views.turn, name="turn"),
    path("turn/<int:pk>/rig/<int:place>/", views.rig, name="rig"),
    path("turn/<int:pk>/hand-in/", views.hand_in, name="hand_in"),
    path("turn/<int:pk>/result/", views.show_result, name="result"),
    path("turn/<int:pk>/practice/", practice_views.practice_on, name="practice"),
    path("turn/<int:pk>/readings/", reading_views.readings, name="readings"),
    path("practice/<int:pk>/", practice_views.practiced, name="practiced"),
]
