from django.urls import path

from . import lesson_views, views

app_name = "recall"

urlpatterns = [
    path("start/", views.start, name="start"),
    path("review/", views.review, name="review"),
    path("rules/", views.rules, name="rules"),
    path("rules/<slug:name>/<slug:rule>/", views.one_rule, name="one_rule"),
    path("lesson/<slug:slug>/", lesson_views.readings, name="lesson"),
    path("lesson/<slug:slug>/known/", lesson_views.known, name="known"),
    path("how/", views.how, name="how"),
    path("mail/", views.mail, name="mail"),
    path("<int:pk>/", views.show, name="set"),
    path("<int:pk>/<int:number>/", views.answer, name="answer"),
]
