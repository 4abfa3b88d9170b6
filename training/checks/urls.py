"""The addresses of check sheets."""

from django.urls import path

from training.deck.downloads import both

from . import copy_views, history_views, phone_views, table, views

app_name = "checks"

urlpatterns = [
    path("", views.checks, name="checks"),
    *both("all", table.checks_table, "checks"),
    *both("readings", table.readings_table, "readings"),
    path("copy/", copy_views.copy, name="copy"),
    path("copy/<slug:code>/", copy_views.copy_code, name="copy_code"),
    path("copy/<slug:code>/sheet.pdf", copy_views.copy_pdf, name="copy_pdf"),
    path("thrown-away/", views.thrown_away, name="thrown_away"),
    path("new/", views.check_new, name="check_new"),
    path("phone/", phone_views.check_phone, name="check_phone"),
    path("worker.js", phone_views.check_worker, name="check_worker"),
    path("send/", phone_views.check_send, name="check_send"),
    path("thrown/", phone_views.check_thrown, name="check_thrown"),
    path("blank/<slug:name>.pdf", views.check_blank, name="check_blank"),
    path("photos/<uuid:key>.jpg", views.check_photo, name="check_photo"),
    path("<uuid:key>/", views.check, name="check"),
    path("<uuid:key>/held/", phone_views.check_held, name="check_held"),
    path("<uuid:key>/photos/", phone_views.check_add_photo, name="check_add_photo"),
    path("<uuid:key>/step/<slug:slug>/", views.check_step, name="check_step"),
    path("<uuid:key>/head/", views.check_head, name="check_head"),
    path("<uuid:key>/another-net/", views.check_another_net, name="check_another_net"),
    path("<uuid:key>/compare/", history_views.check_compare, name="check_compare"),
    path("<uuid:key>/hand-in/", views.check_hand_in, name="check_hand_in"),
    path("<uuid:key>/correct/", history_views.check_correct, name="check_correct"),
    path("<uuid:key>/sheet.pdf", views.check_pdf, name="check_pdf"),
]
