"""
Cases: rigs and trips in words, a day, and what must be found on them by which clause.

They lie in ``rules/cases/`` as YAML that somebody who knows gear and no programs can
write and read. A file says by which rule set, on which day and from which rig its cases
start; a case says what is different, and what is found: ``broken`` names requirement,
clause and, if it is told, by how much it misses; ``not measured`` and ``by custom`` name
requirements, ``warned`` those by which a fishery is weighed; whatever is not named is met.
``mismatches`` compares that with the judge.
"""

from collections.abc import Iterator, Mapping
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import yaml

from rigs.words.gear import Rig
from rigs.words.trip import Trip
from rigs.words.units import parse_length, parse_mass

from .. import rulebook
from ..judge import Finding, judge
from ..outcomes import FAIL, NOT_MEASURED
from ..rulebook import Rulebook
from .rig import rig_from
from .trip import trip_from

FOLDER = Path(__file__).parent

Words = Mapping[str, Any]
"""Entries of a file of cases, by name."""


class Break(NamedTuple):
    """A requirement that a case breaks: its clause and by how much, "" if that is not told."""

    key: str
    clause: str
    by: str


class Case(NamedTuple):
    """
    One case; ``rig`` or ``trip`` is None where it has none.

    ``warned`` are the standards of the fishery that a trip is over and cannot break;
    ``doubted`` says whether the rig as described has a part that cannot be there, ``note``
    why it comes out so where that needs words.
    """

    file: str
    title: str
    rules: str
    day: date
    rig: Rig | None
    trip: Trip | None
    broken: tuple[Break, ...]
    not_measured: frozenset[str]
    by_custom: frozenset[str]
    warned: frozenset[str]
    doubted: bool
    note: str = ""

    def __str__(self) -> str:
        return f"{self.file}: {self.title}"

    @property
    def rulebook(self) -> Rulebook:
        """The Rulebook in force on the case's day; RulebookError if there is none."""
        return rulebook.in_force(self.rules, self.day)


class CaseError(ValueError):
    """A case that cannot be read; the message names the file and the case."""


def _merged(start: Any, change: Any) -> Any:
    """Return ``start`` with the entries of ``change`` in place of its own, part by part."""
    if not (isinstance(start, dict) and isinstance(change, dict)):
        return change
    return start | {key: _merged(start.get(key), value) for key, value in change.items()}


def _described(told: Words, entry: Words, name: str) -> Any:
    """Return the words of a case's rig or trip, those of its file included; None if it has none."""
    return _merged(told[name], entry.get(name, {})) if name in told else entry.get(name)


def _break(text: str) -> Break:
    key, _, rest = text.partition(", ")
    clause, _, by = rest.partition(", by ")
    return Break(key, clause, by)


_KNOWN = {
    *("case", "note", "rig", "trip", "day"),
    *("broken", "not measured", "by custom", "warned", "doubted"),
}


def _case(file: str, told: Words, entry: Words) -> Case:
    if unknown := set(entry) - _KNOWN:
        raise ValueError(f"unknown entries {', '.join(sorted(unknown))}")
    day = entry.get("day", told["day"])
    rig, trip = _described(told, entry, "rig"), _described(told, entry, "trip")
    return Case(
        file=file,
        title=entry["case"],
        rules=told["rules"],
        day=day,
        rig=None if rig is None else rig_from(rig),
        trip=None if trip is None else trip_from(trip, day),
        broken=tuple(_break(text) for text in entry.get("broken", ())),
        not_measured=frozenset(entry.get("not measured", ())),
        by_custom=frozenset(entry.get("by custom", ())),
        warned=frozenset(entry.get("warned", ())),
        doubted=entry.get("doubted", False),
        note=entry.get("note", ""),
    )


def read(path: Path | str) -> tuple[Case, ...]:
    """Return the Cases in the file ``path``; raise CaseError for one that cannot be read."""
    told = yaml.safe_load(Path(path).read_text("utf-8"))
    found = []
    for entry in told["cases"]:
        try:
            found.append(_case(Path(path).name, told, entry))
        except (KeyError, TypeError, ValueError) as error:
            raise CaseError(f"{Path(path).name}, “{entry.get('case')}”: {error}") from error
    return tuple(found)


@cache
def everything() -> tuple[Case, ...]:
    """Return the Cases of all files, in order."""
    return tuple(case for path in sorted(FOLDER.glob("*.yaml")) for case in read(path))


def _size(text: str) -> float:
    if text.endswith((" lb", " kg")):
        return parse_mass(text.replace(",", ""), bare=None)
    return parse_length(text, bare=None)


_CLOSE = 1e-6  # metres or kilograms: what is told in inches against what is told in fathoms


def mismatches(case: Case, book: Rulebook | None = None) -> list[str]:
    """
    Return, as sentences, where the judge finds otherwise than ``case`` says; empty if nowhere.

    ``book`` is a Rulebook to judge by instead of the one in force on the case's day, such
    as a draft of its next version.
    """
    verdict = judge(case.rig, book or case.rulebook, case.day, case.trip)
    law = {f.key: f for f in verdict.regulation}
    said = {each.key: each for each in case.broken}
    named = {*case.not_measured, *case.by_custom, *case.warned} - {f.key for f in verdict.findings}
    wrong = [f"{key}: there is no such rule" for key in (*(said.keys() - law.keys()), *named)]
    for key, finding in law.items():
        wanted = said.get(key)
        if finding.failed != (wanted is not None):
            wrong.append(f"{key}: found {finding.outcome}, {'' if wanted else 'not '}to be broken")
        elif wanted:
            wrong += _differences(finding, wanted)
        if (finding.outcome == NOT_MEASURED) != (key in case.not_measured) and not finding.failed:
            wrong.append(f"{key}: found {finding.outcome}")
    for what, findings, told in (
        ("by custom", verdict.customs, case.by_custom),
        ("a warning", verdict.warnings, case.warned),
    ):
        for finding in findings:
            if (finding.outcome == FAIL) != (finding.key in told):
                wrong.append(f"{finding.key}: {what}, found {finding.outcome}")
    if bool(verdict.doubts) != case.doubted:
        wrong.append(f"doubts: {verdict.doubts}")
    return wrong


def _differences(finding: Finding, wanted: Break) -> Iterator[str]:
    clause, _, _ = finding.clause.partition(", which takes over ")
    if clause != wanted.clause:
        yield f"{wanted.key}: by {finding.clause}, not by {wanted.clause}"
    if wanted.by and abs(abs(finding.margin or 0.0) - _size(wanted.by)) > _CLOSE:
        yield f"{wanted.key}: misses by {finding.margin}, not by {wanted.by}"
