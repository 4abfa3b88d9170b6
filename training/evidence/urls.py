from django.urls import path

from training.deck.downloads import both

from . import staff_views, views

app_name = "evidence"

urlpatterns = [
    path("", staff_views.evidence, name="evidence"),
    *both("ratios", staff_views.evidence_table, "evidence"),
    path("ratios.png", staff_views.evidence_png, name="evidence_png"),
    *both("pairs", staff_views.pairs_table, "pairs"),
    path("enter/", staff_views.pair_owner, name="pair_owner"),
    path("enter/<int:pk>/", staff_views.pair_for, name="pair_for"),
    path("tows/", views.pairs, name="pairs"),
    path("tows/new/", views.pair_new, name="pair_new"),
    path("tows/<int:pk>/", views.pair_edit, name="pair_edit"),
    path("tows/<int:pk>/delete/", views.pair_delete, name="pair_delete"),
    path("tows/<int:pk>/put-back/", views.pair_restore, name="pair_restore"),
]
