from django.urls import path

from . import views

app_name = "recall"

urlpatterns = [
    path("start/", views.start, name="start"),
    path("review/", views.review, name="review"),
    path("rules/", views.rules, name="rules"),
    path("rules/<slug:name>/<slug:rule>/", views.one_rule, name="one_rule"),
    path("how/", views.how, name="how"),
    path("mail/", views.mail, name="mail"),
    path("<int:pk>/", views.show, name="set"),
    path("<int:pk>/<int:number>/", views.answer, name="answer"),
]
