from django.urls import path

from . import views

app_name = "trying"

urlpatterns = [
    path("", views.kinds_to_try, name="kinds"),
    path("kept/", views.kept, name="kept"),
    path("kept/forget/", views.forget, name="forget"),
    path("kept/take/", views.take_along, name="take_along"),
    path("result/<int:number>/", views.marked, name="marked"),
    path("task/<slug:slug>/", views.task, name="task"),
]
