"""Droppers near a limit: their chain, their length and where they hang."""

from collections import Counter
from dataclasses import replace
from itertools import accumulate

from rigs.words.gear import PORT, STARBOARD, Footrope
from rigs.words.sizes import CHAIN_LADDER
from rigs.words.units import FOOT, INCH, ROUNDING, feet_inches, inches

from .making import listed


def _sign(side):
    return -1 if side == PORT else 1


def chain_size(making):
    """What chain some of the droppers are, the thickest among them."""
    worst = making.reading()
    lighter = [size for size in CHAIN_LADDER if size < worst + ROUNDING][-3:]
    others = [making.rng.choice(lighter), making.rng.choice(lighter)]
    few = making.rng.sample(range(len(making.rig.droppers)), 3)
    sizes = dict(zip(few, making.mixed(worst, *others), strict=True))
    # All that are not named are of the lightest of the three.
    made = tuple(
        replace(each, diameter=sizes.get(index, min(sizes.values())))
        for index, each in enumerate(making.rig.droppers)
    )
    counts = Counter(each.diameter for each in made)
    told = [f"{count} of {inches(size)} chain" for size, count in counts.items()]
    making.rng.shuffle(told)
    return making.rig.with_(droppers=made), (f"Droppers on the footrope: {listed(told)}.",)


def lengths(making):
    """The three shortest droppers."""
    told = making.mixed(worst := making.reading(), *making.beside(worst, 2))
    few = making.rng.sample(range(len(making.rig.droppers)), len(told))
    lengths = dict(zip(few, told, strict=True))
    made = tuple(
        replace(each, length=lengths.get(index, max(each.length, *told)))
        for index, each in enumerate(making.rig.droppers)
    )
    told = listed([inches(each) for each in told])
    return making.rig.with_(droppers=made), (f"The shortest droppers are {told} long.",)


def _moved(dropper, place):
    """Return ``dropper`` at ``place``; what it meets the sweep with goes along."""
    met = None if dropper.sweep_position is None else place
    return replace(dropper, position=place, sweep_position=met)


def _hung(rig, places):
    """Return ``rig`` with droppers of one make at ``places``, in metres from the center."""
    make = rig.droppers[0]
    return rig.with_(droppers=tuple(_moved(make, place) for place in sorted(places)))


def _off(making):
    """Return how far off its place a dropper hangs, signed: within the limit or past it."""
    off = making.limit + making.apart() if making.broken else 0.0
    return making.rng.choice([-1, 1]) * off


def _inner(making, reach):
    """Return a place for one dropper more, ``reach`` metres off and up to 2 ft nearer."""
    return reach - making.rng.randint(0, 24) * INCH


def at_center(making):
    """Three droppers along the bosom, measured from a corner: is one of them half way?"""
    rng, rig = making.rng, making.rig
    half = rng.randint(60, 130) * INCH
    rope = Footrope(2 * half, rig.footrope.port_wing, rig.footrope.starboard_wing)
    rig = making.sound(rope)
    off = _off(making)
    # No nearer to the center than the one that is measured.
    more = [_inner(making, half - FOOT), -_inner(making, half - FOOT)]
    if min(map(abs, more)) <= abs(off):
        return None
    places = [each.position for each in rig.droppers if abs(each.position) > ROUNDING]
    rig = _hung(rig, [*places, off, *more])
    corner = making.side()
    told = sorted(half + _sign(corner) * -at for at in (off, *more))
    return rig, (
        f"The bosom is {feet_inches(2 * half)} from corner to corner.",
        f"From the {corner} corner, droppers hang at {listed([feet_inches(at) for at in told])}.",
    )


def a_wing(making, count):
    """
    Return (gaps, rest) in metres for a wing of ``count`` droppers, all well within the limit.

    The gaps go from the corner out; ``rest`` is what is left at the wing end.
    """
    limit = making.rulebook.requirement("dropper_spacing").limit
    gaps = [limit - making.rng.randint(2, 24) * INCH for _ in range(count)]
    return gaps, making.rng.randint(6, round(limit / INCH) - 6) * INCH


def on_wings(making, wings):
    """Return a rig, sound but for them, with the ``wings``: (gaps, rest) by side."""
    rope = making.rig.footrope
    lengths = {f"{side}_wing": sum(gaps) + rest for side, (gaps, rest) in wings.items()}
    rig = making.sound(replace(rope, **lengths))
    half = rope.bosom / 2
    places = [
        each.position
        for each in rig.droppers
        if abs(each.position) <= half + ROUNDING or _side_of(each) not in wings
    ]
    for side, (gaps, _) in wings.items():
        places += [rope.corner(side) + _sign(side) * out for out in accumulate(gaps)]
    return _hung(rig, places)


def _side_of(dropper):
    return PORT if dropper.position < 0 else STARBOARD


def _other(side):
    return STARBOARD if side == PORT else PORT


def at_corner(making):
    """Gaps from the wing end to the corner: do they add up to the wing?"""
    side = making.side()
    gaps, rest = a_wing(making, making.rng.randint(2, 3))
    rig = on_wings(making, {side: (gaps, rest)})
    outs, wing = list(accumulate(gaps)), sum(gaps) + rest
    corner = rig.footrope.corner(side)
    off = _off(making)
    made = tuple(
        _moved(each, corner + _sign(side) * off)
        if abs(each.position - corner) <= ROUNDING
        else each
        for each in rig.droppers
    )
    if outs[0] <= abs(off) or abs(corner) <= abs(off):
        return None
    stops = [wing - out for out in (*reversed(outs), off)]
    gaps_in = [feet_inches(b - a) for a, b in zip([0.0, *stops], stops, strict=False)]
    return rig.with_(droppers=made), (
        f"The {side} wing is {feet_inches(wing)} from wing end to corner.",
        f"From the wing end it is {gaps_in[0]} to the first dropper.",
        f"On from there, the gaps are {listed(gaps_in[1:])}.",
    )


def spacing(making):
    """The gaps along a wing, the widest of them at the corner, further out or at the end."""
    rng, side = making.rng, making.side()
    count = rng.randint(2, 3)
    at_end = rng.random() < 1 / 3
    worst = making.reading(edge_breaks=at_end)
    sound = min(worst, making.limit)
    gaps = making.beside(worst, count)
    if at_end:
        if not making.broken and worst >= making.limit:
            return None
        rest = worst
    else:
        gaps[rng.randrange(count)] = worst
        rest = rng.randint(6, round(sound / INCH) - 6) * INCH
    # Nothing on the other wing is nearer to the limit, or past it.
    other = [sound - rng.randint(1, 12) * INCH for _ in range(count)]
    wings = {side: (gaps, rest), _other(side): (other, rng.randint(6, 24) * INCH)}
    rig = on_wings(making, wings)
    if making.level == 1:
        told = listed([feet_inches(gap) for gap in gaps])
        return rig, (
            f"On the {side} wing, gaps from the corner out: {told}.",
            f"Past the last dropper, {feet_inches(rest)} is left to the wing end.",
        )
    told = listed([feet_inches(out) for out in accumulate(gaps)])
    return rig, (
        f"The {side} wing is {feet_inches(sum(gaps) + rest)} from corner to wing end.",
        f"From the corner out, droppers hang at {told}.",
    )
