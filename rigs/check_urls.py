"""The addresses of check sheets, below the one to which their worker script is bound."""

from django.urls import path

from . import check_phone_views, check_views

urlpatterns = [
    path("", check_views.checks, name="checks"),
    path("new/", check_views.check_new, name="check_new"),
    path("phone/", check_phone_views.check_phone, name="check_phone"),
    path("worker.js", check_phone_views.check_worker, name="check_worker"),
    path("send/", check_phone_views.check_send, name="check_send"),
    path("blank/<slug:name>.pdf", check_views.check_blank, name="check_blank"),
    path("photos/<uuid:key>.jpg", check_views.check_photo, name="check_photo"),
    path("<uuid:key>/", check_views.check, name="check"),
    path("<uuid:key>/held/", check_phone_views.check_held, name="check_held"),
    path("<uuid:key>/photos/", check_phone_views.check_add_photo, name="check_add_photo"),
    path("<uuid:key>/step/<slug:slug>/", check_views.check_step, name="check_step"),
    path("<uuid:key>/hand-in/", check_views.check_hand_in, name="check_hand_in"),
    path("<uuid:key>/correct/", check_views.check_correct, name="check_correct"),
    path("<uuid:key>/sheet.pdf", check_views.check_pdf, name="check_pdf"),
]
