"""
What can be asked about the sizes of a net: the questions of "Work out the limit".

Each draws the few parts that it is about, says them, and puts a measure that somebody
answers into them. Nothing here knows a limit: what is right is asked of the judge.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import NamedTuple

from rigs.requirements import layout
from rigs.words.gear import (
    DIAMOND,
    SIDES,
    SQUARE,
    Codend,
    Dropper,
    Float,
    Footrope,
    GroundCable,
    Headrope,
    Leg,
    Rig,
    Sweep,
)
from rigs.words.units import FATHOM, FOOT, INCH, fathoms_and_feet, feet_inches

AT_MOST, AT_LEAST = 1, -1
FEET, FATHOMS, COUNT = "ft", "fm", "count"
BARE = Rig(Headrope(None), Footrope(0.0, 0.0, 0.0), droppers=None, floats=None)


class Question(NamedTuple):
    """
    One thing that can be asked.

    ``keys`` are the requirements that can set the answer, the one that does being that which
    binds the rig. ``draw(rng, book, level)`` returns a rig of just the parts it is about;
    ``facts(rig, level)`` says them as (name, text); ``ask`` is the question. ``made(rig,
    value, book)`` returns the rig with the answer ``value`` put in, metres or a count.
    ``edge`` is AT_MOST or AT_LEAST, ``unit`` one of FEET, FATHOMS and COUNT, ``things`` what is
    counted, one and many, ``levels`` those at which it is asked, ``far`` whether the answer is
    a place, which is far and not long.
    """

    keys: tuple[str, ...]
    draw: Callable
    facts: Callable
    ask: str | Callable
    made: Callable
    edge: int
    unit: str = FEET
    things: tuple[str, str] = ("", "")
    levels: tuple[int, ...] = (1, 2, 3)
    far: bool = False

    def say(self, value):
        """Return the answer ``value`` in words: ``34 fm``, ``13 floats``."""
        if self.unit == COUNT:
            return f"{value:,} {self.things[value != 1]}"
        return fathoms_and_feet(value) if self.unit == FATHOMS else feet_inches(value, 4)

    @property
    def past(self):
        """What an answer past the limit is: ``too long``, ``too few``."""
        if self.unit == COUNT:
            return "too few"
        return "too far" if self.far else "too long" if self.edge == AT_MOST else "too short"

    @property
    def spare(self):
        """What an answer short of the limit could still be: ``longer``, ``fewer``."""
        if self.unit == COUNT:
            return "fewer"
        return "farther out" if self.far else "longer" if self.edge == AT_MOST else "shorter"


# Sizes by level: whole, odd halves, or to the inch --------------------------------------


def _feet(rng, low, high, level):
    """Return a length in metres between ``low`` and ``high`` feet, the less round the harder."""
    if level == 1:
        return rng.randint(low, high) * FOOT
    if level == 2:
        return (rng.randint(low, high - 1) + 0.5) * FOOT
    return (rng.randint(low, high - 1) * 12 + rng.randint(1, 11)) * INCH


def _fathoms(rng, low, high, level):
    if level == 1:
        return rng.randint(low, high) * FATHOM
    if level == 2:
        return (rng.randint(low, high - 1) + 0.5) * FATHOM
    return (rng.randint(low, high - 1) * 6 + rng.randint(1, 5)) * FOOT


def _two(rng, draw, low, high, level):
    """Return two lengths, the same at the lower levels."""
    one = draw(rng, low, high, level)
    other = one
    while level == 3 and other == one:
        other = draw(rng, low, high, level)
    return one, other


def _rope(rng, level, wings=(12, 44)):
    """Return a footrope whose wings differ at the hardest level."""
    bosom = rng.randint(8, 14) * 2 * FOOT
    return Footrope(bosom, *_two(rng, _feet, *wings, level))


def _near_a_step(rng, steps, step, level):
    """Return a length of about so many ``steps`` of ``step`` metres, nearer one the harder."""
    whole = rng.randint(*steps) * step
    if level == 3:
        return whole + rng.choice((-4, -3, -2, 2, 3, 4)) * INCH
    over = rng.randrange(round(step / FOOT))
    return whole + (over if level == 1 else over + 0.5) * FOOT


def _parts_of(rope):
    """Return what a footrope is made of, as facts."""
    if rope.port_wing == rope.starboard_wing:
        wings = (("Each wing", feet_inches(rope.port_wing)),)
    else:
        wings = (
            ("Port wing", feet_inches(rope.port_wing)),
            ("Starboard wing", feet_inches(rope.starboard_wing)),
        )
    return (("Bosom, corner to corner", feet_inches(rope.bosom)), *wings)


# From door to wing end ------------------------------------------------------------------


def _wires(legs, cables):
    return replace(
        BARE,
        legs=tuple(
            Leg(side, leg, leg, None, None) for side, leg in zip(SIDES, legs, strict=True) if leg
        ),
        ground_cables=tuple(
            GroundCable(side, cable, None)
            for side, cable in zip(SIDES, cables, strict=True)
            if cable
        ),
    )


def _draw_legs(rng, book, level):
    return _wires(_two(rng, _fathoms, 4, 15, level), (None, None))


def _leg_facts(rig, level):
    port, starboard = (each.top_length for each in rig.legs)
    if port == starboard:
        return (("Top and bottom legs, both sides", fathoms_and_feet(port)),)
    return (
        ("Top and bottom leg, port", fathoms_and_feet(port)),
        ("Top and bottom leg, starboard", fathoms_and_feet(starboard)),
    )


def _with_cables(rig, value, book):
    return _wires([each.top_length for each in rig.legs], (value, value))


def _draw_cables(rng, book, level):
    return _wires((None, None), _two(rng, _fathoms, 24, 36, level))


def _cable_facts(rig, level):
    port, starboard = (each.length for each in rig.ground_cables)
    if port == starboard:
        return (("Ground cables, both sides", fathoms_and_feet(port)),)
    return (
        ("Ground cable, port", fathoms_and_feet(port)),
        ("Ground cable, starboard", fathoms_and_feet(starboard)),
    )


def _with_legs(rig, value, book):
    return _wires((value, value), [each.length for each in rig.ground_cables])


# Headrope and footrope ------------------------------------------------------------------


def _draw_footrope(rng, book, level):
    if level < 3:
        return replace(BARE, footrope=Footrope(_feet(rng, 55, 120, level), 0.0, 0.0))
    return replace(BARE, footrope=_rope(rng, level))


def _footrope_facts(rig, level):
    if level < 3:
        return (("Footrope", feet_inches(rig.footrope.length)),)
    return _parts_of(rig.footrope)


def _with_headrope(rig, value, book):
    return replace(rig, headrope=Headrope(value))


def _draw_headrope(rng, book, level):
    bosom = rng.randint(8, 14) * 2 * FOOT if level == 3 else 0.0
    head = Headrope(_feet(rng, 50, 100, level))
    return replace(BARE, headrope=head, footrope=Footrope(bosom, 0.0, 0.0))


def _headrope_facts(rig, level):
    head = ("Headrope", feet_inches(rig.headrope.length))
    if level < 3:
        return (head,)
    return (head, ("Bosom of the footrope", feet_inches(rig.footrope.bosom)))


def _with_footrope(rig, value, book):
    bosom = rig.footrope.bosom
    rope = Footrope(bosom, value, value) if bosom else Footrope(value, 0.0, 0.0)
    return replace(rig, footrope=rope)


# Floats ---------------------------------------------------------------------------------


def _spaced(length, count, port=0.0, starboard=0.0):
    """Return ``count`` floats spaced evenly, the outer ones so far from the headrope's ends."""
    first, last = port - length / 2, length / 2 - starboard
    gaps = count - 1
    if not gaps:
        return (Float((first + last) / 2, None),)
    return tuple(Float(first + (last - first) * i / gaps, None) for i in range(count))


def _draw_head_for_floats(rng, book, level):
    step = book.requirement("float_spacing").limit
    return replace(BARE, headrope=Headrope(_near_a_step(rng, (11, 26), step, level)))


def _head_facts(rig, level):
    return (
        ("Headrope", feet_inches(rig.headrope.length)),
        ("Floats", "spaced evenly, one at each end of the headrope"),
    )


def _with_floats(rig, value, book):
    return replace(rig, floats=_spaced(rig.headrope.length, value))


def _draw_floats(rng, book, level):
    inset = (0.0, 0.0)
    if level == 2:
        inset = (rng.randint(1, 5) * FOOT / 2,) * 2
    elif level == 3:
        inset = tuple(rng.randint(8, 36) * INCH for _ in SIDES)
    count = rng.randint(10, 26)
    step = book.requirement("float_spacing").limit
    length = (count - 1) * step / 2 + sum(inset)
    return replace(BARE, headrope=Headrope(length), floats=_spaced(length, count, *inset))


def _insets(rig):
    half = rig.headrope.length / 2
    return half + rig.floats[0].position, half - rig.floats[-1].position


def _float_facts(rig, level):
    port, starboard = _insets(rig)
    if level == 1:
        where = "spaced evenly, one at each end of the headrope"
    elif level == 2:
        where = f"spaced evenly, the outer ones {feet_inches(port)} from the ends of the headrope"
    else:
        where = (
            f"spaced evenly. The outer one is {feet_inches(port)} from the port end of the "
            f"headrope, and {feet_inches(starboard)} from the starboard end"
        )
    return (("Floats", f"{len(rig.floats)}, {where}"),)


def _with_head_for_floats(rig, value, book):
    return replace(
        rig, headrope=Headrope(value), floats=_spaced(value, len(rig.floats), *_insets(rig))
    )


# Droppers -------------------------------------------------------------------------------


def _droppers(places):
    return tuple(Dropper(at, None, None) for at in places)


def _draw_wings(rng, book, level):
    step = book.requirement("dropper_spacing").limit
    bosom = rng.randint(8, 14) * 2 * FOOT
    port = starboard = _near_a_step(rng, (1, 5), step, level)
    while level == 3 and round(port / step) == round(starboard / step):
        starboard = _near_a_step(rng, (1, 5), step, level)
    return replace(BARE, footrope=Footrope(bosom, port, starboard))


def _wing_facts(rig, level):
    if level == 1:
        return (("A wing, corner to wing end", feet_inches(rig.footrope.port_wing)),)
    return _parts_of(rig.footrope)


def _with_droppers(rig, value, book):
    """Hang ``value`` droppers where so many go best, and any more of them in the bosom."""
    rope = rig.footrope
    inner = {0.0, rope.port_corner, rope.starboard_corner}
    places = [place.position for place in layout.dropper_places(rope, book)]
    needed = sorted(places, key=lambda at: (at not in inner, abs(at)))
    spare = [rope.bosom / 4] * max(0, value - len(needed))
    return replace(rig, droppers=_droppers(needed[:value] + spare))


def _with_wing_droppers(rig, value, book):
    """Hang ``value`` droppers evenly along either wing, beside those of the bosom."""
    rope = rig.footrope
    out = [rope.port_wing * i / (value + 1) for i in range(1, value + 1)]
    hung = [0.0, rope.port_corner, rope.starboard_corner]
    hung += [rope.port_corner - at for at in out] + [rope.starboard_corner + at for at in out]
    return replace(rig, droppers=_droppers(hung))


def _draw_next(rng, book, level):
    """A starboard wing of which the inner droppers hang, one short of its next."""
    step = book.requirement("dropper_spacing").limit
    bosom = rng.randint(8, 14) * 2 * FOOT if level < 3 else _feet(rng, 16, 28, level)
    last = _feet(rng, 2, 30, level)
    wing = last + step + _feet(rng, 2, 9, level)
    rope = Footrope(bosom, wing, wing)
    inner = []
    at = last
    while at > 0:
        inner.append(rope.starboard_corner + at)
        at -= step
    port = [place.position for place in layout.dropper_places(rope, book) if place.position < 0]
    hung = [*port, 0.0, rope.starboard_corner, *inner]
    return replace(BARE, footrope=rope, droppers=_droppers(sorted(hung)))


def _outermost(rig):
    return max(rig.droppers, key=lambda each: each.position)


def _next_facts(rig, level):
    rope = rig.footrope
    out = _outermost(rig).position - rope.starboard_corner
    wing = ("Starboard wing", feet_inches(rope.starboard_wing))
    hung = ("Outermost dropper on it so far", f"{feet_inches(out)} from the corner")
    if level < 3:
        return (wing, hung)
    return (("Bosom, corner to corner", feet_inches(rope.bosom)), wing, hung)


def _ask_next(rig, level):
    start = "center" if level == 3 else "corner"
    return f"More droppers go on. How far from the {start} may the next one out be?"


def _hang_from(rig, position, book):
    """Hang the next dropper at ``position``, and more from there out to the wing end."""
    rope = rig.footrope
    step = book.requirement("dropper_spacing").limit
    out = layout.wing_positions(max(0.0, rope.starboard_end - position), step)
    places = [each.position for each in rig.droppers]
    places += [position, *(position + at for at in out)]
    return replace(rig, droppers=_droppers(sorted(places)))


def _next_from_corner(rig, value, book):
    return _hang_from(rig, rig.footrope.starboard_corner + value, book)


def _next_from_center(rig, value, book):
    return _hang_from(rig, value, book)


# The sweep ------------------------------------------------------------------------------


AMPLE = 30 * FOOT  # by which the half that nobody is asked about is longer than its footrope


def _swept(rope, port=None):
    """Return a rig with a sweep whose starboard half is long enough for any rule."""
    return replace(BARE, footrope=rope, sweep=Sweep(port, rope.starboard_end + AMPLE, None))


def _draw_half(rng, book, level):
    return _swept(_rope(rng, level) if level == 3 else _halves(rng, level))


def _halves(rng, level):
    """Return a footrope of which only its two halves are told."""
    half = _feet(rng, 26, 60, level)
    return Footrope(0.0, half, half)


def _half_facts(rig, level):
    if level == 3:
        return _parts_of(rig.footrope)
    return (("Each half of the footrope", feet_inches(rig.footrope.port_wing)),)


def _with_port_half(rig, value, book):
    return replace(rig, sweep=replace(rig.sweep, port=value))


def _draw_sweep(rng, book, level):
    port = _feet(rng, 32, 66, level)
    bosom = rng.randint(8, 14) * 2 * FOOT if level == 3 else 0.0
    return _swept(Footrope(bosom, 0.0, 0.0), port)


def _sweep_facts(rig, level):
    half = ("Port half of the sweep", feet_inches(rig.sweep.port))
    if level < 3:
        return (half,)
    return (half, ("Bosom, corner to corner", feet_inches(rig.footrope.bosom)))


def _ask_port_rope(rig, level):
    if level < 3:
        return "How long may the port half of the footrope be?"
    return "How long may the port wing be?"


def _with_port_wing(rig, value, book):
    return replace(rig, footrope=replace(rig.footrope, port_wing=value))


def _draw_past(rng, book, level):
    """A port wing with a dropper on it, straight down to the sweep, and a stretch past it."""
    past = _feet(rng, 1, 7, level)
    out = _feet(rng, 5, 30, level)
    rope = Footrope(24 * FOOT, out + past, out + past)
    hung = tuple(
        Dropper(at, None, None, sweep_position=at)
        for at in (rope.port_corner - out, rope.starboard_corner + out)
    )
    return replace(_swept(rope), droppers=hung)


def _past_facts(rig, level):
    rope = rig.footrope
    at = rig.droppers[0].position
    if level < 3:
        past = feet_inches(at - rope.port_end)
        return (("Footrope from the outermost dropper to the port wing end", past),)
    return (
        ("Port wing", feet_inches(rope.port_wing)),
        ("Outermost dropper on it", f"{feet_inches(rope.port_corner - at)} from the corner"),
    )


def _with_past(rig, value, book):
    outer = abs(rig.droppers[0].sweep_position)
    return replace(rig, sweep=replace(rig.sweep, port=outer + value))


# The codend -----------------------------------------------------------------------------


def _draw_vessel(rng, book, level, over=None):
    rule = next(each for each in book.requirements if each.by_vessel)
    edge = rule.vessel_over if rule.vessel_over is not None else rule.vessel_up_to
    over = rng.random() < 0.5 if over is None else over
    off = {1: (15, 30), 2: (5, 14), 3: (1, 3)}[level]
    length = edge + rng.randint(*off) * (1 if over else -1) * FOOT
    hanging = DIAMOND if level == 1 else rng.choice((DIAMOND, SQUARE))
    return replace(BARE, vessel_length=length, codend=Codend(None, None, hanging))


def _vessel_facts(rig, level):
    return (
        ("Vessel", feet_inches(rig.vessel_length)),
        ("Codend", f"{rig.codend.hanging} mesh"),
    )


def _ask_meshes(rig, level):
    counted = "bars" if rig.codend.hanging == SQUARE else "meshes"
    return f"From the terminus, over how many {counted} must the mesh have the size asked?"


def _with_meshes(rig, value, book):
    return replace(rig, codend=replace(rig.codend, counted=value))


QUESTIONS = {
    "cable": Question(
        ("door_to_wing_end",),
        _draw_legs,
        _leg_facts,
        "Both ground cables are of one length. How long may they be?",
        _with_cables,
        AT_MOST,
        FATHOMS,
    ),
    "legs": Question(
        ("door_to_wing_end",),
        _draw_cables,
        _cable_facts,
        "All legs are of one length. How long may they be?",
        _with_legs,
        AT_MOST,
        FATHOMS,
    ),
    "headrope": Question(
        ("footrope_excess",),
        _draw_footrope,
        _footrope_facts,
        "How short may the headrope be?",
        _with_headrope,
        AT_LEAST,
    ),
    "footrope": Question(
        ("footrope_excess",),
        _draw_headrope,
        _headrope_facts,
        lambda rig, level: (
            "Both wings are of one length. How long may each be?"
            if level == 3
            else "How long may the footrope be?"
        ),
        _with_footrope,
        AT_MOST,
    ),
    "floats": Question(
        ("float_spacing",),
        _draw_head_for_floats,
        _head_facts,
        "How few floats will do?",
        _with_floats,
        AT_LEAST,
        COUNT,
        ("float", "floats"),
    ),
    "headrope_for_floats": Question(
        ("float_spacing",),
        _draw_floats,
        _float_facts,
        "How long may the headrope be with these floats?",
        _with_head_for_floats,
        AT_MOST,
    ),
    "wing_droppers": Question(
        ("dropper_spacing",),
        _draw_wings,
        _wing_facts,
        "How few droppers will do on this wing, not counting the one at the corner?",
        _with_wing_droppers,
        AT_LEAST,
        COUNT,
        ("dropper", "droppers"),
        levels=(1,),
    ),
    "all_droppers": Question(
        ("dropper_spacing",),
        _draw_wings,
        _wing_facts,
        "How few droppers will do on the whole footrope?",
        _with_droppers,
        AT_LEAST,
        COUNT,
        ("dropper", "droppers"),
        levels=(2, 3),
    ),
    "next_dropper": Question(
        ("dropper_spacing",),
        _draw_next,
        _next_facts,
        _ask_next,
        _next_from_corner,
        AT_MOST,
        levels=(1, 2),
        far=True,
    ),
    "next_from_center": Question(
        ("dropper_spacing",),
        _draw_next,
        _next_facts,
        _ask_next,
        _next_from_center,
        AT_MOST,
        levels=(3,),
        far=True,
    ),
    "sweep_half": Question(
        ("sweep_excess_each_side",),
        _draw_half,
        _half_facts,
        "How short may the port half of the sweep be?",
        _with_port_half,
        AT_LEAST,
    ),
    "footrope_half": Question(
        ("sweep_excess_each_side",),
        _draw_sweep,
        _sweep_facts,
        _ask_port_rope,
        _with_port_wing,
        AT_MOST,
    ),
    "whole_sweep": Question(
        ("sweep_excess",),
        _draw_footrope,
        _footrope_facts,
        "How short may the whole sweep be?",
        lambda rig, value, book: replace(rig, sweep=Sweep(value / 2, value / 2, None)),
        AT_LEAST,
    ),
    "sweep_past_dropper": Question(
        ("sweep_wing_excess",),
        _draw_past,
        _past_facts,
        "How short may the sweep be from that dropper to where it joins the leg?",
        _with_past,
        AT_LEAST,
    ),
    "meshes": Question(
        ("mesh_count_long", "mesh_count_short"),
        _draw_vessel,
        _vessel_facts,
        _ask_meshes,
        _with_meshes,
        AT_LEAST,
        COUNT,
        ("mesh", "meshes"),
    ),
}
