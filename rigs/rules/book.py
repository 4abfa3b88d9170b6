"""A rule set: a named, versioned, dated set of requirements."""

from dataclasses import dataclass, field
from datetime import date

from rigs.words.say import gettext as _

from .areas import Area
from .requirement import Requirement

LEVELS = (1, 2, 3)
"""The levels of an exercise, the easiest first."""
COURSES = ("trainee", "officer")
"""Whose courses there are."""


class NoRequirement(KeyError):
    """That the rule set ``name`` lacks the requirement ``key``; the message is for who calls."""

    def __init__(self, name: str, key: str) -> None:
        super().__init__(_("{name} has no requirement {key!r}").format(name=name, key=key))
        self.name, self.key = name, key


@dataclass(frozen=True)
class Taught:
    """
    Where a rule set is taught: on whose ``courses``, and from which ``level`` of exercises.

    ``exercises`` are (slug, level) of those that take it from another level.
    """

    level: int
    courses: tuple[str, ...]
    exercises: tuple[tuple[str, int], ...] = ()

    def level_in(self, exercise: str) -> int:
        """Return the level from which the exercise with that slug draws from the rule set."""
        return dict(self.exercises).get(exercise, self.level)


@dataclass(frozen=True)
class Rulebook:
    """
    A named, versioned, dated set of requirements.

    ``resumes`` says that it is meant to follow a time for which no version holds.
    ``gear`` names the gear rule sets of which a vessel must meet one besides, for
    a fishery that takes them over. ``follows`` is the clause by which its rules go with a
    vessel on its letter into other fisheries, empty if they do not. ``taught`` is where it is
    taught, None if nowhere. ``lays_out_rig`` is whether it lays out a whole rig, droppers and
    all, and not a trip or a part alone.
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
    taught: Taught | None = None
    # Made of the rest once, since many pages ask for them.
    by_vessel: bool = field(init=False, repr=False, compare=False)
    lays_out_rig: bool = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        by_vessel = any(requirement.by_vessel for requirement in self.requirements)
        lays_out_rig = any(each.measure.lays_out_rig for each in self.requirements)
        object.__setattr__(self, "by_vessel", by_vessel)
        object.__setattr__(self, "lays_out_rig", lays_out_rig)

    def __hash__(self) -> int:
        # By its name alone: much is kept by rule set, and all of it takes long to go through.
        return hash((self.name, self.version))

    def requirement(self, key: str) -> Requirement:
        """Return the requirement called ``key``; raise NoRequirement if there is none."""
        for requirement in self.requirements:
            if requirement.key == key:
                return requirement
        raise NoRequirement(self.name, key)

    def has(self, key: str) -> bool:
        """Return whether the rule set has a requirement called ``key``."""
        return any(requirement.key == key for requirement in self.requirements)

    @property
    def has_marks(self) -> bool:
        """Whether a limit was written from memory, and so is marked where it is printed."""
        return any(requirement.known == "memory" for requirement in self.requirements)

    @property
    def allowance(self) -> dict[str, float]:
        """The measuring allowance in metres by kind of measure, zero if none is set."""
        return dict(self.allowances)

    def open_areas(self, day: date) -> tuple[Area, ...]:
        """Return its Areas that are open on the date ``day``, none outside its season."""
        for each in self.requirements:
            if each.test == "within" and not any(season.open_on(day) for season in each.limit):
                return ()
        return tuple(
            area
            for each in self.requirements
            if each.test == "inside"
            for area in each.limit
            if area.season is None or area.season.open_on(day)
        )

    def holds_on(self, day: date) -> bool:
        """Return whether this version is the one to judge by on the date ``day``."""
        return self.effective_from <= day and (
            self.effective_to is None or day <= self.effective_to
        )
