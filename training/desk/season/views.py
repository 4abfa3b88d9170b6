"""The season report as a page and as a PDF."""

from django import forms
from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from rigs.words.say import gettext_lazy
from training.people import sight

from . import counting, printed, text
from .gathering import MOST_SEASONS, gather


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
    }
    return render(request, "desk/report.html", context)


@never_cache
@sight.staff
@require_safe
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
