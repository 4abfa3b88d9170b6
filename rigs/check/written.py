"""What a careful officer would write on a sheet about a given rig."""

from rigs.requirements.measures import MEASURES, Between
from rigs.words.gear import PORT, SIDES, SQUARE, STARBOARD
from rigs.words.units import fathoms, feet_inches, inches, trimmed

from .entry import NO, YES, read
from .steps import COUNT, FLAG, QUESTIONS

_PRINTERS = {
    "fm": fathoms,
    "ft": feet_inches,
    "in": inches,
    "mm": lambda metres: f"{trimmed(metres * 1000, 1)} mm",
}


def _known(values):
    return [value for value in values if value is not None and not isinstance(value, Between)]


def _all(values):
    values = list(values)
    if False in values:
        return False
    return None if None in values or not values else True


def _wing(rig, side):
    """Return (widest gap, stretch left at the wing end) in metres, None if nobody looked."""
    readings = MEASURES["dropper_spacing"].read(rig)
    if readings is None:
        return None, None
    gaps = [(gap, spot[3]) for gap, spot in zip(*readings, strict=True) if spot[0] == side]
    return max(gap for gap, _ in gaps), next(gap for gap, last in gaps if last)


def _sweep_last(rig, side, left_over):
    readings = MEASURES["sweep_wing_excess"].read(rig)
    values = readings[0] if readings else ()
    known = _known([values[SIDES.index(side)]] if values else [])
    return left_over + known[0] if known else None


def _worst(key, rig, pick):
    readings = MEASURES[key].read(rig)
    values = _known(readings[0]) if readings else []
    return pick(values) if values else None


def _meshes(codend):
    """Return how many meshes were counted: two bars of square mesh make one."""
    if codend.counted is None:
        return None
    return codend.counted / 2 if codend.hanging == SQUARE else codend.counted


def _side(rig, side):
    leg = next((each for each in rig.legs if each.side == side), None)
    cable = next((each for each in rig.ground_cables if each.side == side), None)
    gap, last = _wing(rig, side)
    corners = MEASURES["dropper_at_corners"].read(rig)
    found = {
        "gap": gap,
        "last": last,
        "sweep_last": _sweep_last(rig, side, last),
        "wing": rig.footrope.wing(side),
        "corner_off": corners[0][SIDES.index(side)] if corners and corners[0] else None,
        "sweep": rig.sweep and rig.sweep.half(side),
    }
    if leg is not None:
        found |= {
            "extended": leg.extended,
            "top_leg": leg.top_length,
            "bottom_leg": leg.bottom_length,
            "top_wire": leg.top_diameter,
            "bottom_wire": leg.bottom_diameter,
        }
    if cable is not None:
        found |= {"cable": cable.length, "cable_wire": cable.diameter}
    if leg is not None and cable is not None:
        found["wire_bare"] = _all((leg.bare_wire, cable.bare_wire))
    return {f"{side}_{name}": value for name, value in found.items()}


def measures(rig):
    """Return the answers, SI by question's name, that ``rig`` gives; what is unknown is out."""
    found = _side(rig, PORT) | _side(rig, STARBOARD)
    found |= {
        "center_off": _worst("dropper_at_centre", rig, min),
        "bosom": rig.footrope.bosom,
        "off_bottom": rig.footrope.off_bottom,
        "droppers": None if rig.droppers is None else bool(rig.droppers),
        "dropper_bare": _all(each.bare for each in rig.droppers or ()),
        "dropper_chain": _worst("dropper_stock", rig, max),
        "dropper_length": _worst("dropper_length", rig, min),
        "lean": _worst("sweep_attachment", rig, max),
        "sweep": rig.sweep is not None,
        "headrope": rig.headrope.length,
        "float_size": _worst("float_diameter", rig, min),
        "float_gap": _worst("float_spacing", rig, max),
        "vessel_length": rig.vessel_length,
    }
    if rig.sweep is not None:
        found |= {
            "sweep_bare": rig.sweep.bare,
            "sweep_joins": rig.sweep.joins_with_footrope,
            "sweep_chain": rig.sweep.diameter,
        }
    if rig.codend is not None:
        found |= {
            "mesh": rig.codend.mesh,
            "mesh_count": _meshes(rig.codend),
            "top_clear": rig.codend.top_clear,
            "mesh_clear": rig.codend.mesh_clear,
        }
    found["grate_ahead"] = rig.grate is not None and rig.grate.ahead_of_codend
    if rig.grate is not None:
        found |= {
            "grate_stiff": rig.grate.stiff,
            "bar_gap": rig.grate.bar_gap,
            "grate_width": rig.grate.width,
            "outlet_width": rig.grate.outlet_width,
        }
    return {name: value for name, value in found.items() if value is not None}


def _text(question, value):
    if question.sort == FLAG:
        return YES if value else NO
    if question.sort == COUNT:
        return trimmed(value, 0) if value == int(value) else f"{trimmed(value * 2, 0)} bars"
    return _PRINTERS[question.bare](max(value, 0.0))


def typed(rig):
    """
    Return the answers as they would be written down, by question's name.

    A tape shows sixteenths of an inch, so that what lies between is rounded. An officer is
    sure of what few nets have.
    """
    told = {name: _text(QUESTIONS[name], value) for name, value in measures(rig).items()}
    return told | {QUESTIONS[name].sure: told[name] for name in read(told).unlikely}
