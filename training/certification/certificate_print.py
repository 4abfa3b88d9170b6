"""
A certificate to hang on the wall of the wheelhouse: one sheet on its long side.

The code in the corner leads to the page where anybody can check that it is valid.
"""

from collections.abc import Sequence
from datetime import date
from math import cosh
from typing import NamedTuple

from django.utils.translation import gettext as _

from rigs.drawing.column import fitting, lines, shortened
from rigs.drawing.page import code
from rigs.drawing.palette import PRINTS
from rigs.drawing.paper import LANDSCAPE, Document, Picture
from rigs.words.days import long_day
from rigs.words.say import gettext_lazy

_WIDTH, _HEIGHT = LANDSCAPE
_INK, _SOFT, _ACCENT = PRINTS["ink"], PRINTS["soft"], PRINTS["accent"]
_EDGE = 58  # of the text, from the edge of the sheet
_ROOM = _WIDTH - 2 * _EDGE
_CODE = 104
_APART = 4.5  # points between the letters of the heading
_GAP = 26  # points between two facts side by side

HEADING = gettext_lazy("TRAINING CERTIFICATE")
NATURE = gettext_lazy("This is a training certificate, not a license.")
CAUTION = gettext_lazy(
    "Training, not legal advice: the regulation in force, the permit and the local officer decide."
)
DEMO = gettext_lazy("DEMO DATA: this person and this exam are invented")


class Printed(NamedTuple):
    """
    What is on a certificate.

    ``issuer`` is the name of the office that issued it; ``rules`` are the titles and
    versions of the rule sets, a line each; ``code`` is as a person types it and
    ``address`` the page that checks it. ``taken`` says if the exam was supervised,
    ``checked`` is the day of the short check that renewed it.
    """

    holder: str
    title: str
    summary: str
    issuer: str
    issued: date
    expires: date
    rules: Sequence[str]
    code: str
    address: str
    is_demo: bool
    taken: str
    checked: date | None = None


def as_pdf(printed):
    """Return ``printed`` as the bytes of a PDF of one page."""
    return _drawn(Document(f"{printed.title}: {printed.holder}", LANDSCAPE), printed)


def as_png(printed):
    """Return ``printed`` as the bytes of a PNG picture."""
    return _drawn(Picture(LANDSCAPE), printed)


def _drawn(paper, printed):
    _frame(paper)
    _footrope(paper)
    _middle(paper, printed)
    _facts(paper, printed)
    return paper.data()


def _frame(paper):
    for inset, weight in ((24, 3), (31, 0.75)):
        paper.box(
            inset, inset, _WIDTH - 2 * inset, _HEIGHT - 2 * inset, color=_ACCENT, weight=weight
        )


def _footrope(paper):
    """Draw a footrope with its droppers across the head, as an ornament and to no scale."""
    half, top, steps = 250, 52, 60

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
        paper.box(middle + x - 1.5, y + 17, 3, 3, filled=True, color=_ACCENT)


def _centered(paper, y, words, size, bold=False, color=_INK, apart=0):
    width = paper.width(words, size, bold) + apart * (len(words) - 1)
    paper.text((_WIDTH - width) / 2, y, words, size, bold, color=color, apart=apart)


def _block(paper, y, height, words, size, bold=False, color=_INK, most=2):
    """
    Write ``words`` in the middle of the sheet, in the middle of ``height`` points from ``y``.

    They are made smaller until they take no more than ``most`` lines and the height; what
    then still finds no room is left out.
    """

    def set_out():
        return lines(paper, words, size, _ROOM, bold)

    while size > 9 and (len(set_out()) > most or len(set_out()) * size * 1.25 > height):
        size -= 0.5
    written = set_out()
    if len(written) > most:
        written = [
            *written[: most - 1],
            shortened(paper, f"{written[most - 1]}…", size, _ROOM, bold),
        ]
    top = y + (height - len(written) * size * 1.25) / 2
    for number, line in enumerate(written):
        _centered(paper, top + number * size * 1.25, line, size, bold, color)


def _middle(paper, printed):
    _centered(paper, 112, HEADING, 13, True, _ACCENT, apart=_APART)
    _block(paper, 132, 58, printed.title, 30, True)
    _centered(paper, 194, _("awarded to"), 13, color=_SOFT)
    _block(paper, 212, 58, printed.holder, 38, True, _ACCENT)
    paper.line(_WIDTH / 2 - 190, 274, _WIDTH / 2 + 190, 274, _ACCENT, weight=0.75)
    _centered(paper, 282, _("for passing the exam, graded rule by rule"), 13, color=_SOFT)
    _block(paper, 302, 48, printed.summary, 12.5, most=3)
    if printed.is_demo:
        _centered(paper, 354, DEMO, 12, True, PRINTS["demo"])
    _block(paper, 372, 22, _("Issued by {issuer}").format(issuer=printed.issuer), 15, True, most=1)
    nature = f"{NATURE} {printed.taken}"
    size = fitting(paper, nature, (10.5, 7), _ROOM)
    _centered(paper, 395, shortened(paper, nature, size, _ROOM), size, color=_SOFT)


def _side_by_side(paper, top, facts, room):
    """Write ``facts``, (heading, words) pairs, beside each other, smaller if need be."""
    size = 15

    def widths():
        return [
            max(paper.width(heading, 10.5), paper.width(words, size, True))
            for heading, words in facts
        ]

    while size > 8 and sum(widths()) + _GAP * (len(facts) - 1) > room:
        size -= 0.5
    x = _EDGE
    for (heading, words), width in zip(facts, widths(), strict=True):
        paper.text(x, top, heading, 10.5, color=_SOFT)
        paper.text(x, top + 15, words, size, True, color=_INK)
        x += width + _GAP


def _facts(paper, printed):
    top, room = 424, _ROOM - _CODE - 20
    paper.line(_EDGE, top - 8, _WIDTH - _EDGE, top - 8, _SOFT)
    _side_by_side(
        paper,
        top,
        (
            (_("Issued"), long_day(printed.issued)),
            (_("Valid until"), long_day(printed.expires)),
            *([(_("Short check"), long_day(printed.checked))] if printed.checked else []),
            (_("Code"), printed.code),
        ),
        room,
    )
    paper.text(_EDGE, top + 43, _("Rules used"), 10.5, color=_SOFT)
    rules = list(printed.rules)
    if len(rules) > 4:
        rules = [
            *rules[:3],
            _("and {value} more, named on the page below").format(value=len(rules) - 3),
        ]
    for number, line in enumerate(rules):
        size = fitting(paper, line, (10.5, 8), room)
        words = shortened(paper, line, size, room)
        paper.text(_EDGE, top + 57 + 13 * number, words, size, color=_INK)
    paper.picture(code(printed.address, _INK), _WIDTH - _EDGE - _CODE, top, _CODE, _CODE)
    foot = _HEIGHT - 70
    check = _("Check that it is valid: {address}").format(address=printed.address)
    size = fitting(paper, check, (10, 6), _ROOM, bold=True)
    paper.text(_EDGE, foot, check, size, True, color=_INK)
    paper.text(_EDGE, foot + 15, CAUTION, 10, color=_SOFT)
