from django.urls import path

from . import advice_views, card_views, flight_views, log_views, views

app_name = "nets"

urlpatterns = [
    path("", views.nets, name="nets"),
    path("new/", views.net_new, name="net_new"),
    path("preview/", views.net_preview, name="net_preview"),
    path("<int:pk>/", views.net_plan, name="net"),
    path("<int:pk>/edit/", views.net_edit, name="net_edit"),
    path("<int:pk>/rename/", views.net_rename, name="net_rename"),
    path("<int:pk>/copy/", views.net_copy, name="net_copy"),
    path("<int:pk>/delete/", views.net_delete, name="net_delete"),
    path("<int:pk>/put-back/", views.net_restore, name="net_restore"),
    path("<int:pk>/rigged/", views.net_rigged, name="net_rigged"),
    path("rigged/<int:pk>/delete/", views.rigging_delete, name="rigging_delete"),
    path("rigged/<int:pk>/put-back/", views.rigging_restore, name="rigging_restore"),
    path("<int:pk>/sheet.pdf", views.net_sheet_pdf, name="net_sheet_pdf"),
    path("<int:pk>/sheet.png", views.net_sheet_png, name="net_sheet_png"),
    path("<int:pk>/flight/", flight_views.flight, name="flight"),
    path("<int:pk>/flight/figure/", flight_views.flight_figure, name="flight_figure"),
    path("<int:pk>/flight/sure/", flight_views.flight_sure, name="flight_sure"),
    path("<int:pk>/flight/advice/", advice_views.flight_advice, name="flight_advice"),
    path("<int:pk>/flight/advice/figure/", advice_views.advice_figure, name="advice_figure"),
    path("<int:pk>/flight/advice/sure/", advice_views.advice_sure, name="advice_sure"),
    path("<int:pk>/flight/card/", card_views.flight_card, name="flight_card"),
    path("<int:pk>/flight/card/ask/", card_views.flight_card_ask, name="flight_card_ask"),
    path("<int:pk>/shine/", log_views.log, name="log"),
    path("<int:pk>/shine/new/", log_views.tow_new, name="tow_new"),
    path("tows/<int:pk>/", log_views.tow_edit, name="tow_edit"),
    path("tows/<int:pk>/delete/", log_views.tow_delete, name="tow_delete"),
    path("tows/<int:pk>/put-back/", log_views.tow_restore, name="tow_restore"),
]
