from django.urls import path

from . import views

app_name = "exercises"

urlpatterns = [
    path("<slug:slug>/", views.do, name="do"),
    path("<slug:slug>/another/", views.another, name="another"),
    path("marked/<int:pk>/", views.marked, name="marked"),
]
