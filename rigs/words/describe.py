"""A rig put into the words that would be spoken over it on deck."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import groupby
from typing import TypeVar

from .gear import (
    SIDES,
    SQUARE,
    Codend,
    Dropper,
    Footrope,
    Grate,
    GroundCable,
    Leg,
    Rig,
    Sweep,
)
from .places import off_center
from .units import INCH, fathoms_and_feet, feet_inches, inches, metric

T = TypeVar("T")

Line = tuple[str, str]
"""A part of the rig and what is told of it."""


def _or_unknown(value: T | None, text: Callable[[T], str]) -> str:
    return "not measured" if value is None else text(value)


def _feet(value: float | None) -> str:
    return _or_unknown(value, feet_inches)


def _fathoms(value: float | None) -> str:
    return _or_unknown(value, fathoms_and_feet)


def _inches(value: float | None) -> str:
    return _or_unknown(value, inches)


def _yes(value: bool | None, yes: str, no: str) -> str:
    if value is None:
        return "not looked at"
    return yes if value else no


def _runs(parts: Iterable[T], same: Callable[[T], object]) -> Iterator[tuple[T, ...]]:
    """Yield runs of neighbouring parts that are alike in ``same``."""
    for _, run in groupby(parts, key=same):
        yield tuple(run)


def _floats(rig: Rig) -> Iterator[Line]:
    if rig.floats is None:
        yield "Floats", "not measured"
        return
    if not rig.floats:
        yield "Floats", "none"
        return
    for run in _runs(rig.floats, lambda each: each.diameter):
        where = off_center(run[0].position)
        if len(run) > 1:
            where += f" through {off_center(run[-1].position)}"
        plural = "s" if len(run) > 1 else ""
        yield "Floats", f"{len(run)} float{plural}, {_inches(run[0].diameter)} across, at {where}"


def _float_spacing(rig: Rig) -> Iterator[Line]:
    floats = rig.floats or ()
    gaps = sorted(
        {
            round((b.position - a.position) / INCH * 16)
            for a, b in zip(floats, floats[1:], strict=False)
        }
    )
    if gaps:
        told = " and ".join(feet_inches(gap / 16 * INCH) for gap in gaps)
        yield "Float spacing", f"{told} from float to float"


def _make(dropper: Dropper, met: Callable[[float, float], str]) -> str:
    """Return a dropper without its place; ``met`` says where it meets the sweep if there is one."""
    text = (
        f"{_inches(dropper.length)} of {_inches(dropper.diameter)} chain"
        f"{', doubled' if dropper.count == 2 else ''}, "
        f"{_yes(dropper.bare, 'bare', 'with weights or wrapping on it')}"
    )
    below = dropper.sweep_position
    return text if below is None else f"{text}, {met(dropper.position, below)}"


def _meets_at(_: float, below: float) -> str:
    # Told alike of one that hangs straight down and one that leans, for the reader to compare.
    return f"meets the sweep at {off_center(below)}"


def _meets_off(above: float, below: float) -> str:
    return f"meets the sweep {inches(abs(below - above))} off straight down"


def _none_of(droppers: Sequence[Dropper] | None) -> str:
    """Return the words for droppers of which there is nothing to tell, empty if there is."""
    return "not measured" if droppers is None else "" if droppers else "none"


def _droppers(rig: Rig) -> Iterator[Line]:
    if nothing := _none_of(rig.droppers):
        yield "Droppers", nothing
    for each in rig.droppers or ():
        text = _make(each, _meets_at)
        yield f"Dropper at {off_center(each.position)}", text


def _makes_of_droppers(rig: Rig) -> Iterator[Line]:
    """Yield how many droppers there are of each make, without saying where."""
    if nothing := _none_of(rig.droppers):
        yield "Droppers", nothing
    makes = Counter(_make(each, _meets_off) for each in rig.droppers or ())
    for text, count in makes.items():
        yield "1 dropper" if count == 1 else f"{count} droppers", text


def _sweep(sweep: Sweep) -> str:
    joined = _yes(
        sweep.joins_with_footrope,
        "on the same shackle as the footrope",
        "on another shackle than the footrope",
    )
    return (
        f"{_inches(sweep.diameter)} chain, {_yes(sweep.bare, 'bare', 'wrapped or with cookies')}, "
        f"{_feet(sweep.port)} to port and {_feet(sweep.starboard)} to starboard of the center; "
        f"joined to the bottom leg {joined}"
    )


def _under_tow(rope: Footrope) -> str:
    return _yes(rope.off_bottom, "footrope clear of the bottom", "footrope touches the bottom")


def _leg_make(leg: Leg) -> str:
    whole = _yes(leg.extended, "an extension in one leg", "no extension")
    return f"{_yes(leg.bare_wire, 'bare', 'covered')}, {whole}"


def _cable_make(cable: GroundCable) -> str:
    return _yes(cable.bare_wire, "bare", "covered with cookies")


def _wires(rig: Rig, side: str) -> Iterator[Line]:
    name = side.capitalize()
    for leg in (leg for leg in rig.legs if leg.side == side):
        yield (
            f"{name} legs",
            f"top {_fathoms(leg.top_length)} of {_inches(leg.top_diameter)} wire, "
            f"bottom {_fathoms(leg.bottom_length)} of {_inches(leg.bottom_diameter)} wire, "
            f"{_leg_make(leg)}",
        )
    for cable in (cable for cable in rig.ground_cables if cable.side == side):
        yield (
            f"{name} ground cable",
            f"{_fathoms(cable.length)} of {_inches(cable.diameter)} wire, {_cable_make(cable)}",
        )


def _makes_of_wires(rig: Rig, side: str) -> Iterator[Line]:
    """Yield what covers the wires of a side or lengthens them, without their sizes."""
    name = side.capitalize()
    for leg in (leg for leg in rig.legs if leg.side == side):
        yield f"{name} legs", _leg_make(leg)
    for cable in (cable for cable in rig.ground_cables if cable.side == side):
        yield f"{name} ground cable", _cable_make(cable)


def _grate(grate: Grate) -> str:
    return (
        f"{_yes(grate.stiff, 'rigid', 'bends')}, "
        f"bars {_or_unknown(grate.bar_gap, metric)} apart, "
        f"{_inches(grate.width)} wide, outlet {_inches(grate.outlet_width)} wide, "
        f"{_yes(grate.ahead_of_codend, 'forward', 'not forward')} of the codend"
    )


def _top(codend: Codend) -> str:
    if codend.top_clear is None:
        return "top half not looked at"
    return "top half clear" if codend.top_clear else "ropes and chafing gear across the top half"


def _meshes(codend: Codend) -> str:
    if codend.mesh_clear is None:
        return "knots not looked at"
    return "no mesh blocked" if codend.mesh_clear else "bars twisted around each other at the knots"


def _behind(rig: Rig) -> Iterator[Line]:
    """Yield what is told of the vessel, the codend and the grate, and what was also noted."""
    if rig.vessel_length is not None:
        yield "Vessel", f"{feet_inches(rig.vessel_length)} long"
    if rig.codend is not None:
        unit = "bars of square mesh" if rig.codend.hanging == SQUARE else "meshes"
        yield (
            "Codend",
            f"{_inches(rig.codend.mesh)} mesh over "
            f"{_or_unknown(rig.codend.counted, str)} {unit} from the terminus, "
            f"{_top(rig.codend)}, {_meshes(rig.codend)}",
        )
    if rig.grate is not None:
        yield "Grate", _grate(rig.grate)
    for each in rig.noted or ():
        yield "Besides", each.words or f"{each.what}: {_yes(each.is_so, 'yes', 'no')}"


def describe(rig: Rig) -> list[Line]:
    """
    Return the rig as a list of (part, text) lines, from the floats to the codend.

    Like neighbours are told in one line; lengths are in feet and inches.
    """
    rope = rig.footrope
    lines = [
        ("Headrope", _feet(rig.headrope.length)),
        ("Footrope", f"{feet_inches(rope.length)} in all"),
        ("Bosom", f"{feet_inches(rope.bosom)} from corner to corner"),
        ("Port wing", feet_inches(rope.port_wing)),
        ("Starboard wing", feet_inches(rope.starboard_wing)),
        ("Under tow", _under_tow(rope)),
        *_floats(rig),
        *_float_spacing(rig),
        *_droppers(rig),
        ("Sweep", "none" if rig.sweep is None else _sweep(rig.sweep)),
    ]
    for side in SIDES:
        lines += _wires(rig, side)
    return [*lines, *_behind(rig)]


def describe_beside_drawings(rig: Rig) -> list[Line]:
    """
    Return the (part, text) lines that the plan of the mouth and the view of the wires leave out.

    With ``drawing.plan.plan_view`` and ``drawing.legs.legs_view`` they tell the whole rig.
    """
    lines = [
        ("Under tow", _under_tow(rig.footrope)),
        *_floats(rig),
        *_makes_of_droppers(rig),
        ("Sweep", "none" if rig.sweep is None else _sweep(rig.sweep)),
    ]
    for side in SIDES:
        lines += _makes_of_wires(rig, side)
    return [*lines, *_behind(rig)]
