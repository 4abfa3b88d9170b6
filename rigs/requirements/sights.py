"""
What is seen, not measured: requirements that are answered by yes or no.

Each has things that are seen on a rig that meets it and things seen on one that breaks it, plain
ones and close ones. The close ones of both sides look alike: what breaks a rule is little and in
one place, and what meets it has something odd about it that no rule forbids (common practice,
no source).
"""

from abc import abstractmethod
from typing import ClassVar, NamedTuple

from rigs.words.gear import Noted, Rig
from rigs.words.say import gettext as _

from .base import Measure
from .making import Making, Told
from .questions import Question, one
from .readings import Readings


class Sights(NamedTuple):
    """What is seen, as sentences; holes are filled with the side and the wire."""

    plain: tuple[str, ...]
    close: tuple[str, ...]

    def of(self, level: int) -> tuple[str, ...]:
        """Return those of ``level``: plain at 1, close at 3, both between."""
        return (self.plain, self.plain + self.close, self.close)[level - 1]


class LookedAt(Measure, shared=True):
    """A requirement that is looked at: so, or not so."""

    dimension = "flag"

    met: ClassVar[Sights]
    """What is seen where it is met."""

    broken: ClassVar[Sights]
    """What is seen where it is broken."""

    @abstractmethod
    def breach(self, rig: Rig, side: str, wire: str) -> Rig:
        """Return ``rig`` with this broken, on ``side`` and on ``wire`` if it is about those."""

    @classmethod
    def needs(cls) -> dict[str, str]:
        return super().needs() | {
            "met": _("what is seen where it is met"),
            "broken": _("what is seen where it is broken"),
            "breach": _("how a rig is made to break it"),
        }

    def spoil(self, making: Making) -> Rig:
        """Return the rig with this broken somewhere."""
        return self.breach(making.rig, "", "")

    def near(self, making: Making) -> Told:
        """Return a rig that meets or breaks it, and what is seen on it."""
        rng, side = making.rng, making.either_side()
        wire = rng.choice(
            [
                _("{side} top leg").format(side=side),
                _("{side} bottom leg").format(side=side),
                _("{side} ground cable").format(side=side),
            ]
        )
        text = rng.choice((self.broken if making.broken else self.met).of(making.level))
        told = text.format(
            side=side,
            wire=_("the {wire}").format(wire=wire),
            Wire=_("The {wire}").format(wire=wire),
        )
        rig = self.breach(making.rig, side, wire) if making.broken else making.rig
        return rig, (told,)


class Noticed(LookedAt, shared=True):
    """
    A requirement of which no part of a rig has a field: it is also noted, by its key.

    An officer is asked the ``question`` at the ``stop``, and answers yes where it is met.
    ``spot`` is where it is looked for, ``told`` what is said of a rig that breaks it.
    """

    spot: ClassVar[str]
    question: ClassVar[str]
    stop: ClassVar[str]
    told: ClassVar[str]

    def __init_subclass__(cls, shared: bool = False) -> None:
        if not shared and all(getattr(cls, part, "") for part in ("key", "question", "spot")):
            cls.sheet = one(
                cls.spot,
                Question(
                    cls.key,
                    cls.question,
                    of=lambda rig: rig.is_noted(cls.key),
                    stop=getattr(cls, "stop", ""),
                ),
            )
        super().__init_subclass__(shared=shared)

    @classmethod
    def needs(cls) -> dict[str, str]:
        return super().needs() | {"told": _("what is said of a rig that breaks it")}

    def read(self, rig: Rig) -> Readings | None:
        return [rig.is_noted(self.key)], (self.spot,)

    def breach(self, rig: Rig, side: str, wire: str) -> Rig:
        return rig.with_(noted=(*(rig.noted or ()), Noted(self.key, False, self.told)))
