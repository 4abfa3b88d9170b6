from django.urls import path

from . import asking_views, views

app_name = "accounts"

urlpatterns = [
    path("", views.accounts, name="accounts"),
    path("invite/", views.invite, name="invite"),
    path("asked/", asking_views.requests, name="requests"),
    path("asked/<int:pk>/<slug:what>/", asking_views.decide, name="decide_request"),
    path("<int:pk>/", views.account, name="account"),
    path("<int:pk>/invite/", views.invite_again, name="invite_again"),
    path("welcome/<uidb64>/<token>/", views.Welcome.as_view(), name="welcome"),
]
