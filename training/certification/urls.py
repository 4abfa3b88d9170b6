from django.urls import include, path, re_path

from . import scheme_views, views

app_name = "certification"

urlpatterns = [
    path("", views.mine, name="mine"),
    path("begin/<slug:slug>/", views.begin, name="begin"),
    path("<int:pk>/", views.paper, name="paper"),
    path("<int:pk>/task/<int:number>/", views.task, name="task"),
    path("<int:pk>/review/", views.review, name="review"),
    path("<int:pk>/hand-in/", views.hand_in, name="hand_in"),
    path("schemes/", scheme_views.schemes, name="schemes"),
    path("schemes/<slug:slug>/", scheme_views.scheme, name="scheme"),
    path("schemes/<slug:slug>/change/", scheme_views.change_scheme, name="change_scheme"),
    path("schemes/<slug:slug>/changes/", scheme_views.history, name="changes"),
    path("changes/<int:pk>/", scheme_views.change, name="change"),
    re_path(
        r"^changes/(?P<pk>[0-9]+)/(?P<action>approve|turn-down|take-back)/$",
        scheme_views.decide,
        name="decide",
    ),
    path("new-scheme/", scheme_views.new_scheme, name="new_scheme"),
    path("", include("training.certification.fair.urls")),
]
