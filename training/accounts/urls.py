from django.urls import path

from . import views

app_name = "accounts"

urlpatterns = [
    path("", views.account, name="account"),
    path("sign-up/", views.sign_up, name="sign_up"),
    path("join/", views.join_group, name="join"),
    path("sign-in/", views.SignIn.as_view(), name="sign_in"),
    path("sign-out/", views.SignOut.as_view(), name="sign_out"),
    path("password/", views.ChangePassword.as_view(), name="password"),
    path("reset/", views.AskReset.as_view(), name="reset"),
    path("reset/sent/", views.ResetSent.as_view(), name="reset_sent"),
    path("reset/<uidb64>/<token>/", views.SetPassword.as_view(), name="reset_confirm"),
    path("reset/done/", views.ResetDone.as_view(), name="reset_done"),
]
