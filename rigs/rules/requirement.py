"""One limit of a rule set, with its clause and how well it is known."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from math import inf
from typing import Any

from rigs.physics import chain
from rigs.requirements import Measure, by_mesh, find
from rigs.requirements.readings import Between
from rigs.words import units
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import ROUNDING

from .limits import PRINTERS, Printed

REGULATION = "regulation"
PRACTICE = "practice"
FISHERY = "fishery"
"""What a fishery as a whole is weighed by: a warning sign, which no trip can break."""

KNOWN = {
    "read": gettext_lazy("checked against an older copy of the regulation"),
    "memory": gettext_lazy("written from memory, not yet checked against the regulation"),
    "trade": gettext_lazy("common practice; no written source"),
}


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
    limit: Any
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

    # Made of the rest once, since a judge asks for them at every requirement.
    measure: Measure = field(init=False, repr=False, compare=False)
    read: Callable[..., Any] = field(init=False, repr=False, compare=False)
    of_trip: bool = field(init=False, repr=False, compare=False)
    by_custom: bool = field(init=False, repr=False, compare=False)
    binds: bool = field(init=False, repr=False, compare=False)
    by_vessel: bool = field(init=False, repr=False, compare=False)
    bounded: bool = field(init=False, repr=False, compare=False)
    figure: float | None = field(init=False, repr=False, compare=False)
    edge: float | None = field(init=False, repr=False, compare=False)
    vessel_edge: float | None = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        measure = find(self.key)
        vessel = self.vessel_up_to if self.vessel_over is None else self.vessel_over
        dates = (self.effective_from, self.effective_to)
        figure = self._figure(measure)
        for name, value in (
            ("measure", measure),
            ("read", measure.read),
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

    def __hash__(self) -> int:
        # As that of a rule set: what is equal has these equal too.
        return hash((self.key, self.clause, self.test))

    def _figure(self, measure: Measure) -> float | None:
        limit: float = self.limit
        match self.test:
            case "at most" | "every":
                most = _larger(limit, self.metric)
                return max(most, chain.thickest(limit)) if measure.chain else most
            case "at least":
                return min(limit, self.metric.size) if self.metric else limit
            case "more than":
                return limit
        return None

    def _edge(self, figure: float | None) -> float | None:
        if figure is None:
            return None
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
    def is_upper(self) -> bool:
        """Whether what is more than the limit breaks the rule, not what is less."""
        return self.test in ("at most", "every")

    @property
    def is_plain(self) -> bool:
        """Whether its title tells the rule: a yes or no, or a limit of 0."""
        return self.limit is True or self.limit == 0

    @property
    def limit_text(self) -> str:
        """The limit in the words of the deck: ``8 ft``, ``3/8 in``, ``40 fm``."""
        return self.say(self.limit)

    @property
    def limit_metric_text(self) -> str:
        """
        The limit in metric units, as the regulation prints it if it does.

        It is the same as ``limit_text`` for all but lengths and masses.
        """
        if self.metric:
            return self.metric.text
        if self.measure.dimension == "length":
            return units.metric(self.limit)
        if self.measure.dimension == "mass":
            return f"{self.limit:,.0f} kg"
        if self.measure.dimension == "mass by mesh":
            return by_mesh.metric_text(self.limit)
        return self.limit_text

    @property
    def allowed_text(self) -> str:
        """What the rule allows, as words: ``at most 4 ft``."""
        if self.limit is True or self.limit == 0:
            return self.phrase("asks") or (_("no difference") if self.limit == 0 else "required")
        if self.test == "by mesh":
            return _("at most {limit_text}").format(limit_text=self.limit_text)
        if self.test == "every":
            return _("one every {limit_text}").format(limit_text=self.limit_text)
        return f"{self.test} {self.limit_text}"

    @property
    def source(self) -> str:
        """How well the limit is known, as a phrase for the page."""
        return KNOWN[self.known]

    def phrase(self, name: str) -> str:
        """Return its phrase called ``name``, one of ``phrases.PHRASES``; empty if it has none."""
        return dict(self.words).get(name, "")

    def say(self, value: Any) -> str:
        """Print ``value``, a measure of this requirement's kind, in its own unit."""
        if value is True:
            return "yes"
        if value is False:
            return "no"
        if value is None:
            return _("not measured")
        if isinstance(value, Between):
            return self._say_bounds(*value)
        return PRINTERS[self.unit](value)

    def _say_bounds(self, least: float, most: float) -> str:
        if most == inf:
            return (
                _("not measured")
                if least == -inf
                else _("at least {say}").format(say=self.say(least))
            )
        return (
            _("at most {say}").format(say=self.say(most))
            if least == -inf
            else (f"{self.say(least)} to {self.say(most)}")
        )

    def applies_to(self, rig: Any, on: date | None) -> bool:
        """Return whether this limit binds ``rig`` on the date ``on`` (None: any day)."""
        if on is not None:
            if self.effective_from and on < self.effective_from:
                return False
            if self.effective_to and on > self.effective_to:
                return False
        if self.vessel_edge is None or rig.vessel_length is None:
            return True
        is_over = rig.vessel_length > self.vessel_edge + ROUNDING
        return is_over is (self.vessel_over is not None)


def _larger(size: float, printed: Printed | None) -> float:
    return max(size, printed.size) if printed else size
