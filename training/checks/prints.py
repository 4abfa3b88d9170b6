"""What a sheet says on paper."""

from datetime import datetime

from django.conf import settings
from django.http import HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _

from rigs.check import log, printed
from rigs.check.steps import QUESTIONS
from rigs.check.told import called
from rigs.words.days import clock, long_day
from training.deck.codes import in_groups

from . import shown
from .compare import as_turned_in, rows
from .head_form import head_words


def filled(sheet, copy=None):
    """Return the printed.Filled that prints ``sheet``; ``copy`` is the printed.Copy on it."""
    return printed.Filled(
        vessel=sheet.vessel_name,
        day=sheet.day,
        officer=str(sheet.officer),
        handed_in=sheet.finished and timezone.localtime(sheet.finished),
        whole=sheet.verdict,
        beside=shown.beside(sheet),
        head=tuple(_head(sheet)),
        readings=tuple(_readings(sheet)),
        corrections=tuple(_corrections(sheet)),
        notices=tuple(save.parted for save in sheet.revisions.all() if save.parted),
        notes=sheet.notes,
        photos=tuple(_photos(sheet)),
        signatures=tuple(_signatures(sheet)),
        copy=copy,
        is_demo=settings.SITE_DEMO,
    )


def _head(sheet):
    yield _("Place"), sheet.place
    yield from head_words(sheet.head)


def _corrections(sheet):
    """Yield what each correction changed, beside the save that was shown before it."""
    saves = list(sheet.revisions.all())
    before = as_turned_in(saves)
    for save in sheet.corrections:
        changed = [row for row in rows(before.content, save.content) if row.changed]
        moment = timezone.localtime(save.received)
        words = _("{day}, {time}: {reason}").format(
            day=long_day(moment), time=clock(moment), reason=save.reason
        )
        yield printed.Correction(words, tuple((r.label, r.before, r.after) for r in changed))
        before = save


def _photos(sheet):
    for number, (__, line) in enumerate(shown.photos(sheet), 1):
        if line:
            yield _("Photo {number}: {line}").format(number=number, line=line)
        else:
            yield _("Photo {number}").format(number=number)


def _signatures(sheet):
    for each in sheet.signatures:
        words = ": ".join(filter(None, (shown.role_words(each["role"]), each.get("name"))))
        if each.get("refused"):
            words = _("{words}. Declined to sign.").format(words=words)
        strokes = tuple(
            tuple((float(x), float(y)) for x, y in points) for points in each.get("strokes", [])
        )
        yield printed.Signature(words, strokes)


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


def copy_of(request, sheet):
    """Return the printed.Copy of ``sheet``, None for one that was not turned in."""
    if not (sheet.finished and sheet.code):
        return None
    address = request.build_absolute_uri(reverse("checks:copy_code", args=[sheet.code]))
    page = request.build_absolute_uri(reverse("checks:copy"))
    words = _("The skipper's copy of this sheet: {page}, code {code}.").format(
        page=page, code=in_groups(sheet.code)
    )
    return printed.Copy(address, words)


def pdf(data, name):
    """Return the bytes ``data`` of a PDF as a download called ``name``."""
    return HttpResponse(
        data,
        content_type="application/pdf",
        headers={"Content-Disposition": f'attachment; filename="{slugify(name)}.pdf"'},
    )


def response(request, sheet):
    """Return the print of ``sheet`` as a download."""
    name = f"check {sheet.vessel_name} {sheet.day.isoformat()}"
    return pdf(printed.filled(filled(sheet, copy_of(request, sheet))), name)
