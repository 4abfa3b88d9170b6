"""The calls to make on paper: as many of the most urgent as two pages hold, with room to write."""

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from rigs.drawing.blocks import Row, RowCell, Said
from rigs.drawing.page import WIDE
from rigs.drawing.paper import Document
from rigs.drawing.setting import Setting
from rigs.words.days import long_day
from training.people.models.users import ReachBy

PAGES = 2
MOST_PRINTED = 60
"""More cards than two pages hold: a row takes two lines at least."""

_SHARES = (0.21, 0.33, 0.24, 0.22)
_LAST_LINE = 24  # points, for what is said of those left out


def _row(card):
    who = ", ".join(filter(None, (card.name, card.harbors)))
    why = " ".join(each.words for each in card.whys)
    return Row(tuple(RowCell(words) for words in (who, why, reached(card), "")), _SHARES)


def _ways(contact):
    """Return the number of a Contact, or the address where that is better or there is no number."""
    person = contact.person
    by_mail = person.reach_by == ReachBy.EMAIL or not contact.phone
    ways = ", ".join(filter(None, (person.email if by_mail else "", contact.phone)))
    if not person.reach_by:
        return ways
    return _("{ways} (best: {way})").format(ways=ways, way=person.get_reach_by_display())


def reached(card):
    """Return in words how the person, or the first two of the vessel's crew, are reached."""
    if card.of == "person":
        return _ways(card.contacts[0])
    found = [
        _("{name}, {part}: {ways}").format(name=each.name, part=each.part, ways=_ways(each))
        for each in card.contacts[:2]
    ]
    if found:
        return "; ".join(found)
    told = [_("Nobody of its crew has an account here.")]
    if card.called.captain:
        told.append(_("Captain {captain}.").format(captain=card.called.captain))
    if card.called.owner:
        told.append(_("Owner {owner}.").format(owner=card.called.owner))
    return " ".join(told)


def _fitting(setting, rows, left):
    """Yield ``rows`` while there is room on the last page, and take each off ``left``."""
    heads = (_("Who"), _("Why"), _("How to reach them"), _("What was said"))
    yield Row(tuple(map(RowCell, heads)), _SHARES, head=True)
    for row in rows:
        bottom = setting.y + row.height(setting.paper, WIDE) + _LAST_LINE
        if setting.page == PAGES and bottom > setting.bottom:
            return
        left.pop()
        yield row


def set_on(paper, cards, total, day):
    """Set the first of ``cards``, of ``total`` there are, on ``paper`` for ``day``, a date."""
    title = _("Who to call")
    setting = Setting(paper, _("{title}, {day}").format(title=title, day=long_day(day)))
    opening = ngettext(
        "{day}. {count} call to make.",
        "{day}. {count} calls to make, the most urgent first.",
        total,
    ).format(day=long_day(day), count=total)
    if not total:
        opening = _("{day}. Nobody to call.").format(day=long_day(day))
    setting.across([Said(title, 18, bold=True), Said(opening, 10.5, after=6)])
    if any(card.is_demo for card in cards):
        setting.across([Said(_("Demo data: people and vessels are invented."), bold=True)])
    left = [None] * total
    if cards:
        setting.across(_fitting(setting, map(_row, cards), left))
    if left:
        more = ngettext(
            "{count} more call is on the site.", "{count} more calls are on the site.", len(left)
        )
        setting.across([Said("", 4), Said(more.format(count=len(left)))])


def as_pdf(cards, total, day):
    """Return the calls as the bytes of a PDF of at most PAGES pages."""
    paper = Document(_("Who to call"))
    set_on(paper, cards, total, day)
    return paper.data()
