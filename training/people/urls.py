from django.urls import path

from . import new_email_views, signing_up_views, views, wanting_views
from .factors import reset_views
from .factors import views as factor_views
from .meetings import views as meeting_views

app_name = "people"

urlpatterns = [
    path("account/", views.account, name="account"),
    path("account/sign-up/", views.sign_up, name="sign_up"),
    path("account/signing-up/", signing_up_views.signing_up, name="signing_up"),
    path(
        "account/signing-up/choose/",
        signing_up_views.choose_signing_up,
        name="choose_signing_up",
    ),
    path("account/join/", views.join_group, name="join"),
    path("account/contact/", views.contact, name="contact"),
    path("account/email/", new_email_views.new_email, name="email"),
    path("account/email/<str:token>/", new_email_views.email_link, name="email_link"),
    path("account/sign-in/", views.SignIn.as_view(), name="sign_in"),
    path("account/sign-in/code/", factor_views.sign_in_code, name="sign_in_code"),
    path("account/prove/", factor_views.prove, name="prove"),
    path("account/phone/", factor_views.phone, name="phone"),
    path("account/phone/set-up/", factor_views.phone_set_up, name="phone_set_up"),
    path("account/phone/spare/", factor_views.new_spare, name="new_spare"),
    path("account/phone/off/", factor_views.phone_off, name="phone_off"),
    path("account/sign-out/elsewhere/", factor_views.sign_out_elsewhere, name="sign_out_elsewhere"),
    path("account/lost-phones/", reset_views.phone_resets, name="phone_resets"),
    path("account/lost-phones/ask/", reset_views.ask_phone_reset, name="ask_phone_reset"),
    path("account/lost-phones/decide/", reset_views.decide_phone_reset, name="decide_phone_reset"),
    path("account/sign-out/", views.SignOut.as_view(), name="sign_out"),
    path("account/password/", views.ChangePassword.as_view(), name="password"),
    path("account/reset/", views.AskReset.as_view(), name="reset"),
    path("account/reset/sent/", views.ResetSent.as_view(), name="reset_sent"),
    path("account/reset/<uidb64>/<token>/", views.SetPassword.as_view(), name="reset_confirm"),
    path("account/reset/done/", views.ResetDone.as_view(), name="reset_done"),
    path("here/", meeting_views.here, name="here"),
    path("account/mail/stop/<str:token>/", wanting_views.stop_mail, name="stop_mail"),
    path("groups/<slug:code>.ics", meeting_views.group_calendar, name="group_calendar"),
    path("sessions/<uuid:uid>.ics", meeting_views.session_calendar, name="session_calendar"),
]
