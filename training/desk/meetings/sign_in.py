"""A sheet of paper on which people sign in at a session."""

from django.utils.translation import gettext as _

from rigs.drawing.blocks import Heading, Row, RowCell, Said
from rigs.drawing.paper import Document
from rigs.drawing.setting import Setting

from ..trainees import people

MOST_NAMES = 300
EMPTY_LINES = 14
"""Lines for those who are not on the list, at least (by custom)."""

_SHARES = (0.42, 0.33, 0.25)
_TO_WRITE = 16.0  # size of type that makes a row high enough for a pencil


def as_pdf(session):
    """Return the sheet of ``session`` as the bytes of a PDF."""
    paper = Document(_("Sign-in sheet: {title}").format(title=session.title))
    set_on(paper, session)
    return paper.data()


def set_on(paper, session):
    """Set the sheet on ``paper``: the members by name, then empty lines."""
    members = people(session.group).filter(is_active=True)
    names = list(members.values_list("name", flat=True)[:MOST_NAMES])
    left_out = members.count() - len(names)
    setting = Setting(paper, f"{session.title}. {session.when}", _cautions(session))
    setting.across(_head(session))
    if names:
        setting.across([Heading(_("In the group")), *_rows(names)])
    if left_out:
        setting.across([Said(_("And {left_out} more, who sign below.").format(left_out=left_out))])
    setting.across([Heading(_("Not on the list?")), *_rows([""] * EMPTY_LINES)])


def _head(session):
    yield Said(session.title, 20, bold=True)
    yield Said(session.when, 12)
    if session.place:
        yield Said(session.place, 12)
    yield Said(session.group.name, 12)
    if session.called_off:
        yield Said(_("Called off"), 14, bold=True)


def _rows(names):
    yield Row(
        tuple(map(RowCell, (_("Name"), _("Vessel"), _("Initials")))), _SHARES, size=10, head=True
    )
    for name in names:
        yield Row((RowCell(name), RowCell(""), RowCell("")), _SHARES, size=_TO_WRITE)


def _cautions(session):
    said = [_("For the staff: put those who came on the session's list, then throw this away.")]
    if session.group.is_demo:
        said.append(_("Demo data: this group and its people are invented."))
    return said
