"""The officers' check sheets as a table for staff."""

from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from rigs.words.say import gettext_lazy
from training.deck.downloads import table
from training.people import sight

from .models import CheckSheet

HEADER = (
    gettext_lazy("Key"),
    gettext_lazy("Officer"),
    gettext_lazy("Vessel"),
    gettext_lazy("Harbor"),
    gettext_lazy("Position"),
    gettext_lazy("Day"),
    gettext_lazy("Rule set"),
    gettext_lazy("Its version"),
    gettext_lazy("Outside"),
    gettext_lazy("Inside"),
    gettext_lazy("Not measured"),
    gettext_lazy("Turned in"),
    gettext_lazy("Notes"),
)


def _row(sheet):
    return (
        sheet.key,
        sheet.officer,
        sheet.vessel_name,
        sheet.harbor,
        sheet.position,
        sheet.day,
        sheet.rulebook_name,
        sheet.rulebook_version,
        sheet.outside,
        sheet.within,
        sheet.not_measured,
        sheet.finished,
        sheet.notes,
    )


@never_cache
@sight.staff
@require_safe
def checks_table(request, ending):
    """Download every check sheet as it stands, one a row."""
    sheets = sight.rows(CheckSheet.objects.select_related("officer"), request.user)
    return table(ending, "check-sheets", HEADER, (_row(sheet) for sheet in sheets))
