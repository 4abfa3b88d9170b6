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
from .say import gettext as _
from .units import INCH, fathoms_and_feet, feet_inches, inches, metric

T = TypeVar("T")

Line = tuple[str, str]
"""A part of the rig and what is told of it."""


def _or_unknown(value: T | None, text: Callable[[T], str]) -> str:
    return _("not measured") if value is None else text(value)


def _feet(value: float | None) -> str:
    return _or_unknown(value, feet_inches)


def _fathoms(value: float | None) -> str:
    return _or_unknown(value, fathoms_and_feet)


def _inches(value: float | None) -> str:
    return _or_unknown(value, inches)


def _yes(value: bool | None, yes: str, no: str) -> str:
    if value is None:
        return _("not looked at")
    return yes if value else no


def _runs(parts: Iterable[T], same: Callable[[T], object]) -> Iterator[tuple[T, ...]]:
    """Yield runs of neighbouring parts that are alike in ``same``."""
    for __, run in groupby(parts, key=same):
        yield tuple(run)


def _floats(rig: Rig) -> Iterator[Line]:
    if rig.floats is None:
        yield _("Floats"), _("not measured")
        return
    if not rig.floats:
        yield _("Floats"), "none"
        return
    for run in _runs(rig.floats, lambda each: each.diameter):
        where = off_center(run[0].position)
        if len(run) > 1:
            where += _(" through {off_center}").format(off_center=off_center(run[-1].position))
        plural = "s" if len(run) > 1 else ""
        yield (
            _("Floats"),
            _("{run} float{plural}, {inches} across, at {where}").format(
                run=len(run), plural=plural, inches=_inches(run[0].diameter), where=where
            ),
        )


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
        yield _("Float spacing"), _("{told} from float to float").format(told=told)


def _make(dropper: Dropper, met: Callable[[float, float], str]) -> str:
    """Return a dropper without its place; ``met`` says where it meets the sweep if there is one."""
    text = _("{inches} of {inches2} chain{value}, {yes}").format(
        inches=_inches(dropper.length),
        inches2=_inches(dropper.diameter),
        value=", doubled" if dropper.count == 2 else "",
        yes=_yes(dropper.bare, "bare", _("with weights or wrapping on it")),
    )
    below = dropper.sweep_position
    return text if below is None else f"{text}, {met(dropper.position, below)}"


def _meets_at(__: float, below: float) -> str:
    # Told alike of one that hangs straight down and one that leans, for the reader to compare.
    return _("meets the sweep at {off_center}").format(off_center=off_center(below))


def _meets_off(above: float, below: float) -> str:
    return _("meets the sweep {inches} off straight down").format(inches=inches(abs(below - above)))


def _none_of(droppers: Sequence[Dropper] | None) -> str:
    """Return the words for droppers of which there is nothing to tell, empty if there is."""
    return _("not measured") if droppers is None else "" if droppers else "none"


def _droppers(rig: Rig) -> Iterator[Line]:
    if nothing := _none_of(rig.droppers):
        yield _("Droppers"), nothing
    for each in rig.droppers or ():
        text = _make(each, _meets_at)
        yield _("Dropper at {off_center}").format(off_center=off_center(each.position)), text


def _makes_of_droppers(rig: Rig) -> Iterator[Line]:
    """Yield how many droppers there are of each make, without saying where."""
    if nothing := _none_of(rig.droppers):
        yield _("Droppers"), nothing
    makes = Counter(_make(each, _meets_off) for each in rig.droppers or ())
    for text, count in makes.items():
        yield "1 dropper" if count == 1 else _("{count} droppers").format(count=count), text


def _sweep(sweep: Sweep) -> str:
    joined = _yes(
        sweep.joins_with_footrope,
        _("on the same shackle as the footrope"),
        _("on another shackle than the footrope"),
    )
    return _(
        "{inches} chain, {yes}, {feet} to port and {feet2} to starboard of the center; "
        "joined to the bottom leg {joined}"
    ).format(
        inches=_inches(sweep.diameter),
        yes=_yes(sweep.bare, "bare", _("wrapped or with cookies")),
        feet=_feet(sweep.port),
        feet2=_feet(sweep.starboard),
        joined=joined,
    )


def _under_tow(rope: Footrope) -> str:
    return _yes(
        rope.off_bottom, _("footrope clear of the bottom"), _("footrope touches the bottom")
    )


def _leg_make(leg: Leg) -> str:
    whole = _yes(leg.extended, _("an extension in one leg"), _("no extension"))
    return f"{_yes(leg.bare_wire, 'bare', 'covered')}, {whole}"


def _cable_make(cable: GroundCable) -> str:
    return _yes(cable.bare_wire, "bare", _("covered with cookies"))


def _wires(rig: Rig, side: str) -> Iterator[Line]:
    name = side.capitalize()
    for leg in (leg for leg in rig.legs if leg.side == side):
        yield (
            _("{name} legs").format(name=name),
            _(
                "top {fathoms} of {inches} wire, bottom {fathoms2} of {inches2} wire, {leg_make}"
            ).format(
                fathoms=_fathoms(leg.top_length),
                inches=_inches(leg.top_diameter),
                fathoms2=_fathoms(leg.bottom_length),
                inches2=_inches(leg.bottom_diameter),
                leg_make=_leg_make(leg),
            ),
        )
    for cable in (cable for cable in rig.ground_cables if cable.side == side):
        yield (
            _("{name} ground cable").format(name=name),
            _("{fathoms} of {inches} wire, {cable_make}").format(
                fathoms=_fathoms(cable.length),
                inches=_inches(cable.diameter),
                cable_make=_cable_make(cable),
            ),
        )


def _makes_of_wires(rig: Rig, side: str) -> Iterator[Line]:
    """Yield what covers the wires of a side or lengthens them, without their sizes."""
    name = side.capitalize()
    for leg in (leg for leg in rig.legs if leg.side == side):
        yield _("{name} legs").format(name=name), _leg_make(leg)
    for cable in (cable for cable in rig.ground_cables if cable.side == side):
        yield _("{name} ground cable").format(name=name), _cable_make(cable)


def _grate(grate: Grate) -> str:
    return _(
        "{yes}, bars {or_unknown} apart, {inches} wide, outlet {inches2} wide, {yes2} of the codend"
    ).format(
        yes=_yes(grate.stiff, "rigid", "bends"),
        or_unknown=_or_unknown(grate.bar_gap, metric),
        inches=_inches(grate.width),
        inches2=_inches(grate.outlet_width),
        yes2=_yes(grate.ahead_of_codend, "forward", _("not forward")),
    )


def _top(codend: Codend) -> str:
    if codend.top_clear is None:
        return _("top half not looked at")
    return (
        _("top half clear") if codend.top_clear else _("ropes and chafing gear across the top half")
    )


def _meshes(codend: Codend) -> str:
    if codend.mesh_clear is None:
        return _("knots not looked at")
    return (
        _("no mesh blocked")
        if codend.mesh_clear
        else _("bars twisted around each other at the knots")
    )


def _behind(rig: Rig) -> Iterator[Line]:
    """Yield what is told of the vessel, the codend and the grate, and what was also noted."""
    if rig.vessel_length is not None:
        yield (
            _("Vessel"),
            _("{feet_inches} long").format(feet_inches=feet_inches(rig.vessel_length)),
        )
    if rig.codend is not None:
        unit = _("bars of square mesh") if rig.codend.hanging == SQUARE else "meshes"
        yield (
            _("Codend"),
            _("{inches} mesh over {or_unknown} {unit} from the terminus, {top}, {meshes}").format(
                inches=_inches(rig.codend.mesh),
                or_unknown=_or_unknown(rig.codend.counted, str),
                unit=unit,
                top=_top(rig.codend),
                meshes=_meshes(rig.codend),
            ),
        )
    if rig.grate is not None:
        yield _("Grate"), _grate(rig.grate)
    for each in rig.noted or ():
        yield _("Besides"), each.words or f"{each.what}: {_yes(each.is_so, 'yes', 'no')}"


def describe(rig: Rig) -> list[Line]:
    """
    Return the rig as a list of (part, text) lines, from the floats to the codend.

    Like neighbours are told in one line; lengths are in feet and inches.
    """
    rope = rig.footrope
    lines = [
        (_("Headrope"), _feet(rig.headrope.length)),
        (_("Footrope"), _("{feet_inches} in all").format(feet_inches=feet_inches(rope.length))),
        (
            _("Bosom"),
            _("{feet_inches} from corner to corner").format(feet_inches=feet_inches(rope.bosom)),
        ),
        (_("Port wing"), feet_inches(rope.port_wing)),
        (_("Starboard wing"), feet_inches(rope.starboard_wing)),
        (_("Under tow"), _under_tow(rope)),
        *_floats(rig),
        *_float_spacing(rig),
        *_droppers(rig),
        (_("Sweep"), "none" if rig.sweep is None else _sweep(rig.sweep)),
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
        (_("Under tow"), _under_tow(rig.footrope)),
        *_floats(rig),
        *_makes_of_droppers(rig),
        (_("Sweep"), "none" if rig.sweep is None else _sweep(rig.sweep)),
    ]
    for side in SIDES:
        lines += _makes_of_wires(rig, side)
    return [*lines, *_behind(rig)]
