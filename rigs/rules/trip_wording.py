"""
What is said of a finding on a trip: where, when, the letter and the catch.

It goes by the sort of quantity that a rule is about, never by the rule. ``wording`` says
all else.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from rigs.requirements import by_mesh
from rigs.words import species
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy

from . import wording
from .outcomes import FAIL, FISHERY_MARKS, NOT_MEASURED, PASS
from .rulebook import FISHERY

if TYPE_CHECKING:
    from .judge import Finding

MET, BROKEN, NOT_ENTERED, NOT_CLEAR = (
    "met",
    "broken",
    gettext_lazy("not entered"),
    gettext_lazy("not clear"),
)


def mark(finding: Finding) -> str:
    """
    Return how ``finding`` came out: ``met``, ``broken``, ``not entered`` or ``not clear``.

    The last is for what was entered but does not settle it, such as a name that may mean
    two kinds of fish. What a whole fishery is weighed by is ``a warning sign``, not broken.
    """
    if finding.outcome != NOT_MEASURED:
        if finding.requirement.basis == FISHERY:
            return FISHERY_MARKS[finding.outcome]
        return MET if finding.outcome == PASS else BROKEN
    entered = finding.measured is not None and not isinstance(finding.measured, bool)
    return NOT_CLEAR if entered else NOT_ENTERED


def listed(words: Iterable[str], last: str = "and") -> str:
    """Return ``words`` as a list in a sentence: ``a, b and c``."""
    words = list(words)
    return f" {last} ".join(filter(None, [", ".join(words[:-1]), *words[-1:]]))


def _days(finding: Finding) -> str:
    season = finding.requirement.limit_text
    if finding.outcome == NOT_MEASURED:
        return _("No day was entered. The season: {season}.").format(season=season)
    day = finding.requirement.say(finding.measured)
    where = "in" if finding.outcome == PASS else "outside"
    return _("{day} is {where} the season: {season}.").format(day=day, where=where, season=season)


def _inside(finding: Finding) -> str:
    waters = finding.requirement.limit_text
    if finding.measured is None:
        if finding.outcome == FAIL:
            return _("No area of this fishery is open on that day.")
        return _("No position was entered. It must lie inside {waters}.").format(waters=waters)
    if finding.outcome == NOT_MEASURED:
        return _(
            "The corners do not tell whether the position lies inside: the shore closes the "
            "area there, and the text gives no points for it."
        )
    where = "inside" if finding.outcome == PASS else "outside"
    return _("The position lies {where} the area that is open that day.").format(where=where)


def _outside(finding: Finding) -> str:
    titles = listed(area.title for area in finding.requirement.limit)
    if finding.outcome == FAIL:
        return _("The position lies inside {listed}.").format(listed=listed(finding.spots))
    if finding.measured is None:
        return _("No position was entered. It must lie outside {titles}.").format(titles=titles)
    if finding.outcome == NOT_MEASURED:
        return _("The corners do not tell whether the position lies outside {titles}.").format(
            titles=titles
        )
    return _("The position lies outside {titles}.").format(titles=titles)


def _area(finding: Finding) -> str:
    return (_outside if finding.requirement.test == "outside" else _inside)(finding)


def quoted(names: Iterable[str]) -> str:
    """Return ``names`` as a list in a sentence, each in quotes."""
    return listed(f"“{name}”" for name in names)


def _names(finding: Finding) -> str:
    allowed = finding.requirement.limit
    may = _("What may be kept: {allowed}.").format(allowed=", ".join(allowed))
    if finding.measured is None:
        return (
            _("Nothing is kept.")
            if finding.outcome == PASS
            else _("Not entered. {may}").format(may=may)
        )
    found = species.sort_out(finding.measured, allowed)
    told = (
        [_("Not on the list: {quoted}.").format(quoted=quoted(found.unlisted))]
        if found.unlisted
        else []
    )
    told += [
        _("“{name}” can be {listed}. Which one is it?").format(
            name=name, listed=listed(sorted(species.kinds(name)), "or")
        )
        for name in found.unclear
    ]
    if found.unknown:
        told.append(
            _("We do not know {quoted}. Check the spelling, or use another name.").format(
                quoted=quoted(found.unknown)
            )
        )
    if not told:
        return _("Kept: {measured}. All of it is on the list.").format(
            measured=", ".join(finding.measured)
        )
    return " ".join([*told, may])


def _weight(finding: Finding, most: str) -> str:
    """Return the weight kept; ``just over`` it where it prints as the ``most`` that it breaks."""
    weight = finding.requirement.say(finding.measured)
    return (
        _("just over {weight}").format(weight=weight)
        if finding.outcome == FAIL and weight == most
        else weight
    )


def _mass_by_mesh(finding: Finding) -> str:
    load, table = finding.measured, finding.requirement.limit
    if load is None:
        return _("No weight was entered. At most {table_text}.").format(
            table_text=by_mesh.table_text(table)
        )
    rows = by_mesh.possible(table, load)
    weight = _weight(finding, by_mesh.pounds(max(row.most for row in rows)))
    most = at_most(table, rows)
    if finding.outcome == NOT_MEASURED:
        told = _("{weight} is kept. Enter the smallest mesh on board: at most {at_most}.").format(
            weight=weight, at_most=most
        )
    elif len({(row.most, row.where) for row in rows}) == 1:
        comma = "," if rows[0].where else ""
        told = _("{weight} is kept; at most {at_most}{comma} is allowed.").format(
            weight=weight, at_most=most, comma=comma
        )
    else:
        sort = "more" if finding.outcome == FAIL else _("no more")
        told = _(
            "{weight} is kept, {sort} than is allowed with any mesh it can be: at most {at_most}."
        ).format(weight=weight, sort=sort, at_most=most)
    return f"{told[0].upper()}{told[1:]}"


def at_most(table: by_mesh.Table, rows: by_mesh.Table) -> str:
    """Return in words how much the ``rows`` of ``table`` allow."""
    if len({(row.most, row.where) for row in table}) == 1:
        return by_mesh.table_text(table)
    return "; ".join(by_mesh.row_text(table, row) for row in rows)


def _mass(finding: Finding) -> str:
    if finding.measured is None:
        return _("No weight was entered. {allowed_text}.").format(
            allowed_text=finding.allowed_text.capitalize()
        )
    weight = _weight(finding, finding.requirement.limit_text)
    return _("{upper}{weight} is kept; {allowed_text} is allowed.").format(
        upper=weight[0].upper(), weight=weight[1:], allowed_text=finding.allowed_text
    )


def _share(finding: Finding) -> str:
    standard = _("the standard for the whole fishery is {allowed_text}").format(
        allowed_text=finding.allowed_text
    )
    if finding.measured is None:
        return _("Not entered; {standard}.").format(standard=standard)
    share = finding.requirement.say(finding.measured)
    if finding.outcome == PASS and share == finding.requirement.limit_text:
        share = _("Just under {share}").format(share=share)
    return _("{share} of this catch is regulated species; {standard}.").format(
        share=share, standard=standard
    )


def _wait(finding: Finding) -> str:
    days, limit = finding.measured, finding.requirement.limit
    after = (
        _("from the day after")
        if limit == 1
        else _("from {say} after").format(say=finding.requirement.say(limit))
    )
    if days is None:
        return _("The day it was asked for was not entered. It holds {after}.").format(after=after)
    if days < 0:
        return _("It was asked for {say} after that day.").format(
            say=finding.requirement.say(-days)
        )
    told = (
        _("on that very day")
        if not days
        else _("{say} before that day").format(say=finding.requirement.say(days))
    )
    return _("It was asked for {told}. A letter holds {after}.").format(told=told, after=after)


def _flag(finding: Finding) -> str:
    if finding.outcome == NOT_MEASURED:
        return _("Not entered; {asked}.").format(asked=wording.asked(finding.requirement))
    return wording.sentence(finding)


_SENTENCES: dict[str, Callable[[Finding], str]] = {
    "flag": _flag,
    "days": _days,
    "area": _area,
    "names": _names,
    "mass by mesh": _mass_by_mesh,
    "mass": _mass,
    "share": _share,
    "day count": _wait,
}


def sentence(finding: Finding) -> str:
    """Return what was entered against what is asked, as sentences."""
    return _SENTENCES[finding.requirement.measure.dimension](finding)
