"""
Dated, cited rule sets, read from YAML and refused when anything is missing.

A rule set is one file in ``books/``; each of its limits carries its clause,
how well it is known, and why it is there. Nothing else in the project knows a
limit.
"""

from calendar import month_name
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cache, lru_cache
from itertools import pairwise
from math import inf
from pathlib import Path
from typing import NamedTuple

import yaml

from rigs.physics import chain
from rigs.requirements import by_mesh
from rigs.requirements.measures import MEASURES, Between
from rigs.words import units
from rigs.words.phrases import FLAG_PHRASES, PHRASES, wrong_holes
from rigs.words.units import ROUNDING

from . import outline

FOLDER = Path(__file__).parent / "books"

REGULATION = "regulation"
PRACTICE = "practice"
FISHERY = "fishery"
"""What a fishery as a whole is weighed by: a warning sign, which no trip can break."""

TESTS = {
    "length": ("at most", "at least", "more than", "every"),
    "count": ("at most", "at least"),
    "mass": ("at most",),
    "share": ("less than",),
    "flag": ("must be",),
    "days": ("within",),
    "area": ("inside", "outside"),
    "names": ("only",),
    "mass by mesh": ("by mesh",),
    "day count": ("at least",),
}
KNOWN = {
    "read": "checked against an older copy of the regulation",
    "memory": "written from memory, not yet checked against the regulation",
    "trade": "common practice; no written source",
}


class RulebookError(ValueError):
    """
    A rule set that cannot be used; the message names the file and the line.

    ``line`` and ``reason`` are these two apart, where a text was refused.
    """

    def __init__(self, message, line=None, reason=""):
        super().__init__(message)
        self.line = line
        self.reason = reason


@dataclass(frozen=True)
class Season:
    """
    Days of the year, as (month, day), first and last included.

    One whose last day comes before its first in the calendar runs over New Year.
    """

    first: tuple[int, int]
    last: tuple[int, int]

    def __str__(self):
        return f"{_day_text(*self.first)} to {_day_text(*self.last)}"

    def open_on(self, day):
        """Return whether the season is open on the date ``day``."""
        at = (day.month, day.day)
        if self.over_new_year:
            return at >= self.first or at <= self.last
        return self.first <= at <= self.last

    @property
    def over_new_year(self):
        """Whether the season begins in one year and ends in the next."""
        return self.last < self.first

    def begins_after(self, day):
        """Return the next date after ``day`` on which the season begins."""
        year = day.year + ((day.month, day.day) >= self.first)
        # A season from February 29 begins on March 1 where there is none.
        try:
            return date(year, *self.first)
        except ValueError:
            return date(year, 3, 1)

    def ends_after(self, first):
        """Return the date of the last day of the season that begins on the date ``first``."""
        year = first.year + self.over_new_year
        try:
            return date(year, *self.last)
        except ValueError:
            return date(year, 2, 28)


@dataclass(frozen=True)
class Area:
    """
    A named polygon; ``corners`` are (name, latitude, longitude) in decimal
    degrees, north and east positive, in order and without repeating the first.
    ``season`` is when it is open, None for as long as its fishery; ``closed_by``
    says what closes it where the regulation gives no points.
    """

    title: str
    corners: tuple[tuple[str, float, float], ...]
    season: Season | None = None
    closed_by: str = ""


class Printed(NamedTuple):
    """A figure as the regulation prints it beside its own, in SI and as ``text``."""

    size: float
    text: str


_EQUIVALENT = 0.06
"""How far, as a share, the figure printed beside a limit may be off: 1/2 in is 1.2 cm."""


@dataclass(frozen=True)
class Requirement:
    """
    One limit of a rule set.

    ``basis`` is REGULATION, or PRACTICE for what is done by custom: that has no ``clause``.
    FISHERY has a clause, but binds no vessel: ``binds`` is whether it can be broken.
    ``limit`` is SI for lengths and masses, a number for counts, shares and days, True
    for what must be so, a tuple for seasons, areas, names and by_mesh.MeshClass rows.
    ``words`` are its phrases, by name, as ``phrases`` has them; ``reads_as`` says what the
    site reads into a clause that does not spell it out; ``caution`` is what has to be said
    with the limit wherever it is shown. ``metric`` is what the regulation prints beside the
    limit in the other system of units, as Printed: the two never agree to the hair, and a
    reading at either keeps the limit. ``vessel_metric`` is the same for the length of the
    vessel.

    ``figure`` is the last reading that keeps the limit, whichever of these allows the more,
    a chain's bar among them; ``edge`` has the measuring allowance besides. Both are None
    if the limit is not a number.
    """

    key: str
    title: str
    test: str
    limit: object
    unit: str
    clause: str
    known: str
    basis: str
    why: str
    remedy_text: str
    vessel_over: float | None = None
    vessel_up_to: float | None = None
    effective_from: date | None = None
    effective_to: date | None = None
    slack: float = 0.0
    words: tuple[tuple[str, str], ...] = ()
    reads_as: str = ""
    caution: str = ""
    metric: Printed | None = None
    vessel_metric: Printed | None = None

    def __post_init__(self):
        # Looked up once, since a judge asks for them at every requirement.
        measure = MEASURES[self.key]
        vessel = self.vessel_up_to if self.vessel_over is None else self.vessel_over
        dates = (self.effective_from, self.effective_to)
        figure = self._figure(measure)
        for name, value in (
            ("measure", measure),
            ("read", measure.read),
            ("reading_of", measure.reading_of),
            ("of_trip", measure.trip),
            ("by_custom", self.basis == PRACTICE),
            ("binds", self.basis == REGULATION),
            ("by_vessel", vessel is not None),
            ("bounded", any(bound is not None for bound in (vessel, *dates))),
            ("figure", figure),
            ("edge", self._edge(figure)),
            ("vessel_edge", vessel and _larger(vessel, self.vessel_metric)),
        ):
            object.__setattr__(self, name, value)

    def _figure(self, measure):
        match self.test:
            case "at most" | "every":
                most = _larger(self.limit, self.metric)
                return max(most, chain.thickest(self.limit)) if measure.chain else most
            case "at least":
                return min(self.limit, self.metric.size) if self.metric else self.limit
            case "more than":
                return self.limit
        return None

    def _edge(self, figure):
        match self.test:
            case "at most" | "every":
                return figure + self.slack
            case "at least":
                return figure - self.slack
            case "more than":
                # The allowance works in favor of the measured rig, rounding never does: a
                # footrope no longer than the headrope is not longer.
                return figure + 2 * ROUNDING - self.slack
        return None

    @property
    def is_upper(self):
        """Whether what is more than the limit breaks the rule, not what is less."""
        return self.test in ("at most", "every")

    @property
    def is_plain(self):
        """Whether its title tells the rule: a yes or no, or a limit of 0."""
        return self.limit is True or self.limit == 0

    @property
    def limit_text(self):
        """The limit in the words of the deck: ``8 ft``, ``3/8 in``, ``40 fm``."""
        return self.say(self.limit)

    @property
    def limit_metric_text(self):
        """
        The limit in metric units, as the regulation prints it if it does.

        It is the same as ``limit_text`` for all but lengths and masses.
        """
        if self.metric:
            return self.metric.text
        if MEASURES[self.key].dimension == "length":
            return units.metric(self.limit)
        if MEASURES[self.key].dimension == "mass":
            return f"{self.limit:,.0f} kg"
        if MEASURES[self.key].dimension == "mass by mesh":
            return by_mesh.metric_text(self.limit)
        return self.limit_text

    @property
    def allowed_text(self):
        """What the rule allows, as words: ``at most 4 ft``."""
        if self.limit is True or self.limit == 0:
            return self.phrase("asks") or ("no difference" if self.limit == 0 else "required")
        if self.test == "by mesh":
            return f"at most {self.limit_text}"
        if self.test == "every":
            return f"one every {self.limit_text}"
        return f"{self.test} {self.limit_text}"

    @property
    def source(self):
        """How well the limit is known, as a phrase for the page."""
        return KNOWN[self.known]

    def phrase(self, name):
        """Return its phrase called ``name``, one of ``phrases.PHRASES``; empty if it has none."""
        return dict(self.words).get(name, "")

    def say(self, value):
        """Print ``value``, a measure of this requirement's kind, in its own unit."""
        if value is True:
            return "yes"
        if value is False:
            return "no"
        if value is None:
            return "not measured"
        if isinstance(value, Between):
            return self._say_bounds(*value)
        return _PRINTERS[self.unit](value)

    def _say_bounds(self, least, most):
        if most == inf:
            return "not measured" if least == -inf else f"at least {self.say(least)}"
        return (
            f"at most {self.say(most)}"
            if least == -inf
            else (f"{self.say(least)} to {self.say(most)}")
        )

    def applies_to(self, rig, on):
        """Return whether this limit binds ``rig`` on the date ``on`` (None: any day)."""
        if on is not None:
            if self.effective_from and on < self.effective_from:
                return False
            if self.effective_to and on > self.effective_to:
                return False
        if not self.by_vessel or rig.vessel_length is None:
            return True
        is_over = rig.vessel_length > self.vessel_edge + ROUNDING
        return is_over is (self.vessel_over is not None)


def _larger(size, printed):
    return max(size, printed.size) if printed else size


_PRINTERS = {
    "in": units.inches,
    "ft": units.feet_inches,
    "fm": units.fathoms,
    "mm": lambda m: f"{units.trimmed(m * 1000, 1)} mm",
    "lb": lambda kg: f"{kg / units.POUND:,.0f} lb",
    "meshes": lambda n: f"{n:g} mesh{'es' * (n != 1)}",
    "percent": lambda share: f"{units.trimmed(share * 100, 2)} percent",
    "flag": lambda flag: "yes" if flag else "no",
    "days": lambda value: (
        f"{value:%B} {value.day}"
        if isinstance(value, date)
        else " or ".join(str(season) for season in value)
    ),
    "area": lambda value: (
        " or ".join(_area_text(area) for area in value) if isinstance(value, tuple) else str(value)
    ),
    "names": lambda value: ", ".join(value) if isinstance(value, tuple) else value,
    "lb by mesh": lambda value: (
        f"{value.weight / units.POUND:,.0f} lb"
        if isinstance(value, by_mesh.Load)
        else by_mesh.table_text(value)
    ),
    "day": lambda days: f"{days} day{'' if days == 1 else 's'}",
}


def _day_text(month, day):
    return f"{month_name[month]} {day}"


def date_text(day):
    """Return the date ``day`` as it is said: ``July 1, 2026``."""
    return f"{_day_text(day.month, day.day)}, {day.year}"


def _area_text(area):
    return f"{area.title} ({area.season})" if area.season else area.title


_READERS = {"length": units.parse_length, "mass": units.parse_mass}
_UNIT_DIMENSION = {
    "in": "length",
    "ft": "length",
    "fm": "length",
    "mm": "length",
    "lb": "mass",
    "meshes": "count",
    "percent": "share",
    "day": "day count",
    "days": "day count",
}


@dataclass(frozen=True)
class Rulebook:
    """
    A named, versioned, dated set of requirements.

    ``resumes`` says that it is meant to follow a time for which no version holds.
    ``gear`` names the gear rule sets of which a vessel must meet one besides, for
    a fishery that takes them over. ``follows`` is the clause by which its rules go with a
    vessel on its letter into other fisheries, empty if they do not.
    """

    name: str
    version: str
    title: str
    summary: str
    citation: str
    effective_from: date
    effective_to: date | None
    effective_note: str
    allowances: tuple[tuple[str, float], ...]
    allowance_note: str
    gear: tuple[str, ...]
    requirements: tuple[Requirement, ...]
    resumes: bool = False
    follows: str = ""

    def __post_init__(self):
        by_vessel = any(requirement.by_vessel for requirement in self.requirements)
        object.__setattr__(self, "by_vessel", by_vessel)

    def requirement(self, key):
        """Return the requirement called ``key``; raise KeyError if there is none."""
        for requirement in self.requirements:
            if requirement.key == key:
                return requirement
        raise KeyError(f"{self.name} has no requirement {key!r}")

    def has(self, key):
        """Return whether the rule set has a requirement called ``key``."""
        return any(requirement.key == key for requirement in self.requirements)

    @property
    def has_marks(self):
        """Whether a limit was written from memory, and so is marked where it is printed."""
        return any(requirement.known == "memory" for requirement in self.requirements)

    @property
    def allowance(self):
        """The measuring allowance in metres by kind of measure, zero if none is set."""
        return dict(self.allowances)

    def open_areas(self, day):
        """Return its Areas that are open on the date ``day``, none outside its season."""
        if self.has("season") and not any(
            season.open_on(day) for season in self.requirement("season").limit
        ):
            return ()
        return tuple(
            area
            for area in self.requirement("area").limit
            if area.season is None or area.season.open_on(day)
        )

    def holds_on(self, day):
        """Return whether this version is the one to judge by on the date ``day``."""
        return self.effective_from <= day and (
            self.effective_to is None or day <= self.effective_to
        )


class _Reader:
    """Walks a YAML node tree so that every refusal can name its line."""

    def __init__(self, source):
        self.source = source

    def refuse(self, node, message):
        line = node.start_mark.line + 1 if node is not None else 1
        raise RulebookError(f"{self.source}, line {line}: {message}", line, message)

    def mapping(self, node, required, optional=()):
        if not isinstance(node, yaml.MappingNode):
            self.refuse(node, "a list of names and values was expected here")
        found = {}
        for key, value in node.value:
            if key.value not in required and key.value not in optional:
                self.refuse(key, f"unknown key “{key.value}”")
            if key.value in found:
                self.refuse(key, f"“{key.value}” is here twice")
            found[key.value] = value
        for name in required:
            if name not in found or (
                isinstance(found[name], yaml.ScalarNode) and not found[name].value.strip()
            ):
                self.refuse(node, f"“{name}” is missing")
        return found

    def text(self, node):
        if not isinstance(node, yaml.ScalarNode):
            self.refuse(node, "a single value was expected here")
        return " ".join(node.value.split())

    def day(self, node, may_be_empty=False):
        text = self.text(node) if node is not None else ""
        if not text or text == "null":
            if may_be_empty:
                return None
            self.refuse(node, "a date is missing")
        try:
            return date.fromisoformat(text)
        except ValueError:
            self.refuse(node, f"“{text}” is not a date, such as 2020-01-31")

    def length(self, node):
        text = self.text(node)
        try:
            return units.parse_length(text, bare=None)
        except units.UnitError as error:
            self.refuse(node, f"wrong unit: {error}")

    def items(self, node):
        if not isinstance(node, yaml.SequenceNode):
            self.refuse(node, "a list was expected here")
        return node.value

    def choice(self, node, options, what):
        text = self.text(node)
        if text not in options:
            self.refuse(node, f"“{text}” is not {what}: use one of {', '.join(options)}")
        return text

    def dates(self, parts, first, last):
        """Return the dates in ``parts`` called ``first`` and ``last``, None where there is none."""
        days = [
            self.day(parts[name], may_be_empty=True) if name in parts else None
            for name in (first, last)
        ]
        if None not in days and days[1] < days[0]:
            self.refuse(
                parts[last],
                f"the last day, {date_text(days[1])}, comes before the first, {date_text(days[0])}",
            )
        return days

    # What a limit may be -------------------------------------------------

    def limit(self, key, node):
        """Return (limit, unit) for requirement ``key``."""
        dimension = MEASURES[key].dimension
        if dimension == "flag":
            self.choice(node, ("true",), "a limit for a yes-or-no rule")
            return True, "flag"
        if dimension == "days":
            return tuple(self.season(item) for item in self.listed(node)), "days"
        if dimension == "area":
            return tuple(self.area(item) for item in self.listed(node)), "area"
        if dimension == "names":
            return tuple(self.text(item) for item in self.listed(node)), "names"
        if dimension == "mass by mesh":
            return self.mesh_classes(node), "lb by mesh"
        text = self.text(node)
        number, _, unit = text.rpartition(" ")
        if _UNIT_DIMENSION.get(unit) != dimension:
            self.refuse(node, f"wrong unit: “{text}” is not a {dimension} with its unit")
        try:
            if dimension == "length":
                return units.parse_length(text, bare=None), unit
            if dimension == "mass":
                return units.parse_mass(text.replace(",", ""), bare=None), unit
            if dimension == "share":
                return float(number) / 100, unit
            return int(number), "day" if dimension == "day count" else unit
        except ValueError as error:
            self.refuse(node, f"wrong unit: {error}")

    def printed(self, node, limit, unit):
        """Return the Printed figure that the regulation gives beside ``limit``."""
        text = self.text(node)
        if _UNIT_DIMENSION.get(unit) not in _READERS:
            self.refuse(node, "only a length or a weight has a metric figure")
        try:
            size = _READERS[_UNIT_DIMENSION[unit]](text.replace(",", ""), bare=None)
        except units.UnitError as error:
            self.refuse(node, f"wrong unit: {error}")
        if abs(size - limit) > _EQUIVALENT * limit:
            self.refuse(node, f"“{text}” is not the limit in other units: change both or neither")
        return Printed(size, text)

    def listed(self, node):
        """Return the items of a limit that is a list."""
        if not self.items(node):
            self.refuse(node, "the list of what is allowed is empty")
        return node.value

    def mass(self, node):
        text = self.text(node)
        try:
            return units.parse_mass(text.replace(",", ""), bare=None)
        except units.UnitError as error:
            self.refuse(node, f"wrong unit: {error}")

    def mesh_classes(self, node):
        """Return the rows of a limit that goes by the smallest mesh on board."""
        rows = []
        for item in self.listed(node):
            parts = self.mapping(item, ("most",), ("under", "metric", "where"))
            row = by_mesh.MeshClass(
                self.length(parts["under"]) if "under" in parts else None,
                self.mass(parts["most"]),
                self.mass(parts["metric"]) if "metric" in parts else None,
                self.text(parts["where"]) if "where" in parts else "",
            )
            if 0 in (row.under, row.most):
                self.refuse(item, "a mesh and a weight must be more than nothing")
            if rows and rows[-1].under is None:
                self.refuse(item, "only the last row has no “under”: it holds for all larger mesh")
            if rows and row.under is not None and row.under <= rows[-1].under:
                self.refuse(parts["under"], "each row begins where the one before ends")
            rows.append(row)
        if rows[-1].under is not None:
            self.refuse(node, "the last row must have no “under”, so that no mesh is left out")
        return tuple(rows)

    def season(self, node):
        parts = self.mapping(node, ("from", "to"))
        days = []
        for name in ("from", "to"):
            text = self.text(parts[name])
            try:
                # A leap year, so that the last of February can be named.
                days.append(date.fromisoformat(f"2020-{text}"))
            except ValueError:
                self.refuse(
                    parts[name],
                    f"“{text}” is not a day of the year, such as 09-01 for September 1",
                )
        first, last = days
        return Season((first.month, first.day), (last.month, last.day))

    def area(self, node):
        parts = self.mapping(node, ("title", "corners"), ("season", "closed_by"))
        items = self.items(parts["corners"])
        corners = [self.corner(item) for item in items]
        if len(corners) < 3:
            self.refuse(node, "an area needs three corners or more")
        if (place := outline.repeated(corners)) is not None:
            self.refuse(
                items[place],
                f"the corner {corners[place][0]} or its point is here twice: each is given once, "
                "and the last is joined to the first",
            )
        if (places := outline.crossing(corners)) is not None:
            one, other = (
                f"{corners[place][0]} to {corners[(place + 1) % len(corners)][0]}"
                for place in places
            )
            self.refuse(
                items[places[1]],
                f"the sides {one} and {other} cross or touch: check the order of the corners",
            )
        return Area(
            self.text(parts["title"]),
            tuple(corners),
            self.season(parts["season"]) if "season" in parts else None,
            self.text(parts["closed_by"]) if "closed_by" in parts else "",
        )

    def corner(self, node):
        """Return (name, latitude, longitude) of one corner."""
        text = self.text(node)
        try:
            name, latitude, longitude = (piece.strip() for piece in text.split(","))
            latitude, longitude = parse_degrees(latitude), parse_degrees(longitude)
        except ValueError:
            self.refuse(node, f"“{text}” is not a corner, such as RF1, 42 14.05, 70 08.8")
        if wrong := outline.out_of_range(latitude, longitude):
            self.refuse(node, f"“{text}” lies nowhere: {wrong}")
        return name, latitude, -longitude

    def included(self, node):
        """
        Return the shared part to include, and the clause that takes over those in it.

        The second is empty for a part that is a rule set's own.
        """
        if isinstance(node, yaml.ScalarNode):
            return self.text(node), ""
        parts = self.mapping(node, ("part", "under"))
        return self.text(parts["part"]), self.text(parts["under"])

    def explained(self, node):
        """Return a text that may name the limit."""
        text = self.text(node)
        # Whatever else stood in braces would stumble when somebody breaks the rule.
        if set("{}") & set(text.replace("{allowed}", "")):
            self.refuse(node, "braces stand for the limit alone: {allowed}")
        return text

    def basis(self, node, parts):
        """Return (basis, clause): the regulation's has a clause, a custom of the trade none."""
        basis = REGULATION
        if "basis" in parts:
            basis = self.choice(parts["basis"], (REGULATION, PRACTICE, FISHERY), "a basis")
        clause = self.text(parts["clause"]) if "clause" in parts else ""
        if basis != PRACTICE and not clause:
            self.refuse(node, "“clause” is missing")
        if basis == PRACTICE and clause:
            self.refuse(parts["clause"], "what is done by custom has no clause: leave it out")
        return basis, clause

    def words(self, node, parts, dimension):
        """Return the phrases of the requirement at ``node``, as (name, text) pairs."""
        told = self.mapping(parts["words"], (), PHRASES) if "words" in parts else {}
        for name, part in told.items():
            if wrong := wrong_holes(name, self.text(part)):
                self.refuse(part, wrong)
        lacking = [name for name in FLAG_PHRASES if name not in told]
        if dimension == "flag" and lacking:
            self.refuse(
                parts.get("words", node), f"“words” of a yes-or-no rule has to say “{lacking[0]}”"
            )
        return tuple((name, self.text(part)) for name, part in told.items())

    def requirement(self, node, allowance):
        parts = self.mapping(
            node,
            ("key", "title", "test", "limit", "known", "why", "remedy"),
            ("metric", "clause", "basis", "vessel", "from", "to", "words", "reads_as", "caution"),
        )
        key = self.text(parts["key"])
        if key not in MEASURES:
            self.refuse(parts["key"], f"nothing is known here that measures “{key}”")
        measure = MEASURES[key]
        limit, unit = self.limit(key, parts["limit"])
        test = self.choice(parts["test"], TESTS[measure.dimension], f"a test for {key}")
        if limit == 0 and test not in measure.zero:
            typed = self.text(parts["limit"])
            self.refuse(
                parts["limit"], f"“{test} {typed}” sets no limit: it must be more than nothing"
            )
        metric = self.printed(parts["metric"], limit, unit) if "metric" in parts else None
        over = up_to = vessel_metric = None
        if "vessel" in parts:
            vessel = self.mapping(parts["vessel"], (), ("over", "up_to", "metric"))
            over = self.length(vessel["over"]) if "over" in vessel else None
            up_to = self.length(vessel["up_to"]) if "up_to" in vessel else None
            if (over is None) == (up_to is None):
                self.refuse(
                    parts["vessel"],
                    "say either “over” or “up to” how long a vessel is, such as over 60 ft",
                )
            if 0 in (over, up_to):
                self.refuse(parts["vessel"], "a vessel is longer than nothing")
            if "metric" in vessel:
                vessel_metric = self.printed(vessel["metric"], over or up_to, "ft")
        first, last = self.dates(parts, "from", "to")
        basis, clause = self.basis(node, parts)
        return Requirement(
            key=key,
            title=self.text(parts["title"]),
            test=test,
            limit=limit,
            unit=unit,
            clause=clause,
            known=self.choice(parts["known"], tuple(KNOWN), "a way of knowing"),
            basis=basis,
            why=self.text(parts["why"]),
            remedy_text=self.explained(parts["remedy"]),
            vessel_over=over,
            vessel_up_to=up_to,
            effective_from=first,
            effective_to=last,
            slack=ROUNDING + allowance.get(measure.allowance, 0.0),
            metric=metric,
            vessel_metric=vessel_metric,
            words=self.words(node, parts, measure.dimension),
            reads_as=self.explained(parts["reads_as"]) if "reads_as" in parts else "",
            caution=self.text(parts["caution"]) if "caution" in parts else "",
        )


def parse_degrees(text):
    """
    Return decimal degrees from degrees and decimal minutes: ``42 14.05``.

    Raise ValueError for anything else.
    """
    degrees, _, minutes = text.partition(" ")
    part = float(minutes) if minutes else 0.0
    if not 0 <= part < 60:
        raise ValueError(text)
    return int(degrees) + part / 60


def _compose(text, source):
    try:
        node = yaml.compose(text, Loader=yaml.SafeLoader)
    except yaml.YAMLError as error:
        mark = getattr(error, "problem_mark", None)
        line = mark.line + 1 if mark else 1
        raise RulebookError(
            f"{source}, line {line}: not readable as YAML ({getattr(error, 'problem', error)})"
        ) from error
    if node is None:
        raise RulebookError(f"{source}, line 1: the file is empty")
    return node


def _short(clause):
    """Return a clause without its title and section, as another of the same section names it."""
    return clause[clause.index("(") :] if "(" in clause else clause


def _included(name, node, reader, allowance):
    path = FOLDER / "shared" / f"{name}.yaml"
    if not path.is_file():
        reader.refuse(node, f"there is no shared part called “{name}”")
    shared = _Reader(path.name)
    root = shared.mapping(_compose(path.read_text("utf-8"), path.name), ("requirements",))
    return [shared.requirement(item, allowance) for item in shared.items(root["requirements"])]


def parse(text, source):
    """
    Return the Rulebook that the YAML ``text`` describes.

    Raise RulebookError, naming ``source`` and the line, for a missing citation or
    clause, an unknown key, a wrong unit, or anything else that cannot be used.
    """
    reader = _Reader(source)
    root = reader.mapping(
        _compose(text, source),
        ("name", "version", "title", "summary", "citation", "effective", "requirements"),
        ("effective_note", "allowances", "allowance_note", "include", "gear", "follows"),
    )
    effective = reader.mapping(root["effective"], ("from",), ("to", "resumes"))
    if "resumes" in effective:
        reader.choice(effective["resumes"], ("true",), "a word on a gap")
    first, last = reader.dates(effective, "from", "to")
    allowance = {}
    if "allowances" in root:
        given = reader.mapping(root["allowances"], (), ("length", "diameter"))
        allowance = {name: reader.length(node) for name, node in given.items()}
    requirements, parts = {}, set()
    for node in reader.items(root["include"]) if "include" in root else ():
        part, under = reader.included(node)
        if part in parts:
            reader.refuse(node, f"the shared part “{part}” is included twice")
        parts.add(part)
        for each in _included(part, node, reader, allowance):
            if under and each.clause:
                each = replace(each, clause=f"{under}, which takes over {_short(each.clause)}")
            if each.key in requirements:
                reader.refuse(node, f"“{each.key}” of the shared part “{part}” is here twice")
            requirements[each.key] = each
    for node in reader.items(root["requirements"]):
        each = reader.requirement(node, allowance)
        if each.key in requirements:
            reader.refuse(node, f"“{each.key}” is here twice")
        requirements[each.key] = each
    return Rulebook(
        name=reader.text(root["name"]),
        version=reader.text(root["version"]),
        title=reader.text(root["title"]),
        summary=reader.text(root["summary"]),
        citation=reader.text(root["citation"]),
        effective_from=first,
        effective_to=last,
        effective_note=reader.text(root["effective_note"]) if "effective_note" in root else "",
        allowances=tuple(sorted(allowance.items())),
        allowance_note=reader.text(root["allowance_note"]) if "allowance_note" in root else "",
        gear=tuple(reader.text(item) for item in reader.items(root["gear"]))
        if "gear" in root
        else (),
        requirements=tuple(requirements.values()),
        resumes="resumes" in effective,
        follows=reader.text(root["follows"]) if "follows" in root else "",
    )


_sources = []


def add_source(source):
    """
    Have the shelf hold what ``source()`` returns besides the files.

    That is a tuple of (where from, YAML text) pairs. It is asked at every look-up, so
    that it must be quick; a text is parsed once for as long as it keeps coming.
    """
    if source not in _sources:
        _sources.append(source)


def remove_source(source):
    """Have the shelf no longer hold what ``source()`` returns."""
    if source in _sources:
        _sources.remove(source)


_tried = ContextVar("tried", default=())


@contextmanager
def trying(source, text):
    """
    Have the shelf hold one more YAML ``text`` inside a ``with`` block, and only for it.

    So it can be tried out before it is on the shelf; other threads see nothing of it.
    """
    token = _tried.set((*_tried.get(), (source, text)))
    try:
        yield
    finally:
        _tried.reset(token)


# Kept apart from the shelf, so that a book stays the same object when others join it.
@cache
def _read(source, text):
    return parse(text, source)


@cache
def _on_file():
    return tuple((path.name, path.read_text("utf-8")) for path in sorted(FOLDER.glob("*.yaml")))


@lru_cache(maxsize=4)
def _sorted(texts):
    """Return the rule sets in ``texts``, pairs as from a source, by name, oldest first."""
    shelf = {}
    for source, text in texts:
        book = _read(source, text)
        books = shelf.setdefault(book.name, [])
        if any(each.version == book.version for each, _ in books):
            raise RulebookError(f"{source}: “{book.name}” has a version “{book.version}” already.")
        books.append((book, source))
    for books in shelf.values():
        books.sort(key=lambda pair: (pair[0].effective_from, pair[0].version))
        refuse_gaps_and_overlaps(books)
        for book, source in books:
            _refuse_unknown_gear(book, source, shelf)
    return {name: tuple(book for book, _ in books) for name, books in shelf.items()}


def refuse_gaps_and_overlaps(books):
    """
    Raise RulebookError for versions, (Rulebook, where from) by first day, that do not join.

    One without a last day ends on the day before the next begins. Only one that
    ``resumes`` may leave a gap before it.
    """
    for (book, source), (later, later_source) in pairwise(books):
        begins, ends = later.effective_from, book.effective_to
        if ends is None and begins > book.effective_from:
            continue
        if ends is None:
            ends = book.effective_from
        due = ends + timedelta(days=1)
        if begins == due or (begins > due and later.resumes):
            continue
        what = "leaves a gap after" if begins > due else "overlaps"
        raise RulebookError(
            f"{later_source}: version {later.version} of “{later.name}” begins on "
            f"{date_text(begins)} and {what} version {book.version} in {source}, which holds from "
            f"{date_text(book.effective_from)}"
            + (f" to {date_text(ends)}" if book.effective_to else "")
            + f". Let it begin on {date_text(due)}, or change the last day of the other."
        )


def _refuse_unknown_gear(book, source, shelf):
    for name in book.gear:
        if name not in shelf:
            raise RulebookError(
                f"{source}: “gear” names “{name}”, but there is no such rule set. "
                f"Use one of {', '.join(sorted(shelf))}."
            )
        if not any(each.has("dropper_spacing") for each, _ in shelf[name]):
            raise RulebookError(f"{source}: “gear” names “{name}”, which has no rules for a rig.")


def _shelf():
    more = tuple(pair for source in _sources for pair in source())
    return _sorted(_on_file() + more + _tried.get())


def names():
    """Return the names of the rule sets there are, in alphabetical order."""
    return tuple(sorted(_shelf()))


def versions(name):
    """
    Return every version of the rule set ``name``, by the day it takes effect.

    Raise RulebookError if there is no such rule set.
    """
    books = _shelf().get(name)
    if not books:
        raise RulebookError(f"There is no rule set called “{name}”.")
    return books


def gear_books(on=None):
    """
    Return the rule sets that lay out a whole rig, droppers and all.

    They are in the version in force on the date ``on``, or in their latest.
    """
    return tuple(book for book in everything(on) if book.has("dropper_spacing"))


def gear_names(on=None):
    """Return the names of ``gear_books``."""
    return tuple(book.name for book in gear_books(on))


def load(name, version=None):
    """
    Return the rule set ``name``, in its latest version unless one is named.

    The latest may be one that takes effect in days to come: what holds on a day is for
    ``in_force`` to say. Raise RulebookError if there is no such rule set or version.
    """
    books = versions(name)
    if version is None:
        return books[-1]
    for book in books:
        if book.version == version:
            return book
    raise RulebookError(f"The rule set “{name}” has no version “{version}”.")


def in_force(name, on):
    """
    Return the version of the rule set ``name`` to judge by on the date ``on``.

    A version without a last day ends on the day before the next one begins. Raise
    RulebookError if none holds on that day, or there is no such rule set.
    """
    books = versions(name)
    book = _holding(books, on)
    if book is None:
        raise RulebookError(f"The rules “{books[-1].title}” have no version for {date_text(on)}.")
    return book


def find_in_force(name, on):
    """Return what ``in_force`` does, None where no version holds, for a page to say so."""
    return _holding(_shelf().get(name, ()), on)


def nearest(name, on):
    """
    Return the version of the rule set ``name`` to show on the date ``on``, in force or not.

    Where none holds it is the one that held last before, or else the first to come: say
    so beside it, and judge nothing by it. Raise RulebookError if there is no such rule set.
    """
    books = versions(name)
    begun = [book for book in books if book.effective_from <= on]
    return _holding(books, on) or (begun[-1] if begun else books[0])


def lapsed(on):
    """Return the ``nearest`` of each rule set that has no version for the date ``on``."""
    return tuple(nearest(name, on) for name in names() if find_in_force(name, on) is None)


def nearest_gear_books(on):
    """Return the ``nearest`` of each rule set for gear, in force on the date ``on`` or not."""
    return tuple(nearest(name, on) for name in gear_names())


def _holding(books, on):
    """Return the one of ``books``, oldest first, that holds on the date ``on``; else None."""
    begun = [book for book in books if book.effective_from <= on]
    return begun[-1] if begun and begun[-1].holds_on(on) else None


def everything(on=None):
    """
    Return the rule sets in force on the date ``on``, by name; others are left out.

    Without a date it is each rule set in its latest version.
    """
    if on is None:
        return tuple(load(name) for name in names())
    held = [find_in_force(name, on) for name in names()]
    return tuple(book for book in held if book is not None)
