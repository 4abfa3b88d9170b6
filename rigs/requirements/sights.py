"""
What is seen, not measured: requirements that are answered by yes or no.

Each has things that are seen on a rig that meets it and things seen on one that breaks it, plain
ones and close ones. The close ones of both sides look alike: what breaks a rule is little and in
one place, and what meets it has something odd about it that no rule forbids (common practice,
no source).
"""

from typing import ClassVar, NamedTuple

from rigs.words.gear import Rig

from .base import Measure
from .making import Making, Told


class Sights(NamedTuple):
    """What is seen, as sentences; holes are filled with the side and the wire."""

    plain: tuple[str, ...]
    close: tuple[str, ...]

    def of(self, level: int) -> tuple[str, ...]:
        """Return those of ``level``: plain at 1, close at 3, both between."""
        return (self.plain, self.plain + self.close, self.close)[level - 1]


class Seen(Measure, shared=True):
    """A requirement that is looked at: so, or not so."""

    dimension = "flag"

    met: ClassVar[Sights]
    """What is seen where it is met."""

    broken: ClassVar[Sights]
    """What is seen where it is broken."""

    def breach(self, rig: Rig, side: str, wire: str) -> Rig:
        """Return ``rig`` with this broken, on ``side`` and on ``wire`` if it is about those."""
        raise NotImplementedError

    def spoil(self, making: Making) -> Rig:
        """Return the rig with this broken somewhere."""
        return self.breach(making.rig, "", "")

    def near(self, making: Making) -> Told:
        """Return a rig that meets or breaks it, and what is seen on it."""
        rng, side = making.rng, making.either_side()
        wire = rng.choice([f"{side} top leg", f"{side} bottom leg", f"{side} ground cable"])
        text = rng.choice((self.broken if making.broken else self.met).of(making.level))
        told = text.format(side=side, wire=f"the {wire}", Wire=f"The {wire}")
        rig = self.breach(making.rig, side, wire) if making.broken else making.rig
        return rig, (told,)
