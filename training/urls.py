"""Where each part of the site lives."""

from django.contrib import admin
from django.urls import include, path

from training.lessons.views import home

urlpatterns = [
    path("", home, name="home"),
    path("account/", include("training.accounts.urls")),
    path("account/data/", include("training.privacy.urls")),
    path("lessons/", include("training.lessons.urls")),
    path("exercises/", include("training.exercises.urls")),
    path("practice/", include("training.recall.urls")),
    path("expect/", include("training.predicting.urls")),
    path("papers/", include("training.certification.urls")),
    path("calibration/", include("training.calibration.urls")),
    path("rule-sets/", include("training.rulesets.urls")),
    path("fleet/", include("training.fleet.urls")),
    path("fleet/record/", include("training.interchange.urls")),
    path("rigs/", include("rigs.urls")),
    path("", include("training.certification.certificate_urls")),
    path("admin/", admin.site.urls),
]

handler403 = "training.errors.forbidden"
handler404 = "training.errors.not_found"
handler500 = "training.errors.broken"
