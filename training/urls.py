"""Where each part of the site lives."""

from django.contrib import admin
from django.urls import include, path
from django.views.decorators.cache import cache_control
from django.views.i18n import JavaScriptCatalog

from training.home.find_views import found
from training.home.views import home
from training.people import sight

# The words of the scripts, for pages in another language than theirs.
words = sight.anyone(cache_control(public=True, max_age=3600)(JavaScriptCatalog.as_view()))

urlpatterns = [
    path("", home, name="home"),
    path("find/", found, name="find"),
    path("", include("training.people.urls")),
    path("account/data/", include("training.privacy.urls")),
    path("lessons/", include("training.course.urls.lessons")),
    path("exercises/", include("training.course.urls.exercises")),
    path("practice/", include("training.course.urls.recall")),
    path("nets/", include("training.nets.urls")),
    path("checks/", include("training.checks.urls")),
    path("trip/", include("training.trips.urls")),
    path("try/", include("training.trying.urls")),
    path("expect/", include("training.predicting.urls")),
    path("exams/", include("training.certification.urls")),
    path("calibration/", include("training.calibration.urls")),
    path("register/", include("training.register.urls")),
    path("evidence/", include("training.evidence.urls")),
    path("desk/", include("training.desk.urls")),
    path("letters/", include("training.letters.urls")),
    path("accounts/", include("training.accounts.urls")),
    path("work/", include("training.work.urls")),
    path("arrived/", include("training.inbox.urls")),
    path("desk/record/", include("training.interchange.urls")),
    path("rule-sets/", include("training.rulesets.urls")),
    path("", include("training.certification.certificate_urls")),
    path("", include("training.office.urls")),
    path("", include("training.sea.urls")),
    path("words.js", words, name="words"),
    path("admin/", admin.site.urls),
]

handler400 = "training.deck.errors.bad_request"
handler403 = "training.deck.errors.forbidden"
handler404 = "training.deck.errors.not_found"
handler500 = "training.deck.errors.broken"
