from django.urls import path

from . import views

app_name = "predicting"

urlpatterns = [
    path("", views.start, name="start"),
    path("drawn/<int:seed>/", views.drawn_net, name="drawn"),
    path("net/<int:pk>/", views.own, name="net"),
    path("<int:pk>/", views.result, name="result"),
]
