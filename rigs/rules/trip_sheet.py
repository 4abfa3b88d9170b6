"""
What an officer's sheet says of a trip: what was told against what the clause says.

As for gear, the sentences of a requirement are templates by what they are for, so that a
script that has them says the same and need not know what a rule is about. It goes by the
sort of quantity that a rule is about, never by the rule.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any

from rigs.requirements import by_mesh
from rigs.words import species
from rigs.words.bearing import miles
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy

from . import wording
from .outcomes import CANNOT_TELL, FAIL, FISHERY_MARKS, NOT_MEASURED, PASS, SHEET_MARKS
from .placed import INSIDE, NEAR, OUTSIDE, SHORE, Placed
from .rulebook import FISHERY, Requirement, date_text
from .trip_wording import at_most, listed, quoted
from .waters import DOUBT

if TYPE_CHECKING:
    from .judge import Finding

Sentences = dict[str, str]
"""Templates by what they are for, with named holes."""

IN, OUT = SHEET_MARKS[PASS], SHEET_MARKS[FAIL]
UNREAD, CLOSED = "unread", "closed"
AHEAD, SAME, LATER = "ahead", "same", "later"
JUST_OVER, JUST_UNDER = gettext_lazy("just over {found}"), gettext_lazy("just under {found}")
LINE = gettext_lazy("{one} to {other}")
UNLISTED, UNCLEAR, UNKNOWN, LIST = "unlisted", "unclear", "unknown", "list"


def mark(finding: Finding) -> str:
    """
    Return how ``finding`` came out: ``inside``, ``outside`` or ``not measured``.

    It is ``cannot tell`` of a place or names that do not settle it, and ``a warning sign``
    of what a whole fishery is weighed by.
    """
    if finding.requirement.basis == FISHERY:
        return FISHERY_MARKS[finding.outcome]
    is_told = finding.outcome == NOT_MEASURED and finding.measured is not None
    if is_told and finding.requirement.measure.dimension in ("area", "names"):
        return CANNOT_TELL
    return SHEET_MARKS[finding.outcome]


# The sentences of a requirement, by the sort of its quantity -------------------


def _flag(requirement: Requirement) -> Sentences:
    return wording.sheet_sentences(requirement)


def _days(requirement: Requirement) -> Sentences:
    season = requirement.limit_text
    return {
        IN: _("{{found}} is in the season. The clause says {season}.").format(season=season),
        OUT: _("{{found}} is outside the season. The clause says {season}.").format(season=season),
        NOT_MEASURED: _("No day is on the sheet. The clause says {season}.").format(season=season),
    }


def _area(requirement: Requirement) -> Sentences:
    waters, is_inside = requirement.limit_text, requirement.test == "inside"
    asks = (
        _("The clause says inside {waters}.").format(waters=waters)
        if is_inside
        else _("The clause says outside {waters}.").format(
            waters=listed(area.title for area in requirement.limit)
        )
    )
    nearest = _("The nearest line, {line}, is {distance} off.")
    lies_in = _("The position lies inside {area}.")
    lies_out = (
        _("The position lies outside {area}, which is open that day.")
        if is_inside
        else _("The position lies outside {area}, the nearest.")
    )
    near = _(
        "The position is {{distance}} from the line {{line}} of {{area}}. Within {doubt} of a "
        "line this site cannot tell on which side it lies."
    ).format(doubt=miles(DOUBT))
    shore = _(
        "The corners do not tell whether the position lies inside {area}. The shore closes it "
        "there, and the clause gives no points for the shore."
    )
    return {
        f"{IN if is_inside else OUT} {INSIDE}": f"{lies_in} {nearest} {asks}",
        f"{OUT if is_inside else IN} {OUTSIDE}": f"{lies_out} {nearest} {asks}",
        f"{NOT_MEASURED} {NEAR}": f"{near} {asks}",
        f"{NOT_MEASURED} {SHORE}": f"{shore} {asks}",
        CLOSED: f"{_('No area of this fishery is open that day.')} {asks}",
        NOT_MEASURED: f"{_('No position is on the sheet.')} {asks}",
        UNREAD: f"{_('The position on the sheet could not be read. {problem}')} {asks}",
    }


def _names(requirement: Requirement) -> Sentences:
    kept = _("The clause lists {names}.").format(names=listed(requirement.limit))
    return {
        IN: f"{_('Kept: {names}. All of it is on the list.')} {kept}",
        f"{IN} none": _("Nothing is kept."),
        UNLISTED: _("Not on the list: {names}."),
        UNCLEAR: _("“{name}” can be {kinds}. Find out which one it is."),
        UNKNOWN: _("This site does not know {names}. Check the spelling, or use another name."),
        LIST: kept,
        NOT_MEASURED: f"{_('What is kept is not on the sheet.')} {kept}",
    }


def slices(table: by_mesh.Table) -> Iterator[tuple[str, by_mesh.Table]]:
    """Yield the runs of rows of ``table`` that a load can go by, each with its name."""
    for start in range(len(table)):
        for end in range(start + 1, len(table) + 1):
            yield f"{start} {end}", table[start:end]


def most_of(rows: by_mesh.Table) -> str:
    """Return the most that any of ``rows`` allows, in words."""
    return by_mesh.pounds(max(row.most for row in rows))


def _mass_by_mesh(requirement: Requirement) -> Sentences:
    table = requirement.limit
    told = {
        NOT_MEASURED: _("No weight is on the sheet; the clause says at most {most}.").format(
            most=by_mesh.table_text(table)
        )
    }
    for name, rows in slices(table):
        most = at_most(table, rows)
        if len({(row.most, row.where) for row in rows}) == 1:
            text = _("{{found}} is kept; the clause says at most {most}.").format(most=most)
            told |= {f"{IN} {name}": text, f"{OUT} {name}": text}
            continue
        told[f"{NOT_MEASURED} {name}"] = _(
            "{{found}} is kept. The smallest mesh on board was not measured, and the limit turns "
            "on it: at most {most}."
        ).format(most=most)
        told[f"{IN} {name}"] = _(
            "{{found}} is kept, no more than with any mesh it can be. The clause says at most "
            "{most}."
        ).format(most=most)
        told[f"{OUT} {name}"] = _(
            "{{found}} is kept, more than with any mesh it can be. The clause says at most {most}."
        ).format(most=most)
    return told


def _mass(requirement: Requirement) -> Sentences:
    limit = requirement.allowed_text
    text = _("{{found}} is kept; the clause says {limit}.").format(limit=limit)
    nothing = _("No weight is on the sheet; the clause says {limit}.").format(limit=limit)
    return {IN: text, OUT: text, NOT_MEASURED: nothing}


def _share(requirement: Requirement) -> Sentences:
    limit = requirement.allowed_text
    text = _(
        "{{found}} of this catch is regulated species. The standard for the whole fishery is "
        "{limit}; no trip breaks a rule by it."
    ).format(limit=limit)
    nothing = _(
        "The weights are not on the sheet. The standard for the whole fishery is {limit}; no "
        "trip breaks a rule by it."
    ).format(limit=limit)
    return {IN: text, OUT: text, NOT_MEASURED: nothing}


def _wait(requirement: Requirement) -> Sentences:
    limit = requirement.limit
    after = (
        _("The clause says it holds from the day after it is asked for.")
        if limit == 1
        else _("The clause says it holds from {say} after it is asked for.").format(
            say=requirement.say(limit)
        )
    )
    ahead = _("It was asked for {found} before the day of the check.")
    return {
        AHEAD: f"{ahead} {after}",
        SAME: f"{_('It was asked for on the very day of the check.')} {after}",
        LATER: f"{_('It was asked for {found} after the day of the check.')} {after}",
        NOT_MEASURED: f"{_('The day it was asked for is not on the sheet.')} {after}",
    }


_SENTENCES: dict[str, Callable[[Requirement], Sentences]] = {
    "flag": _flag,
    "days": _days,
    "area": _area,
    "names": _names,
    "mass by mesh": _mass_by_mesh,
    "mass": _mass,
    "share": _share,
    "day count": _wait,
}


def sentences(requirement: Requirement) -> Sentences:
    """Return the sentences of an officer's sheet on ``requirement``, which is about a trip."""
    return _SENTENCES[requirement.measure.dimension](requirement)


# Which of them fits, and what fills it -----------------------------------------


def _row_name(finding: Finding) -> str:
    table, load = finding.requirement.limit, finding.measured
    rows = by_mesh.possible(table, load)
    start = table.index(rows[0])
    return f"{start} {start + len(rows)}"


def _key(finding: Finding) -> str:
    measured, told = finding.measured, SHEET_MARKS[finding.outcome]
    if measured is None:
        if finding.outcome == FAIL:
            return CLOSED
        return UNREAD if finding.missing else told
    match finding.requirement.measure.dimension:
        case "area":
            return f"{told} {measured.way}"
        case "mass by mesh":
            return f"{told} {_row_name(finding)}"
        case "day count":
            return AHEAD if measured > 0 else LATER if measured else SAME
    return told


def _weight(finding: Finding, most: str) -> str:
    weight = finding.requirement.say(finding.measured)
    hides = finding.outcome == FAIL and weight == most
    return JUST_OVER.format(found=weight) if hides else weight


def _found(finding: Finding) -> str:
    """Return what was told, in the unit of the deck."""
    measured, requirement = finding.measured, finding.requirement
    match requirement.measure.dimension:
        case "days":
            return date_text(measured)
        case "mass by mesh":
            return _weight(finding, most_of(by_mesh.possible(requirement.limit, measured)))
        case "mass":
            return _weight(finding, requirement.limit_text)
        case "day count":
            return requirement.say(abs(measured))
    share = requirement.say(measured)
    hides = finding.outcome == PASS and share == requirement.limit_text
    return JUST_UNDER.format(found=share) if hides else share


def _holes(finding: Finding) -> dict[str, Any]:
    measured = finding.measured
    if measured is None:
        return {"problem": " ".join(finding.missing)}
    if isinstance(measured, Placed):
        side, run = measured.standing.side, measured.standing.run
        return {
            "area": measured.area.title,
            "line": LINE.format(one=side.names[0], other=side.names[1]),
            "distance": run.distance_text,
        }
    return {"found": _found(finding)}


def _names_told(finding: Finding, told: Sentences) -> str:
    if finding.measured is None:
        return told[f"{IN} none" if finding.outcome == PASS else NOT_MEASURED]
    found = species.sort_out(finding.measured, finding.requirement.limit)
    if len(found.listed) == len(finding.measured):
        return told[IN].format(names=listed(found.listed))
    words = [told[UNLISTED].format(names=quoted(found.unlisted))] if found.unlisted else []
    words += [
        told[UNCLEAR].format(name=name, kinds=listed(sorted(species.kinds(name)), "or"))
        for name in found.unclear
    ]
    if found.unknown:
        words.append(told[UNKNOWN].format(names=quoted(found.unknown)))
    return " ".join([*words, told[LIST]])


def sentence(finding: Finding) -> str:
    """Return what was told against what the clause says, and nothing of guilt or of law."""
    requirement = finding.requirement
    dimension = requirement.measure.dimension
    if dimension == "flag":
        told = wording.sheet_sentence(finding)
    elif dimension == "names":
        told = _names_told(finding, sentences(requirement))
    else:
        told = sentences(requirement)[_key(finding)].format(**_holes(finding))
    return " ".join(filter(None, [f"{told[0].upper()}{told[1:]}", requirement.caution]))
