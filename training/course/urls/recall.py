from django.urls import path

from .. import known_views, practice_views

app_name = "recall"

urlpatterns = [
    path("start/", practice_views.start, name="start"),
    path("review/", practice_views.review, name="review"),
    path("rules/", practice_views.rules, name="rules"),
    path("rules/<slug:name>/<slug:rule>/", practice_views.one_rule, name="one_rule"),
    path("lesson/<slug:slug>/", known_views.readings, name="lesson"),
    path("lesson/<slug:slug>/known/", known_views.known, name="known"),
    path("how/", practice_views.how, name="how"),
    path("mail/", practice_views.mail, name="mail"),
    path("<int:pk>/", practice_views.show, name="set"),
    path("<int:pk>/<int:number>/", practice_views.answer, name="answer"),
]
