from django.urls import include, path

from . import log_views, trip_views, views

app_name = "rigs"

urlpatterns = [
    path("trip/", trip_views.trip, name="trip"),
    path("trip/<slug:name>.png", trip_views.trip_chart, name="trip_chart"),
    path("nets/", views.nets, name="nets"),
    path("nets/new/", views.net_new, name="net_new"),
    path("nets/preview/", views.net_preview, name="net_preview"),
    path("nets/<int:pk>/", views.net_plan, name="net"),
    path("nets/<int:pk>/edit/", views.net_edit, name="net_edit"),
    path("nets/<int:pk>/rename/", views.net_rename, name="net_rename"),
    path("nets/<int:pk>/copy/", views.net_copy, name="net_copy"),
    path("nets/<int:pk>/delete/", views.net_delete, name="net_delete"),
    path("nets/<int:pk>/put-back/", views.net_restore, name="net_restore"),
    path("nets/<int:pk>/sheet.pdf", views.net_sheet_pdf, name="net_sheet_pdf"),
    path("nets/<int:pk>/sheet.png", views.net_sheet_png, name="net_sheet_png"),
    path("nets/<int:pk>/shine/", log_views.log, name="log"),
    path("nets/<int:pk>/shine/new/", log_views.tow_new, name="tow_new"),
    path("tows/<int:pk>/", log_views.tow_edit, name="tow_edit"),
    path("tows/<int:pk>/delete/", log_views.tow_delete, name="tow_delete"),
    path("tows/<int:pk>/put-back/", log_views.tow_restore, name="tow_restore"),
    path("checks/", include("rigs.check_urls")),
]
