"""
What cannot be right about how a rig was described.

It is no finding: nothing was broken, but the description gainsays itself, and whoever
wrote it has to look again before the findings can be gone by.
"""

from typing import NamedTuple

from rigs.requirements.measures import PLAY
from rigs.words.gear import PORT, SIDES, STARBOARD
from rigs.words.places import place_text
from rigs.words.units import feet_inches


class Doubt(NamedTuple):
    """
    One thing that cannot be right: ``what`` it is, the ``spots``, and what to do about it.

    A spot is one of the rig's parts.
    """

    what: str
    spots: tuple
    remedy: str

    @property
    def places(self):
        """Where it is, in words."""
        return tuple(place_text(spot) for spot in self.spots)


def doubts(rig):
    """Return the Doubts about the Rig ``rig``, a tuple; empty for nearly every rig."""
    return (*_droppers(rig), *_floats(rig), *_sweep(rig))


def _beyond(parts, side, end):
    """Return those of ``parts`` that are further to ``side`` than ``end`` metres."""
    sign = -1 if side == PORT else 1
    return tuple(each for each in parts if sign * each.position > end + PLAY)


def _many(count, one):
    return f"{count} {one}s are" if count > 1 else f"A {one} is"


def _droppers(rig):
    for side in SIDES:
        end = abs(rig.footrope.end(side))
        if past := _beyond(rig.droppers or (), side, end):
            yield Doubt(
                f"{_many(len(past), 'dropper')} past the {side} wing end, "
                f"which is {feet_inches(end)} from the center.",
                past,
                "Check the place, or the lengths of bosom and wing. It counts for no gap.",
            )


def _floats(rig):
    if rig.headrope.length is None:
        return
    half = rig.headrope.length / 2
    for side in SIDES:
        if past := _beyond(rig.floats or (), side, half):
            yield Doubt(
                f"{_many(len(past), 'float')} past the {side} end of the headrope, "
                f"which is {feet_inches(half)} from its center.",
                past,
                "Check the place, or the length of the headrope. It counts for no gap.",
            )


def _sweep(rig):
    if rig.sweep is None:
        return
    for side, sign in ((PORT, -1), (STARBOARD, 1)):
        half = rig.sweep.half(side)
        past = tuple(
            each
            for each in rig.droppers or ()
            if half is not None
            and each.sweep_position is not None
            and sign * each.sweep_position > half + PLAY
        )
        if past:
            yield Doubt(
                f"{_many(len(past), 'dropper')} joined to the sweep past its {side} end, "
                f"which is {feet_inches(half)} from under the center.",
                past,
                "Check where it meets the sweep, or the length of that half.",
            )
