"""What a sheet says on paper."""

from datetime import datetime

from django.conf import settings
from django.utils import timezone
from django.utils.translation import gettext as _

from rigs.check import log, printed, remarks, whole
from rigs.check.steps import QUESTIONS
from rigs.check.told import called
from rigs.words.days import clock, long_day


def filled(sheet):
    """Return the printed.Filled that prints ``sheet``."""
    return printed.Filled(
        vessel=sheet.vessel_name,
        day=sheet.day,
        officer=str(sheet.officer),
        handed_in=sheet.finished and timezone.localtime(sheet.finished),
        whole=sheet.verdict,
        beside=_beside(sheet),
        head=((_("Place"), sheet.place),),
        readings=tuple(_readings(sheet)),
        notices=tuple(save.parted for save in sheet.revisions.all() if save.parted),
        notes=sheet.notes,
        is_demo=settings.SITE_DEMO,
    )


def _beside(sheet):
    def findings(answers):
        return whole.judged(answers, sheet.books, sheet.day, sheet.position).findings

    return remarks.noted(sheet.typed, sheet.log, sheet.reasons, findings)


def _readings(sheet):
    for row in sheet.readings.all():
        if row.text.strip():
            yield printed.Reading(
                called(QUESTIONS[row.name]) if row.name in QUESTIONS else row.name,
                log.worked_out(row.entry_of_log, sheet.typed) or row.text,
                log.how_words(row.entry_of_log),
                _time(row.rail, sheet.day) or _("not recorded"),
                when(row.arrived, sheet.day),
                _struck(row, sheet.day),
            )


def _struck(row, day):
    if row.late:
        return _("Came after the sheet was turned in: does not count.")
    if not row.struck:
        return ""
    at = _time(row.struck, day)
    if row.why:
        return _("Struck out {at}: {why}.").format(at=at, why=row.why)
    return _("Struck out {at}.").format(at=at)


def _time(text, day):
    return when(datetime.fromisoformat(text), day) if text else ""


def when(moment, day):
    """Return ``moment`` in the site's time, with its day unless that is ``day``."""
    local = timezone.localtime(moment)
    if local.date() == day:
        return clock(local)
    return _("{day}, {time}").format(day=long_day(local), time=clock(local))
