from django.urls import include, path, re_path

from . import requirements_views, views

app_name = "certification"

urlpatterns = [
    path("", views.mine, name="mine"),
    path("begin/<slug:slug>/", views.begin, name="begin"),
    path("<int:pk>/", views.exam, name="exam"),
    path("<int:pk>/task/<int:number>/", views.task, name="task"),
    path("<int:pk>/review/", views.review, name="review"),
    path("<int:pk>/hand-in/", views.hand_in, name="hand_in"),
    path("requirements/", requirements_views.requirements_list, name="requirements_list"),
    path("requirements/<slug:slug>/", requirements_views.requirements, name="requirements"),
    path(
        "requirements/<slug:slug>/change/",
        requirements_views.change_requirements,
        name="change_requirements",
    ),
    path("requirements/<slug:slug>/changes/", requirements_views.history, name="changes"),
    path("changes/<int:pk>/", requirements_views.change, name="change"),
    re_path(
        r"^changes/(?P<pk>[0-9]+)/(?P<action>approve|turn-down|take-back)/$",
        requirements_views.decide,
        name="decide",
    ),
    path("new-requirements/", requirements_views.new_requirements, name="new_requirements"),
    path("", include("training.certification.fair.urls")),
]
