"""Part of the addresses of ``certification``."""

from django.urls import path

from . import supervision_views, views

urlpatterns = [
    path("supervised/", supervision_views.supervisions, name="supervisions"),
    path("supervised/new/", supervision_views.new_supervision, name="new_supervision"),
    path("supervised/<int:pk>/", supervision_views.one, name="supervision"),
    path("supervised/<int:pk>/close/", supervision_views.close, name="close_supervision"),
    path("supervised/<int:pk>/sign/<int:exam>/", supervision_views.sign, name="sign"),
    path("granted/", views.grants, name="grants"),
    path("questions/", views.all_questions, name="questions"),
    path("questions/<int:pk>/", views.answer, name="question"),
    path("corrections/", views.proposals, name="proposals"),
    path("corrections/<int:pk>/decide/", views.decide, name="decide_correction"),
    path("<int:pk>/ask/", views.ask, name="ask"),
    path("<int:pk>/correct/", views.correct, name="correct"),
]
