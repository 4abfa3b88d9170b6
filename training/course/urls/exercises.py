from django.urls import path

from training.exercises import views
from training.exercises.sea import views as sea_views

from .. import mixed_views

app_name = "exercises"

urlpatterns = [
    path("", mixed_views.practice, name="list"),
    path("next/", mixed_views.next_task, name="next"),
    path("pass-over/<int:pk>/", mixed_views.pass_over, name="pass_over"),
    path("sea/", sea_views.tasks, name="sea"),
    path("sea/set/", sea_views.set_tasks, name="sea_set"),
    path("sea/<int:pk>/", sea_views.task, name="sea_task"),
    path("sea/<int:pk>/key/", sea_views.key, name="sea_key"),
    path("<slug:slug>/", views.do, name="do"),
    path("<slug:slug>/level/", views.at_level, name="at_level"),
    path("<slug:slug>/another/", views.another, name="another"),
    path("marked/<int:pk>/", views.marked, name="marked"),
]
