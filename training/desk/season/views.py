"""The season report as a page and as a PDF."""

from django import forms
from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from rigs.words.days import long_day
from rigs.words.say import gettext_lazy
from training.people import sight

from . import dates, printed, text
from .gathering import gather

YEARS = 5
"""As many seasons as can be chosen, counted back from the latest."""


class YearForm(forms.Form):
    """Which season to report on."""

    year = forms.TypedChoiceField(label=gettext_lazy("Season"), coerce=int, required=False)

    def __init__(self, *args, latest, **kwargs):
        super().__init__(*args, **kwargs)
        self.latest = latest
        years = range(latest.year, latest.year - YEARS, -1)
        self.fields["year"].choices = [(year, str(year)) for year in years]

    def chosen(self):
        """Return the Season asked for; the latest if that was not understood."""
        self.full_clean()
        year = getattr(self, "cleaned_data", {}).get("year")
        return dates.season(year) if year else self.latest


def _asked(request):
    """Return (form, Report) as the address asks for it."""
    today = timezone.localdate()
    form = YearForm(request.GET or None, latest=dates.latest(today))
    return form, gather(request.user, form.chosen(), today)


@never_cache
@sight.staff
@require_safe
def report(request):
    """Show the report on a season."""
    form, found = _asked(request)
    context = {
        "form": form,
        "report": found,
        "title": text.title(found),
        "on": long_day(found.on),
        "sections": text.sections(found),
    }
    return render(request, "desk/report.html", context)


@never_cache
@sight.staff
@require_safe
def report_pdf(request):
    """Download the report as a PDF."""
    _, found = _asked(request)
    name = f"season-{found.season.year}.pdf"
    return HttpResponse(
        printed.as_pdf(found),
        content_type="application/pdf",
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
    )
