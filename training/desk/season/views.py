"""The season report as a page and as a PDF."""

from django import forms
from django.core.paginator import Paginator
from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from rigs.words.say import gettext_lazy
from training.people import sight
from training.people.models import User
from training.register.models import Vessel
from training.register.sizes import SIZES
from training.work import aside

from . import counting, opening, printed, text
from .gathering import MOST_SEASONS, gather

ROWS_A_PAGE = 100


class ReportForm(forms.Form):
    """Which season to report on, and for whom."""

    OFFICE = "office"
    VERSIONS = (
        ("", gettext_lazy("To hand on: small counts are left out")),
        (OFFICE, gettext_lazy("For the office: nothing is left out")),
    )

    year = forms.TypedChoiceField(
        label=gettext_lazy("Season"),
        coerce=int,
        required=False,
        error_messages={"invalid_choice": gettext_lazy("Choose one of these seasons.")},
    )
    version = forms.ChoiceField(
        label=gettext_lazy("Small counts"), choices=VERSIONS, required=False
    )

    def __init__(self, *args, seasons, **kwargs):
        super().__init__(*args, **kwargs)
        self.seasons = {season.year: season for season in seasons}
        self.fields["year"].choices = [(year, str(year)) for year in self.seasons]

    def chosen(self):
        """
        Return (Season, whether for the office, whether the Season is the one asked for).

        The latest Season stands in for one of which there is nothing to tell. What was not
        understood of the version is the one to hand on.
        """
        self.full_clean()
        told = getattr(self, "cleaned_data", {})
        latest = next(iter(self.seasons.values()))
        season = self.seasons.get(told.get("year") or None, latest)
        return season, told.get("version") == self.OFFICE, "year" not in self.errors


def _asked(request):
    """Return (form, Report, whether it is of the season asked for) as the address says."""
    today = timezone.localdate()
    seasons = counting.seasons(request.user, today, MOST_SEASONS)
    form = ReportForm(request.GET or None, seasons=seasons)
    season, for_office, is_that = form.chosen()
    return form, gather(request.user, season, today, for_office), is_that


def _told_of(request):
    """Return of how many people and vessels a report tells; past AT_ONCE they are not counted."""
    people = sight.rows(User.objects.all(), request.user)
    vessels = sight.rows(Vessel.objects.all(), request.user)
    return aside.few(people) + aside.few(vessels)


@never_cache
@sight.staff
@require_safe
def report(request):
    """Show the report on a season."""
    form, found, is_that = _asked(request)
    context = {
        "form": form,
        "report": found,
        "title": text.title(found),
        "as_of": text.as_of(found),
        "version": text.version(found),
        "demo": text.DEMO,
        "is_that": is_that,
        "sections": text.sections(found),
        "counts": opening.counts(found) if found.for_office else [],
    }
    return render(request, "desk/report.html", context)


@never_cache
@sight.staff
@require_safe
@aside.if_long(gettext_lazy("Report of a season"), _told_of)
def report_pdf(request):
    """Download the report as a PDF; 404 for a season of which there is nothing to tell."""
    __, found, is_that = _asked(request)
    if not is_that:
        raise Http404(_("Nothing is known of that season."))
    return HttpResponse(
        printed.as_pdf(found),
        content_type="application/pdf",
        headers={"Content-Disposition": f'attachment; filename="{printed.file_name(found)}"'},
    )


def _rows_asked(request, words):
    """Return (season, day, what of ``words``) of a list behind a report; else answer 404."""
    today = timezone.localdate()
    seasons = counting.seasons(request.user, today, MOST_SEASONS)
    season, __, is_that = ReportForm(request.GET, seasons=seasons).chosen()
    of = request.GET.get("of", next(iter(words)))
    if not is_that or of not in words:
        raise Http404(_("There is no such list."))
    return season, min(season.last, today), of


def _rows(request, found, **context):
    context["page"] = Paginator(found, ROWS_A_PAGE).get_page(request.GET.get("page"))
    return render(request, "desk/report_rows.html", context)


@never_cache
@sight.staff
@require_safe
def report_vessels(request):
    """List the vessels that a count of the report for the office is of."""
    words = opening.vessel_words()
    season, on, of = _rows_asked(request, words)
    narrowed = {field: request.GET.get(field, "") for field in ("harbor", "size")}
    sizes = {size.key: size.words for size in SIZES}
    told = [words[of], narrowed["harbor"], sizes.get(narrowed["size"], narrowed["size"])]
    found = opening.vessels(request.user, season, on, of, **narrowed)
    words = ", ".join(filter(None, told))
    return _rows(request, found, season=season, on=on, words=words, link="register:vessel")


@never_cache
@sight.staff
@require_safe
def report_people(request):
    """List the people whom a count of the report for the office is of."""
    words = opening.people_words()
    season, on, of = _rows_asked(request, words)
    found = opening.people(request.user, on, of)
    return _rows(request, found, season=season, on=on, words=words[of], link="desk:trainee")
