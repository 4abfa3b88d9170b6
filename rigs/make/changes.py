"""
Changes to a rig, each a function that returns the changed rig.

None of them asks whether the change is legal or wise: that is for the judge and for
whoever proposes it. Lengths are metres.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import TypeVar

from rigs.requirements import layout
from rigs.rules.rulebook import Rulebook
from rigs.words.gear import PORT, Dropper, Float, Headrope, Leg, Rig
from rigs.words.say import gettext as _
from rigs.words.units import INCH, ROUNDING

TOP, BOTTOM = "top", "bottom"
"""Which of a side's two legs."""

T = TypeVar("T")


def commonest(values: Iterable[T | None]) -> T | None:
    """Return the value met most often, None left out; None if there is none."""
    known = Counter(value for value in values if value is not None)
    return known.most_common(1)[0][0] if known else None


def _on_side(position: float, side: str | None) -> bool:
    return side is None or (position < 0) == (side == PORT) or abs(position) <= ROUNDING


def _widest_gap(stops: Sequence[float], side: str | None) -> tuple[float, float]:
    """Return the widest gap of ``stops`` lying on ``side``, the one nearest the center first."""
    gaps = [
        (a, b)
        for a, b in zip(stops, stops[1:], strict=False)
        if _on_side(a, side) and _on_side(b, side)
    ]
    # Gaps that differ by less than a millimetre are one width to a tape measure.
    return min(gaps, key=lambda gap: (round(gap[0] - gap[1], 3), abs(gap[0] + gap[1])))


def _halved(
    positions: Iterable[float], ends: tuple[float, float], extra: int, side: str | None
) -> list[float]:
    """Return ``extra`` new places, each in the middle of the widest gap left, to the inch."""
    placed = sorted(positions)
    new = []
    for __ in range(extra):
        start, end = _widest_gap(sorted({ends[0], *placed, ends[1]}), side)
        place = round((start + end) / 2 / INCH) * INCH
        new.append(place)
        placed = sorted([*placed, place])
    return new


def more_floats(rig: Rig, extra: int, side: str | None = None) -> Rig:
    """
    Return ``rig`` with ``extra`` more floats of the size most of them have.

    Over the whole headrope all floats are spaced evenly anew; on one ``side`` each new
    float goes in the middle of the widest gap there. Raise ValueError where floats or
    headrope were not measured.
    """
    hung, length = rig.floats or (), rig.headrope.length
    size = commonest(each.diameter for each in hung)
    if size is None or length is None:
        raise ValueError(_("The floats or the headrope were not measured."))
    if side is None:
        sizes = [each.diameter for each in sorted(hung, key=lambda each: each.position)]
        middle = len(sizes) // 2
        sizes[middle:middle] = [size] * extra
        return rig.with_(floats=_evenly(length, sizes))
    new = _halved([each.position for each in hung], (-length / 2, length / 2), extra, side)
    added = [*hung, *(Float(place, size) for place in new)]
    return rig.with_(floats=tuple(sorted(added, key=lambda each: each.position)))


def _evenly(length: float, sizes: Sequence[float | None]) -> tuple[Float, ...]:
    """Return floats of ``sizes`` from end to end of a headrope of ``length``; one at its center."""
    gaps = len(sizes) - 1
    return tuple(
        Float(length * (i / gaps - 0.5) if gaps else 0.0, size) for i, size in enumerate(sizes)
    )


def fewer_floats(rig: Rig, fewer: int) -> Rig:
    """
    Return ``rig`` with ``fewer`` floats less, those left spaced evenly anew.

    They are taken from the middle. Raise ValueError where there are not as many, or where the
    headrope was not measured.
    """
    hung, length = rig.floats or (), rig.headrope.length
    if length is None or fewer > len(hung):
        raise ValueError(_("The net has only {count} floats.").format(count=len(hung)))
    sizes = [each.diameter for each in sorted(hung, key=lambda each: each.position)]
    middle = (len(sizes) - fewer) // 2
    del sizes[middle : middle + fewer]
    return rig.with_(floats=_evenly(length, sizes))


def over_footrope(rig: Rig) -> tuple[float, ...]:
    """
    Return the places along the headrope of ``rig`` over five of its footrope, port to starboard.

    They are over its wing ends, corners and center, each as far out on its half of the headrope
    as that is on its half of the footrope. Raise ValueError where the headrope was not measured.
    """
    if rig.headrope.length is None:
        raise ValueError(_("The headrope was not measured."))
    rope, half = rig.footrope, rig.headrope.length / 2
    return (
        -half,
        -half * rope.port_corner / rope.port_end,
        0.0,
        half * rope.starboard_corner / rope.starboard_end,
        half,
    )


def floats_at(rig: Rig, place: float, extra: int) -> Rig:
    """
    Return ``rig`` with ``extra`` more floats ``place`` metres along the headrope from its center.

    They are of the size that most have. They and those that are in their way lie side by side,
    as close as they come, with their middle at ``place``, or as near to it as the rope's end
    lets them. All others stay. Raise ValueError where floats or headrope were not measured.
    """
    hung, length = rig.floats or (), rig.headrope.length
    size = commonest(each.diameter for each in hung)
    if size is None or length is None:
        raise ValueError(_("The floats or the headrope were not measured."))
    moved: list[Float] = []
    while True:
        count = len(moved) + extra
        out = max(length - (count - 1) * size, 0.0) / 2
        middle = max(-out, min(out, place))
        # As wide as count of them are, and half of the one that would be beside them.
        in_the_way = [
            each
            for each in hung
            if each in moved or abs(each.position - middle) < (count + 1) * size / 2 - ROUNDING
        ]
        if in_the_way == moved:
            break
        moved = in_the_way
    sizes = [*(each.diameter for each in moved), *[size] * extra]
    beside = [Float(middle + (i - (count - 1) / 2) * size, each) for i, each in enumerate(sizes)]
    stays = [each for each in hung if each not in moved]
    return rig.with_(floats=tuple(sorted([*stays, *beside], key=lambda each: each.position)))


def _like_its_neighbor(droppers: Iterable[Dropper], place: float) -> Dropper:
    """Return a dropper for ``place`` of the make of the nearest one."""
    near = min(droppers, key=lambda each: abs(each.position - place))
    joined = None if near.sweep_position is None else place
    return replace(near, position=place, sweep_position=joined)


def _with_droppers(rig: Rig, places: Iterable[float]) -> Rig:
    hung = rig.droppers or ()
    added = [*hung, *(_like_its_neighbor(hung, place) for place in places)]
    return rig.with_(droppers=tuple(sorted(added, key=lambda each: each.position)))


def more_droppers(rig: Rig, extra: int, side: str | None = None) -> Rig:
    """
    Return ``rig`` with ``extra`` more droppers, each in the middle of the widest gap left.

    Each is of the make of its nearest neighbor; with ``side`` all go on that side.
    Raise ValueError if the rig's droppers were not measured.
    """
    if not rig.droppers:
        raise ValueError(_("The droppers were not measured."))
    rope = rig.footrope
    places = [each.position for each in rig.droppers]
    return _with_droppers(rig, _halved(places, (rope.port_end, rope.starboard_end), extra, side))


def longer_headrope(rig: Rig, extra: float, floats: int) -> Rig:
    """
    Return ``rig`` with ``extra`` metres more headrope and ``floats`` more floats.

    All floats are spaced evenly anew. Raise ValueError where floats or headrope were
    not measured.
    """
    if rig.headrope.length is None:
        raise ValueError(_("The headrope was not measured."))
    return more_floats(rig.with_(headrope=Headrope(rig.headrope.length + extra)), floats)


def longer_leg(rig: Rig, side: str | None, which: str, extra: float) -> Rig:
    """
    Return ``rig`` with ``extra`` metres more TOP or BOTTOM leg on ``side``; None is both sides.

    Raise ValueError where such a leg was not measured.
    """
    part = f"{which}_length"

    def changed(leg: Leg) -> Leg:
        return replace(leg, **{part: getattr(leg, part) + extra})

    meant = [leg for leg in rig.legs if side in (None, leg.side)]
    if not meant or any(getattr(leg, part) is None for leg in meant):
        raise ValueError(_("The legs were not measured."))
    return rig.with_(legs=tuple(changed(leg) if leg in meant else leg for leg in rig.legs))


def longer_footrope(rig: Rig, extra: float, rulebook: Rulebook) -> Rig:
    """
    Return ``rig`` with ``extra`` metres more footrope, half at each wing.

    Droppers are hung wherever ``rulebook`` then asks for one that is not there, and a
    sweep grows by as much as the footrope. Raise ValueError if the droppers were not
    measured.
    """
    if not rig.droppers:
        raise ValueError(_("The droppers were not measured."))
    rope = replace(
        rig.footrope,
        port_wing=rig.footrope.port_wing + extra / 2,
        starboard_wing=rig.footrope.starboard_wing + extra / 2,
    )
    hung = [each.position for each in rig.droppers]
    wanted = [
        place.position
        for place in layout.dropper_places(rope, rulebook)
        if min(abs(place.position - at) for at in hung) > INCH
    ]
    sweep = rig.sweep
    if sweep is not None:
        port, starboard = (
            None if half is None else half + extra / 2 for half in (sweep.port, sweep.starboard)
        )
        sweep = replace(sweep, port=port, starboard=starboard)
    return _with_droppers(rig.with_(footrope=rope, sweep=sweep), wanted)
