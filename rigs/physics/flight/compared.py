"""What a change to a rig does to its flight, place by place."""

from typing import NamedTuple

from rigs.words.gear import Rig

from .believed import Beliefs
from .flown import Point


class Moved(NamedTuple):
    """The footrope at one of POINTS ``before`` and ``after`` a change, as is likely."""

    before: Point
    after: Point

    @property
    def name(self) -> str:
        return self.after.name

    @property
    def change(self) -> float:
        """How far it goes up, in metres; below nothing, down."""
        return self.after.up - self.before.up


def compare(beliefs: Beliefs, before: Rig, after: Rig) -> tuple[Moved, ...]:
    """
    Return what going from the rig ``before`` to ``after`` does at POINTS, port to starboard.

    Raise what ``flown.fly`` raises.
    """
    return tuple(
        Moved(old, new)
        for old, new in zip(beliefs.flown(before).points, beliefs.flown(after).points, strict=True)
    )
