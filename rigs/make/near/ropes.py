"""Headrope, floats and footrope near a limit."""

from dataclasses import replace
from math import ceil

from rigs.requirements.layout import floats
from rigs.words.gear import Float, Headrope
from rigs.words.units import INCH, feet_inches, inches

from .making import listed


def float_size(making):
    """Some floats measured, among them the smallest."""
    sizes = making.mixed(worst := making.reading(), *making.beside(worst, 2, most=2))
    rest = replace(making.rig.floats[0], diameter=max(sizes))
    made = [replace(rest, position=each.position) for each in making.rig.floats]
    for index, size in zip(making.rng.sample(range(len(made)), len(sizes)), sizes, strict=True):
        made[index] = replace(made[index], diameter=size)
    told = listed([inches(size) for size in sizes])
    return making.rig.with_(floats=tuple(made)), (f"The smallest floats are {told} across.",)


def float_gaps(making):
    """The three widest gaps, one of them from the last float to the end of the headrope."""
    half, ball = making.rig.headrope.length / 2, making.rig.floats[0].diameter
    at_end, *inner = making.mixed(worst := making.reading(), *making.beside(worst, 2))
    left = 2 * half - at_end - sum(inner)
    count = ceil(left / (min(at_end, *inner) - INCH))
    if count < 1:
        return None
    gaps = [at_end, *making.mixed(*inner, *[left / count] * count)]
    places = [-half]
    for gap in gaps:
        places.append(places[-1] + gap)
    sign = making.rng.choice([-1, 1])
    made = tuple(sorted((Float(sign * at, ball) for at in places[1:]), key=lambda f: f.position))
    one, other = (feet_inches(gap) for gap in inner)
    return making.rig.with_(floats=made), (
        f"The widest gaps between floats are {one} and {other}, middle to middle.",
        f"From the last float to the end of the headrope it is {feet_inches(at_end)}.",
    )


def rope_lengths(making):
    """Headrope and footrope, to be held against each other."""
    rope = making.rig.footrope
    head = Headrope(rope.length - making.reading())
    if head.length <= 0:
        return None
    ball = making.rig.floats[0].diameter
    rig = making.rig.with_(headrope=head, floats=floats(head, making.rulebook, ball))
    return rig, (
        f"The headrope is {feet_inches(head.length)} long.",
        f"The footrope is {feet_inches(rope.length)} long.",
    )
