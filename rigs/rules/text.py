"""
A rule set written back as YAML that reads as the very same rule set.

What a file pulls in by ``include`` is written out, so that the text is complete in
itself and stays what it is when the shared parts change.
"""

from collections.abc import Callable, Iterator
from math import inf, nextafter
from typing import Any

import yaml

from rigs.requirements import by_mesh
from rigs.words import units
from rigs.words.say import gettext as _

from .areas import Corner
from .rulebook import REGULATION, Area, Requirement, Rulebook, Season, Taught, parse_degrees

Entries = dict[str, Any]
"""Plain values by name, as YAML has them."""

Step = str | int
"""A name, or a place in a list."""

WIDTH = 88  # columns that a text is folded at


class _Dumper(yaml.SafeDumper):
    """Writes texts that are looked up when they are shown as what they are in English."""


_Dumper.add_multi_representer(str, _Dumper.represent_str)


def _length(metres: float, unit: str, say: Callable[[float], str]) -> str:
    """Return a length as it is said on deck where that is exact, else with its decimals."""
    text = say(metres)
    if text.rpartition(" ")[2] == unit and units.parse_length(text, bare=None) == metres:
        return text
    return units.exactly(metres, unit)


def _mass(kilograms: float, unit: str, say: Callable[[float], str]) -> str:
    text = say(kilograms)
    if units.parse_mass(text.replace(",", ""), bare=None) == kilograms:
        return text
    return units.exactly(kilograms, unit)


def _share(share: float) -> str:
    near = share * 100
    # Multiplying may end a hair beside the number that was divided.
    for number in (near, nextafter(near, inf), nextafter(near, -inf)):
        for digits in range(1, 18):
            text = f"{number:.{digits}g}"
            if float(text) / 100 == share:
                return _("{text} percent").format(text=text)
    raise ValueError(_("{share} cannot be written in percent.").format(share=share))


def _degrees(value: float) -> str:
    whole = int(value)
    minutes = (value - whole) * 60
    for decimals in range(16):
        text = f"{whole} {minutes:0{decimals + 3 if decimals else 2}.{decimals}f}"
        try:
            if parse_degrees(text) == value:
                return text
        except ValueError:  # so many decimals make sixty minutes of it
            continue
    raise ValueError(_("{value} degrees cannot be written in minutes.").format(value=value))


def season_entries(season: Season) -> Entries:
    """Return the entries of a Season."""
    return {
        name: f"{month:02}-{day:02}"
        for name, (month, day) in (("from", season.first), ("to", season.last))
    }


def corner_entry(corner: Corner) -> str:
    """Return a corner of an Area as it is entered: ``RF1, 42 14.05, 70 08.8``."""
    name, latitude, longitude = corner
    return f"{name}, {_degrees(latitude)}, {_degrees(-longitude)}"


def _area_entries(area: Area) -> Entries:
    made: Entries = {"title": area.title}
    if area.season:
        made["season"] = season_entries(area.season)
    if area.closed_by:
        made["closed_by"] = area.closed_by
    return made | {"corners": [corner_entry(each) for each in area.corners]}


def _mesh_class_entries(row: by_mesh.MeshClass) -> Entries:
    made: Entries = {}
    if row.under is not None:
        made["under"] = _length(row.under, "in", units.inches)
    made["most"] = _mass(row.most, "lb", by_mesh.pounds)
    if row.metric is not None:
        made["metric"] = units.exactly(row.metric, "kg")
    if row.where:
        made["where"] = row.where
    return made


def limit_entry(requirement: Requirement) -> Any:
    """Return the limit as it is entered: text, True, or a list of seasons, areas, names, meshes."""
    limit, unit, say = requirement.limit, requirement.unit, requirement.say
    match requirement.measure.dimension:
        case "flag":
            return True
        case "days":
            return [season_entries(each) for each in limit]
        case "area":
            return [_area_entries(each) for each in limit]
        case "names":
            return list(limit)
        case "length":
            return _length(limit, unit, say)
        case "mass":
            return _mass(limit, unit, say)
        case "share":
            return _share(limit)
        case "mass by mesh":
            return [_mesh_class_entries(row) for row in limit]
        case "day count":
            return say(limit)
        case "count":
            return f"{limit} {unit}"


def requirement_entries(requirement: Requirement) -> Entries:
    """Return the entries of one Requirement, plain values by name, as YAML has them."""
    made: Entries = {
        "key": requirement.key,
        "title": requirement.title,
        "test": requirement.test,
        "limit": limit_entry(requirement),
    }
    if requirement.metric:
        made["metric"] = requirement.metric.text
    if requirement.basis != REGULATION:
        made["basis"] = requirement.basis
    if not requirement.by_custom:
        made["clause"] = requirement.clause
    made["known"] = requirement.known
    for name, bound in (("over", requirement.vessel_over), ("up_to", requirement.vessel_up_to)):
        if bound is not None:
            made["vessel"] = {name: _length(bound, "ft", units.feet_inches)}
            if requirement.vessel_metric:
                made["vessel"]["metric"] = requirement.vessel_metric.text
    for name, day in (("from", requirement.effective_from), ("to", requirement.effective_to)):
        if day is not None:
            made[name] = day.isoformat()
    if requirement.reads_as:
        made["reads_as"] = requirement.reads_as
    if requirement.words:
        made["words"] = dict(requirement.words)
    if requirement.caution:
        made["caution"] = requirement.caution
    return made | {"why": requirement.why, "remedy": requirement.remedy_text}


def taught_entries(taught: Taught) -> Entries:
    """Return the entries of a Taught."""
    made: Entries = {"from": taught.level, "courses": list(taught.courses)}
    if taught.exercises:
        made["exercises"] = dict(taught.exercises)
    return made


def entries(book: Rulebook) -> Entries:
    """Return the entries of a whole Rulebook, plain values by name, as YAML has them."""
    made: Entries = {
        "name": book.name,
        "version": book.version,
        "title": book.title,
        "summary": book.summary,
        "citation": book.citation,
        "effective": {"from": book.effective_from.isoformat()},
    }
    if book.effective_to:
        made["effective"]["to"] = book.effective_to.isoformat()
    if book.resumes:
        made["effective"]["resumes"] = True
    if book.effective_note:
        made["effective_note"] = book.effective_note
    if book.allowances:
        made["allowances"] = {
            name: _length(metres, "in", units.inches) for name, metres in book.allowances
        }
    if book.allowance_note:
        made["allowance_note"] = book.allowance_note
    if book.gear:
        made["gear"] = list(book.gear)
    if book.follows:
        made["follows"] = book.follows
    if book.taught:
        made["taught"] = taught_entries(book.taught)
    made["requirements"] = [requirement_entries(each) for each in book.requirements]
    return made


def dump(made: Entries) -> str:
    """Return entries as YAML text."""
    return yaml.dump(made, Dumper=_Dumper, sort_keys=False, allow_unicode=True, width=WIDTH)


def write(book: Rulebook) -> str:
    """
    Return the YAML text of ``book``: ``rulebook.parse`` makes the same Rulebook of it.

    Raise ValueError for a limit that no text stands for, such as an area in the east.
    """
    return dump(entries(book))


def part_at(text: str, line: int) -> tuple[Step, ...]:
    """
    Return the path to the innermost part of a YAML ``text`` that begins at or above ``line``.

    A path is names and places in lists: ``("requirements", 3, "limit")``. Lines count
    from 1, as in a RulebookError.
    """
    path: tuple[Step, ...] = ()
    node = yaml.compose(text, Loader=yaml.SafeLoader)
    while node is not None:
        inner = [
            (step, child)
            for step, mark, child in _children(node)
            if mark.line < line <= _last_line(child)
        ]
        if not inner:
            break
        step, node = inner[-1]
        path += (step,)
    return path


def _last_line(node: yaml.Node) -> int:
    # A block ends where the next begins: at the very start of a later line.
    return node.end_mark.line + (node.end_mark.column > 0)


def _children(node: yaml.Node) -> Iterator[tuple[Step, yaml.Mark, yaml.Node]]:
    """Yield (name or place, mark of its beginning, node) of what ``node`` holds."""
    if isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            yield key.value, key.start_mark, value
    elif isinstance(node, yaml.SequenceNode):
        for place, item in enumerate(node.value):
            yield place, item.start_mark, item
