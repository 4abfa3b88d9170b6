from django.urls import path

from . import net_views, passing_views, views

app_name = "trying"

urlpatterns = [
    path("", views.kinds_to_try, name="kinds"),
    path("net/", net_views.net, name="net"),
    path("net/plan/", net_views.plan, name="plan"),
    path("footrope/", passing_views.footrope, name="footrope"),
    path("footrope/heights/", passing_views.all_heights, name="all_heights"),
    path("kept/", views.kept, name="kept"),
    path("kept/forget/", views.forget, name="forget"),
    path("kept/take/", views.take_along, name="take_along"),
    path("result/<int:number>/", views.marked, name="marked"),
    path("task/<slug:slug>/", views.task, name="task"),
]
