"""A session's poster: one sheet, to hang on a wall, as PDF or as a picture."""

from typing import NamedTuple

from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from PIL import Image

from rigs.drawing.column import Measured, lines, shortened
from rigs.drawing.page import MARGIN, WIDE, code, largest_that, strip
from rigs.drawing.paper import HEIGHT, Document, Picture

_CODE = 228  # points a side: seen by a phone from some steps away
_BELOW = HEIGHT - 330  # where the code and what to do with it begin
SEEN = (850, 1100)
"""Pixels of the poster as a picture: a column of a page, on a screen of fine dots."""

_PERCENTS = (100, 85, 70, 60, 50, 40)


class ToScan(NamedTuple):
    """What leads to a session: the ``link`` of the picture, and the address to type."""

    link: str
    typed: str


def as_pdf(session, to_scan):
    """Return the poster as the bytes of a PDF."""
    paper = Document(session.title)
    set_on(paper, session, to_scan)
    return paper.data()


def as_png(session, to_scan):
    """Return the poster as the bytes of a PNG picture, as large as a screen shows it."""
    paper = Picture()
    set_on(paper, session, to_scan)
    # It is black on white: in grays, and no finer than seen, it is quick to make and to fetch.
    paper.image = paper.image.convert("L").resize(SEEN, Image.Resampling.BOX)
    return paper.data()


def set_on(paper, session, to_scan):
    """Set the poster of ``session`` on ``paper``, its words as large as there is room."""
    percent = largest_that(
        lambda percent: _set_words(Measured(paper), session, percent) <= _BELOW - 12, _PERCENTS
    )
    _set_words(paper, session, percent)
    if not session.called_off:
        _how(paper, session, to_scan)
    _foot(paper, session)


def _set_words(paper, session, percent):
    """Set what, when and where, at ``percent`` of the largest size; return the y below."""

    def say(y, words, size, most, bold=False):
        return _say(paper, y, words, (size * percent // 100, 12), most, bold)

    y = MARGIN
    if session.called_off:
        strip(paper, y, _("Called off"), 44, 28)
        y += 58
    y = say(y, session.group.name, 26, most=1)
    y = say(y + 6, session.title, 60, most=3, bold=True) + 14
    for words in _when(session):
        y = say(y, words, 38, most=2, bold=True)
    if session.place:
        y = say(y + 8, session.place, 32, most=2)
    if session.note:
        y = say(y + 10, " ".join(session.note.split()), 26, most=3)
    return y


def _when(session):
    """Return the lines that say when it is."""
    starts, ends = map(timezone.localtime, (session.starts, session.ends))
    last = "" if starts.date() == ends.date() else date_format(ends, "l")
    hours = _("{begins} to {finishes} on {last}") if last else _("{begins} to {finishes}")
    return [
        date_format(starts, "l, F j, Y"),
        hours.format(
            begins=date_format(starts, "g:i a"), finishes=date_format(ends, "g:i a"), last=last
        ),
    ]


def _say(paper, y, words, sizes, most, bold=False):
    """
    Write ``words`` from ``y`` down, as large as they fit ``most`` lines; return the y below.

    ``sizes`` are the largest and the least; what does not fit even so ends in an ellipsis.
    """
    tried = range(sizes[0], min(sizes) - 1, -2)
    size = largest_that(lambda size: len(lines(paper, words, size, WIDE, bold)) <= most, tried)
    found = lines(paper, words, size, WIDE, bold)
    if len(found) > most:
        rest = " ".join(found[most - 1 :])
        found = [*found[: most - 1], shortened(paper, rest, size, WIDE, bold)]
    for line in found:
        paper.text(MARGIN, y, line, size, bold)
        y += size * 1.2
    return y


def _how(paper, session, to_scan):
    """Set the code, and beside it what to do with it."""
    paper.picture(code(to_scan.link), MARGIN, _BELOW, _CODE, _CODE)
    x, y = MARGIN + _CODE + 22, _BELOW + 6
    wide = WIDE - _CODE - 22
    steps = [_("Point your phone's camera at the picture.")]
    if session.group.is_open:
        steps.append(_("Sign up now or on the day."))
    steps.append(_("When you come, tap “I am here”."))
    for step in steps:
        for line in lines(paper, step, 20, wide, True):
            paper.text(x, y, line, 20, True)
            y += 24
        y += 7
    said = _("No camera? Go to {address} and type:").format(address=to_scan.typed)
    for line in lines(paper, said, 15, wide):
        paper.text(x, y, line, 15)
        y += 18
    paper.text(x, y + 4, session.code, 28, True, apart=3)


def _foot(paper, session):
    y = HEIGHT - 62
    paper.line(MARGIN, y, MARGIN + WIDE, y)
    words = [_("Training with the raised footrope.")]
    if session.group.is_demo:
        words.append(_("Demo data: this group and this session are invented."))
    for each in words:
        y += 14
        paper.text(MARGIN, y - 6, each, 10)
