"""
What every requirement is made of, and the shelf on which each stands by its key.

A requirement is one class in one of the modules of this package, one module a part of the
gear. Defining it puts it on the shelf: nothing else names it but its line in a rule set.
It knows how it is read off a rig and nothing of its limit: that, dated and cited, is a
``rulebook.Requirement``, called ``rule`` below, and is handed in where it is needed.
"""

from abc import abstractmethod
from collections.abc import Callable, Iterable, Mapping
from typing import Any, ClassVar

from rigs.words.gear import Rig
from rigs.words.say import gettext as _

from .doubt import Doubt
from .making import CannotMake, Making, Told
from .oddity import Oddity
from .questions import STOPS, OnSheet
from .readings import Readings, known
from .sizing import Sizing
from .spans import SoldChain, Steps
from .worked_out.base import WorkedOut

TESTS: Mapping[str, tuple[str, ...]] = {
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
"""The kinds of quantity, and how a limit may be put to each."""

APART = ("at most",)
"""Of a distance: it can be none, and cannot be less."""
MORE_OR_LESS = ("at most", "at least", "more than")
"""Of how much longer one thing is than another, which may be shorter."""


class Measure:
    """
    One requirement: what is measured or looked at, and all that the site does with it.

    Subclass it once a requirement; say ``shared=True`` for a base of several, which is no
    requirement itself. An instance keeps nothing: there is one of each, see ``find``.

    ``key`` is its name in rule sets, ``dimension`` the kind of quantity, one of TESTS,
    ``allowance`` the measuring allowance of the rule set that applies, ``chain`` whether the
    bar of a chain is gauged, which is named by its trade size, ``missing_fails`` whether a
    rig on which there is nothing to measure fails the rule (no dropper at the center) or
    cannot break it (a wire that is not there), ``trip`` whether a Trip is read, not a Rig,
    ``in_steps`` whether its spots say which stretch of a rope is the last, so that a limit
    can be put as ``every``, ``forbids_sweep`` whether any sweep breaks it, ``lays_out_rig``
    whether a rule set with a limit for it lays out a whole rig, ``zero`` the tests for which
    a limit of nothing means something (two legs of one length differ by at most nothing).
    """

    key: ClassVar[str]
    dimension: ClassVar[str]
    allowance: ClassVar[str] = ""
    missing_fails: ClassVar[bool] = False
    trip: ClassVar[bool] = False
    zero: ClassVar[tuple[str, ...]] = ()
    chain: ClassVar[bool] = False
    in_steps: ClassVar[bool] = False
    forbids_sweep: ClassVar[bool] = False
    lays_out_rig: ClassVar[bool] = False

    # Said in words -------------------------------------------------------------

    about: ClassVar[str] = ""
    """What a reading is about, in words that do not give its rule away."""
    sizes_of: ClassVar[str] = ""
    """What sizes are of, where one size tells the outcome; empty where it does not."""
    on_drawing: ClassVar[str] = ""
    """Where to put the ends of a tool that measures on a drawing."""

    marked_at: ClassVar[str] = ""
    """The part of the wires at which a drawing of them marks it; empty if it is not about them."""

    # Read off a rig ------------------------------------------------------------

    @abstractmethod
    def read(self, subject: Any, /) -> Readings | None:
        """Return the readings off a Rig, or off a Trip if ``trip``."""

    def doubts(self, rig: Rig, /) -> Iterable[Doubt]:
        """Return what cannot be right about how a Rig was described, of what it reads."""
        return ()

    # Asked on a check sheet ------------------------------------------------------

    sheet: ClassVar[OnSheet | None] = None
    """How it is read off an officer's answers, and what is asked for it."""

    # Made for an exercise: ``rigs.make`` has the engines, the classes the ways ----
    #
    # Each way returns the Rig that it is handed changed in this one reading, or raises
    # CannotMake; the engine asks the judge what came of it. A class that has no such way
    # leaves the method alone: see ``can``. Tasks are made anew from their seeds, so the
    # order in which a way draws at random never changes.

    scale: ClassVar[Steps | SoldChain | None] = None
    """How its readings lie about a limit, where it is measured."""

    follows: ClassVar[frozenset[str]] = frozenset()
    """The keys of those that can be broken along with it, since sizes hang together."""

    rehangs: ClassVar[bool] = False
    """Whether its ways set anew what hangs on a rope, and so undo what was done to that."""

    turn: ClassVar[int] = 100
    """
    When it is put, of several on one rig: the lowest first.

    Ropes come before what is hung on them anew, and lengths before what adds them up.
    """

    def put(self, making: Making, /) -> Rig:
        """Return the rig with a reading as far off the limit as asked, broken or met."""
        raise CannotMake(self.key)

    def spoil(self, making: Making, /) -> Rig:
        """Return the rig with the rule broken, so far as asked, in a way that shows."""
        return self.put(making)

    @abstractmethod
    def near(self, making: Making, /) -> Told | None:
        """Return a rig with a reading near the limit, and what is noted of it; None if it fails."""

    def drawn(self, rig: Rig, sizing: Sizing, /) -> Rig:
        """
        Return a sound rig with what this asks for drawn on it, where not every net has that.

        What every net has, and a sweep, is drawn a part at a time, since its sizes hang
        together: by the function ``drawn`` of the part's module.
        """
        return rig

    oddities: ClassVar[tuple[Oddity, ...]] = ()
    """What looks as if it broke the rule and does not."""

    # Asked in an exercise: "Work out the limit" ---------------------------------

    worked_out: ClassVar[tuple[WorkedOut, ...]] = ()
    """What of the sizes of a net can be asked so that this rule sets the answer."""

    @classmethod
    def can(cls, way: str) -> bool:
        """Return whether the class has its own ``way``, the name of one of the methods above."""
        return getattr(cls, way) is not getattr(Measure, way)

    @property
    def breaks_alone(self) -> bool:
        """Whether a rig can be made that breaks it and nothing else."""
        return not self.follows and (self.can("spoil") or self.can("put"))

    @property
    def asked(self) -> OnSheet:
        """Its ``sheet``; raise TypeError if it has none."""
        if self.sheet is None:
            raise TypeError(_("“{key}” is on no sheet.").format(key=self.key))
        return self.sheet

    @property
    def tests(self) -> tuple[str, ...]:
        """How a limit may be put to it."""
        tests = TESTS[self.dimension]
        return tests if self.in_steps else tuple(test for test in tests if test != "every")

    @property
    def reading_of(self) -> str:
        """A name that is the same for two requirements if they are one reading."""
        return type(self).read.__qualname__

    # The shelf -----------------------------------------------------------------

    @classmethod
    def needs(cls) -> dict[str, str]:
        """Return what a class may not be without, by name, and what that is."""
        parts = {
            "key": _("its name in rule sets"),
            "dimension": _("the kind of quantity"),
            "read": _("how it is read off a rig"),
        }
        if cls.trip:
            return parts
        if getattr(cls, "dimension", "") not in ("", "flag"):
            parts["scale"] = _("how its readings lie about a limit")
        return parts | {
            "sheet": _("how it is asked on a check sheet"),
            "about": _("what a reading is about"),
            "near": _("how a rig comes near its limit in an exercise"),
        }

    def __init_subclass__(cls, shared: bool = False, **kwargs: Any) -> None:
        super().__init_subclass__(**kwargs)
        if shared:
            return
        name = f"{cls.__module__}.{cls.__qualname__}"
        for part, what in cls.needs().items():
            value = getattr(cls, part, None)
            if not value or getattr(value, "__isabstractmethod__", False):
                raise TypeError(
                    _("{name}: “{part}” is missing: {what}.").format(
                        name=name, part=part, what=what
                    )
                )
        if cls.dimension not in TESTS:
            raise TypeError(
                _("{name}: no “dimension” is called “{dimension}”.").format(
                    name=name, dimension=cls.dimension
                )
            )
        for question in cls.sheet.questions if cls.sheet else ():
            if question.stop not in STOPS:
                raise TypeError(
                    _("{name}: the question “{name2}” has no “stop” where it is asked.").format(
                        name=name, name2=question.name
                    )
                )
        if cls.key in shelf:
            other = type(shelf[cls.key])
            raise TypeError(
                _("{name}: “key” is “{key}”, which is that of {module}.{qualname}.").format(
                    name=name, key=cls.key, module=other.__module__, qualname=other.__qualname__
                )
            )
        cls.oddities = tuple(each._replace(key=cls.key) for each in cls.oddities)
        shelf[cls.key] = cls()


shelf: dict[str, Measure] = {}
"""Every requirement by its key; ask ``rigs.requirements.find``."""


def worst(
    measure: type[Measure], rig: Rig, pick: Callable[[Iterable[float]], float]
) -> float | None:
    """Return the reading of ``rig`` that an officer writes down: ``pick`` of those taken."""
    readings = measure().read(rig)
    values = known(readings[0]) if readings else []
    return pick(values) if values else None
