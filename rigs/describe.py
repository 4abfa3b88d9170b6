"""A rig put into the words that would be spoken over it on deck."""

from itertools import groupby

from .gear import SIDES, SQUARE
from .places import off_centre
from .units import INCH, fathoms, feet_inches, inches, metric


def _or_unknown(value, text):
    return "not measured" if value is None else text(value)


def _feet(value):
    return _or_unknown(value, feet_inches)


def _inches(value):
    return _or_unknown(value, inches)


def _yes(value, yes, no):
    if value is None:
        return "not looked at"
    return yes if value else no


def _runs(parts, same):
    """Yield runs of neighbouring parts that are alike in ``same``."""
    for _, run in groupby(parts, key=same):
        yield tuple(run)


def _floats(rig):
    if rig.floats is None:
        yield "Floats", "not measured"
        return
    if not rig.floats:
        yield "Floats", "none"
        return
    for run in _runs(rig.floats, lambda each: each.diameter):
        where = off_centre(run[0].position)
        if len(run) > 1:
            where += f" through {off_centre(run[-1].position)}"
        plural = "s" if len(run) > 1 else ""
        yield "Floats", f"{len(run)} float{plural}, {_inches(run[0].diameter)} across, at {where}"
    gaps = sorted(
        {
            round((b.position - a.position) / INCH * 16)
            for a, b in zip(rig.floats, rig.floats[1:], strict=False)
        }
    )
    if gaps:
        told = " and ".join(feet_inches(gap / 16 * INCH) for gap in gaps)
        yield "Float spacing", f"{told} from float to float"


def _droppers(rig):
    if rig.droppers is None:
        yield "Droppers", "not measured"
        return
    if not rig.droppers:
        yield "Droppers", "none"
        return
    for each in rig.droppers:
        text = (
            f"{_inches(each.length)} of {_inches(each.diameter)} chain"
            f"{', doubled' if each.count == 2 else ''}, "
            f"{_yes(each.bare, 'bare', 'with weights or wrapping on it')}"
        )
        if each.sweep_position is not None:
            if abs(each.sweep_position - each.position) < INCH / 32:
                text += ", hung square to the sweep"
            else:
                text += f", meets the sweep {off_centre(each.sweep_position)}"
        yield f"Dropper at {off_centre(each.position)}", text


def _sweep(sweep):
    joined = _yes(sweep.joins_with_footrope, "where the footrope is", "apart from the footrope")
    return (
        f"{_inches(sweep.diameter)} chain, {_yes(sweep.bare, 'bare', 'wrapped or with cookies')}, "
        f"{_feet(sweep.port)} to port and {_feet(sweep.starboard)} to starboard of the centre; "
        f"joined to the bottom leg {joined}"
    )


def _wires(rig, side):
    name = side.capitalize()
    for leg in (leg for leg in rig.legs if leg.side == side):
        whole = _yes(leg.extended, "an extension in one leg", "no extension")
        yield (
            f"{name} legs",
            f"top {_feet(leg.top_length)} of {_inches(leg.top_diameter)} wire, "
            f"bottom {_feet(leg.bottom_length)} of {_inches(leg.bottom_diameter)} wire, "
            f"{_yes(leg.bare_wire, 'bare', 'covered')}, {whole}",
        )
    for cable in (cable for cable in rig.ground_cables if cable.side == side):
        yield (
            f"{name} ground cable",
            f"{_or_unknown(cable.length, fathoms)} of {_inches(cable.diameter)} wire, "
            f"{_yes(cable.bare_wire, 'bare', 'covered with cookies')}",
        )


def _grate(grate):
    return (
        f"{_yes(grate.stiff, 'rigid', 'gives way')}, "
        f"bars {_or_unknown(grate.bar_gap, metric)} apart, "
        f"{_inches(grate.width)} wide, outlet {_inches(grate.outlet_width)} wide, "
        f"{_yes(grate.ahead_of_codend, 'forward', 'not forward')} of the codend"
    )


def describe(rig):
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
        (
            "Under tow",
            _yes(rope.off_bottom, "footrope clear of the bottom", "footrope touches the bottom"),
        ),
    ]
    lines += _floats(rig)
    lines += _droppers(rig)
    lines.append(("Sweep", "none" if rig.sweep is None else _sweep(rig.sweep)))
    for side in SIDES:
        lines += _wires(rig, side)
    if rig.vessel_length is not None:
        lines.append(("Vessel", f"{feet_inches(rig.vessel_length)} long"))
    if rig.codend is not None:
        unit = "bars, hung square" if rig.codend.hanging == SQUARE else "meshes"
        lines.append(
            (
                "Codend",
                f"{_inches(rig.codend.mesh)} mesh over "
                f"{_or_unknown(rig.codend.counted, str)} {unit} from the terminus",
            )
        )
    if rig.grate is not None:
        lines.append(("Grate", _grate(rig.grate)))
    return lines
