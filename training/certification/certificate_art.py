"""
A certificate to hang on the wall of the wheelhouse: one A4 sheet on its long side.

The code in the corner leads to the page where anybody can check that it still counts.
"""

from collections.abc import Sequence
from datetime import date
from io import BytesIO
from math import cosh
from typing import NamedTuple

import segno

from rigs.paper import A4_LANDSCAPE, Document, Picture

_WIDTH, _HEIGHT = A4_LANDSCAPE
_INK, _SOFT, _ACCENT, _WARN = "#16252d", "#4b5b64", "#0b5565", "#8a3b00"
_EDGE = 62  # of the text, from the edge of the sheet
_CODE = 104

CAUTION = (
    "Training, not legal advice: the regulation in force, the permit and the officer on the spot "
    "decide."
)
DEMO = "DEMO DATA: this person and this paper are invented"


class Printed(NamedTuple):
    """
    What stands on a certificate.

    ``rules`` are the titles and versions of the rule sets, a line each; ``code`` is as a
    person types it and ``address`` the page that checks it.
    """

    holder: str
    title: str
    summary: str
    issued: date
    expires: date
    rules: Sequence[str]
    code: str
    address: str
    is_demo: bool


def as_pdf(printed):
    """Return ``printed`` as the bytes of a PDF of one page."""
    return _drawn(Document(f"{printed.title}: {printed.holder}", A4_LANDSCAPE), printed)


def as_png(printed):
    """Return ``printed`` as the bytes of a PNG picture."""
    return _drawn(Picture(A4_LANDSCAPE), printed)


def _drawn(paper, printed):
    _frame(paper)
    _footrope(paper)
    _middle(paper, printed)
    _facts(paper, printed)
    return paper.data()


def _frame(paper):
    for inset, weight in ((24, 3), (31, 0.75)):
        paper.box(
            inset, inset, _WIDTH - 2 * inset, _HEIGHT - 2 * inset, colour=_ACCENT, weight=weight
        )


def _footrope(paper):
    """Draw a footrope with its droppers across the head, as an ornament and to no scale."""
    half, top, steps = 250, 58, 60

    def sag(x):
        return 26 * (cosh(1.6) - cosh(1.6 * x / half)) / (cosh(1.6) - 1)

    spots = [half * (2 * step / steps - 1) for step in range(steps + 1)]
    middle = _WIDTH / 2
    for left, right in zip(spots, spots[1:], strict=False):
        paper.line(
            middle + left, top + sag(left), middle + right, top + sag(right), _ACCENT, weight=2.25
        )
    for number in range(-5, 6):
        x = number * half / 5.5
        y = top + sag(x)
        paper.line(middle + x, y, middle + x, y + 17, _ACCENT, weight=1)
        paper.box(middle + x - 1.5, y + 17, 3, 3, filled=True, colour=_ACCENT)


def _centred(paper, y, words, size, bold=False, colour=_INK):
    """Write ``words`` in the middle of the sheet, smaller if they are too long for it."""
    room = _WIDTH - 2 * _EDGE
    while size > 8 and paper.width(words, size, bold) > room:
        size -= 0.5
    while paper.width(words, size, bold) > room:
        words = f"{words[:-2].rstrip()}…"
    paper.text((_WIDTH - paper.width(words, size, bold)) / 2, y, words, size, bold, colour=colour)


def _wrapped(paper, words, size, room):
    lines = [""]
    for word in words.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and paper.width(longer, size) > room:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def _evenly(paper, words, size, room):
    """Return the lines of ``words``, narrowed until one more would be needed."""
    lines = _wrapped(paper, words, size, room)
    while room > 200 and len(narrower := _wrapped(paper, words, size, room - 10)) == len(lines):
        lines, room = narrower, room - 10
    return lines


def _middle(paper, printed):
    _centred(paper, 122, "C E R T I F I C A T E", 13, True, _ACCENT)
    _centred(paper, 146, printed.title, 30, True, _INK)
    _centred(paper, 204, "is held by", 13, colour=_SOFT)
    _centred(paper, 226, printed.holder, 38, True, _ACCENT)
    paper.line(_WIDTH / 2 - 190, 277, _WIDTH / 2 + 190, 277, _ACCENT, weight=0.75)
    _centred(paper, 288, "who passed the paper for it, judged rule by rule", 13, colour=_SOFT)
    lines = _evenly(paper, printed.summary, 12.5, _WIDTH - 2 * _EDGE - 120)
    if len(lines) > 3:
        lines = [*lines[:2], f"{lines[2]} …"]
    for number, line in enumerate(lines):
        _centred(paper, 314 + 17 * number, line, 12.5)
    if printed.is_demo:
        _centred(paper, 371, DEMO, 13, True, _WARN)


def _facts(paper, printed):
    top = 402
    paper.line(_EDGE, top - 8, _WIDTH - _EDGE, top - 8, _SOFT)
    for x, heading, words in (
        (_EDGE, "Issued", _day(printed.issued)),
        (_EDGE + 165, "Valid until", _day(printed.expires)),
        (_EDGE + 330, "Code", printed.code),
    ):
        paper.text(x, top, heading, 10.5, colour=_SOFT)
        paper.text(x, top + 15, words, 15, True, colour=_INK)
    paper.text(_EDGE, top + 46, "By the rules of", 10.5, colour=_SOFT)
    lines = list(printed.rules)
    if len(lines) > 4:
        lines = [*lines[:3], f"and {len(lines) - 3} more, named on the page below"]
    for number, line in enumerate(lines):
        paper.text(_EDGE, top + 61 + 14 * number, line, 11, colour=_INK)
    right = _WIDTH - _EDGE - _CODE
    picture = BytesIO()
    segno.make(printed.address, error="m", micro=False).save(
        picture, kind="png", scale=8, border=2, dark=_INK
    )
    paper.picture(picture.getvalue(), right, top, _CODE, _CODE)
    foot = _HEIGHT - 70
    paper.text(_EDGE, foot, f"Does it still count? {printed.address}", 10, True, colour=_INK)
    paper.text(_EDGE, foot + 15, CAUTION, 10, colour=_SOFT)


def _day(day):
    return f"{day:%B} {day.day}, {day.year}"
