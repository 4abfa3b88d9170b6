"""Every finding's words on one page, rule by rule, each wording once."""

import re
from datetime import date
from typing import NamedTuple

from rigs.rules import rulebook, trip_wording
from rigs.rules.judge import judge
from rigs.rules.outcomes import FAIL, NOT_MEASURED, PASS
from rigs.words.trip import Position, Trip
from tests.readings.rigs import changed, edge_rig, sound_rig, spoilt, swept

TRIPS = {
    "nothing entered": Trip(),
    "a trip in the season": Trip(
        day=date(2026, 9, 15),
        position=Position(42.08, -70.2),
        letter_aboard=True,
        letter_asked=date(2026, 9, 1),
        kept=("whiting", "squid"),
        hake=1000.0,
        red_hake=100.0,
        smallest_mesh=0.0762,
        mesh_in_use=0.0762,
        regulated=1.0,
        caught=1000.0,
    ),
    "a trip in the winter": Trip(
        day=date(2026, 12, 28),
        position=Position(43.0, -69.9),
        letter_aboard=False,
        letter_asked=date(2026, 12, 28),
        kept=("whiting", "cod", "lobster"),
        hake=15000.0,
        red_hake=2000.0,
        smallest_mesh=0.05,
        mesh_in_use=0.0635,
        regulated=80.0,
        caught=1000.0,
    ),
    "mesh not entered": Trip(day=date(2026, 3, 1), hake=2000.0, red_hake=100.0, kept=()),
}


_ORDER = {PASS: 0, NOT_MEASURED: 1, FAIL: 2}


AT_LIMIT, SOUND = "at the limit", "sound"
_FIGURE = re.compile(
    r"\b(?:port|starboard|one|two|three|four|five|six|[\d/.,]+|ft|in|fm|lb)"
    r"(?: (?=\d|ft|in\b|fm|lb)|\b)"
)


class Told(NamedTuple):
    """One finding as a person reads it; ``rig`` says what was done to the rig it is about."""

    rig: str
    finding: object

    @property
    def sentence(self):
        """The sentence for trainees and nets, or that of a trip."""
        if self.finding.requirement.of_trip:
            return trip_wording.sentence(self.finding)
        return self.finding.sentence

    @property
    def form(self):
        """The words without their figures and places: what a person has to read but once."""
        if self.finding.requirement.of_trip:  # lists of days, areas and kinds differ by rule set
            return self.finding.mark, " ".join(self.sentence.split()[:3])
        words = f"{self.sentence} {self.finding.remedy}"
        return self.finding.mark, _FIGURE.sub("#", words)

    def lines(self, sheet):
        """Return the finding as lines of the page, the officer's sentence too if ``sheet``."""
        finding, gear = self.finding, not self.finding.requirement.of_trip
        made = [f"- **{finding.mark.capitalize()}** ({self.rig}). {self.sentence}"]
        if finding.places and gear:
            more = f"; and {len(finding.places) - 4} more" if len(finding.places) > 4 else ""
            made.append(f"Where on the net: {'; '.join(finding.places[:4])}{more}.")
        if finding.remedy:
            custom = "To do as is the custom" if finding.by_custom else "Fix it"
            made.append(f"*{custom}:* {finding.remedy}")
        if sheet and gear:
            made.append(f"*Officer's sheet, {finding.sheet_mark}:* {finding.sheet_sentence}")
        return made


def _others(verdict, base):
    """Return the findings of ``verdict`` that are told otherwise than in ``base``."""
    told = {finding.sentence for finding in base.findings}
    return [finding for finding in verdict.findings if finding.sentence not in told]


def _on_gear(book):
    base = judge(edge_rig(book), book)
    for finding in base.findings:
        yield Told(AT_LIMIT, finding)
    for finding in judge(sound_rig(book), book).findings:
        yield Told(SOUND, finding)
    for what, rig in (*changed(book), *swept(book)):
        for finding in _others(judge(rig, book), base):
            yield Told(what, finding)
    for key, rig in spoilt(book):
        yield Told("a fault at random", judge(rig, book).finding(key))


def _on_trips(book):
    for what, trip in TRIPS.items():
        if trip.day is None or book.holds_on(trip.day):
            for finding in judge(None, book, trip.day, trip).findings:
                yield Told(what, finding)


def every():
    """Return every Told of every rule set there is."""
    gear = {book.name for book in rulebook.gear_books()}
    books = [rulebook.load(name) for name in rulebook.names()]
    return [
        each
        for book in books
        for each in (*(_on_gear(book) if book.name in gear else ()), *_on_trips(book))
    ]


def _short(forms):
    """Yield of a rule's findings, in order, those that a person reads in little time."""
    broken = 0
    for each in forms:
        broken += each.finding.failed
        if each.rig in (AT_LIMIT, SOUND) or (each.finding.failed and broken == 1):
            yield each


def page(whole=False):
    """
    Return the page as Markdown, rule by rule, each form of words once.

    It takes ten minutes to read. The ``whole`` of it, with all that was not measured, every
    way to break a rule and the officer's sheet, takes half an hour.
    """
    by_title = {}
    for each in every():
        by_title.setdefault(each.finding.title, {}).setdefault(each.form, each)
    lines = ["# What every finding says", ""]
    for title, forms in by_title.items():
        first = next(iter(forms.values())).finding
        lines += [f"## {title}", "", " ".join(filter(None, (first.source, first.reading))), ""]
        shown = set()
        told = sorted(forms.values(), key=lambda each: _ORDER[each.finding.outcome])
        for each in told if whole else _short(told):
            outcome = each.finding.outcome
            lines.append(" ".join(each.lines(sheet=whole and outcome not in shown)))
            shown.add(outcome)
        lines.append("")
    return "\n".join(lines)
