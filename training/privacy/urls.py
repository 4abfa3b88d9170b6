from django.urls import path

from . import views

app_name = "privacy"

urlpatterns = [
    path("", views.data, name="data"),
    path("my-data.zip", views.take_out, name="take_out"),
    path("erase/", views.erase_me, name="erase"),
]
