from django.urls import path

from . import views

app_name = "lessons"

urlpatterns = [
    path("", views.lesson_list, name="list"),
    path("<slug:slug>/", views.detail, name="detail"),
    path("<slug:slug>/read/", views.read, name="read"),
]
