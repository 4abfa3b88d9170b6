from django.urls import path

from . import views

app_name = "accounts"

urlpatterns = [
    path("", views.accounts, name="accounts"),
    path("invite/", views.invite, name="invite"),
    path("<int:pk>/", views.account, name="account"),
    path("<int:pk>/invite/", views.invite_again, name="invite_again"),
    path("welcome/<uidb64>/<token>/", views.Welcome.as_view(), name="welcome"),
]
