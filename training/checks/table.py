"""The officers' check sheets as tables for staff: one a row, and one reading a row."""

from datetime import datetime

from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from rigs.check import log
from rigs.check.entry import RowAverage, read_one
from rigs.check.steps import QUESTIONS
from rigs.words.say import gettext_lazy
from rigs.words.units import UnitError
from training.deck.downloads import table
from training.deck.passing import in_lots
from training.people import sight
from training.work import aside

from .models import CheckReading, CheckSheet
from .shown import label_of

HEADER = (
    gettext_lazy("Key"),
    gettext_lazy("Officer"),
    gettext_lazy("Vessel"),
    gettext_lazy("Number on the hull"),
    gettext_lazy("Permit number"),
    gettext_lazy("Net"),
    gettext_lazy("Boarding"),
    gettext_lazy("Harbor"),
    gettext_lazy("Position"),
    gettext_lazy("Day"),
    gettext_lazy("Started"),
    gettext_lazy("Ended"),
    gettext_lazy("Wet or dry"),
    gettext_lazy("Rule set"),
    gettext_lazy("Its version"),
    gettext_lazy("Fishery"),
    gettext_lazy("Version of its rules"),
    gettext_lazy("Outside"),
    gettext_lazy("Inside"),
    gettext_lazy("Not measured"),
    gettext_lazy("Of these, rests on what somebody said"),
    gettext_lazy("Turned in"),
    gettext_lazy("Corrections"),
    gettext_lazy("Phone and site differed"),
    gettext_lazy("Notes"),
)

READINGS_HEADER = (
    gettext_lazy("Sheet"),
    gettext_lazy("Vessel"),
    gettext_lazy("Day"),
    gettext_lazy("Question"),
    gettext_lazy("Question's name"),
    gettext_lazy("As typed"),
    gettext_lazy("As worked out"),
    gettext_lazy("Value (m, or a count; yes or no)"),
    gettext_lazy("Counts"),
    gettext_lazy("Measured or said"),
    gettext_lazy("Instrument, or who said it"),
    gettext_lazy("Time at the rail"),
    gettext_lazy("Time of arrival"),
    gettext_lazy("Officer"),
    gettext_lazy("Struck at"),
    gettext_lazy("Why struck"),
    gettext_lazy("Came after turning in"),
)

AT_A_TIME = 500


def _said_at(text):
    return datetime.fromisoformat(text) if text else None


def _row(sheet):
    saves = list(sheet.revisions.all())
    head = sheet.head
    return (
        sheet.key,
        sheet.officer,
        sheet.vessel_name,
        head.get("vessel_number"),
        head.get("permit"),
        head.get("net"),
        sheet.boarding,
        sheet.harbor,
        sheet.position,
        sheet.day,
        head.get("started"),
        head.get("ended"),
        head.get("wet"),
        sheet.rulebook_name,
        sheet.rulebook_version,
        sheet.fishery_name,
        sheet.fishery_version,
        sheet.outside,
        sheet.within,
        sheet.not_measured,
        sheet.rests_on_told,
        sheet.finished,
        sum(1 for save in saves if save.reason),
        any(save.parted for save in saves),
        sheet.notes,
    )


def _value(row, typed):
    """Return what the reading ``row`` comes to in SI; None if it cannot be read, or is a list."""
    if row.name not in QUESTIONS:
        return None
    sure = {row.name: row.text, QUESTIONS[row.name].sure: row.text}
    try:
        value = read_one(row.name, row.text, typed | sure)
    except UnitError:
        return None
    value = value.average if isinstance(value, RowAverage) else value
    return value if isinstance(value, (bool, int, float)) else None


def _reading_row(row, counting):
    sheet, entry = row.sheet, row.entry_of_log
    return (
        sheet.key,
        sheet.vessel_name,
        sheet.day,
        label_of(row.name),
        row.name,
        row.text,
        log.worked_out(entry, sheet.typed) or row.text,
        _value(row, sheet.typed),
        row.pk in counting,
        row.how,
        row.tool,
        _said_at(row.rail),
        row.arrived,
        sheet.officer,
        _said_at(row.struck),
        row.why,
        row.late,
    )


def _sheets(user):
    found = CheckSheet.objects.select_related("officer").prefetch_related("revisions")
    return map(_row, in_lots(sight.rows(found, user), AT_A_TIME))


def _number_of_sheets(request, ending):
    return aside.few(sight.rows(CheckSheet.objects.all(), request.user))


def _number_of_readings(request, ending):
    sheets = sight.rows(CheckSheet.objects.all(), request.user)
    return aside.few(CheckReading.objects.filter(sheet__in=sheets))


def _readings(user):
    """Yield the readings of all sheets that ``user`` sees, in the order of the sheets."""
    sheets = sight.rows(CheckSheet.objects.all(), user)
    rows = CheckReading.objects.filter(sheet__in=sheets).select_related("sheet__officer")
    rows = list(rows.order_by("-sheet__day", "sheet", "number", "device", "place", "pk"))
    last = {
        (row.sheet_id, row.name): row.pk for row in rows if row.entry_of_log.counts and not row.late
    }
    counting = set(last.values())
    return (_reading_row(row, counting) for row in rows)


@never_cache
@sight.staff
@require_safe
@aside.if_long(gettext_lazy("Table of the check sheets"), _number_of_sheets)
def checks_table(request, ending):
    """Download every check sheet as it stands, one a row."""
    return table(ending, "check-sheets", HEADER, _sheets(request.user))


@never_cache
@sight.staff
@require_safe
@aside.if_long(gettext_lazy("Table of the readings"), _number_of_readings)
def readings_table(request, ending):
    """Download every reading of every check sheet, one a row."""
    return table(ending, "check-readings", READINGS_HEADER, _readings(request.user))
