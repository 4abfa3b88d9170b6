"""The net as it will be: sweep off, droppers and floats where the rules want them."""

from dataclasses import dataclass, replace
from typing import NamedTuple

from .. import chain, layout
from ..gear import Float
from ..judge import PASS
from ..places import off_centre
from ..rulebook import ROUNDING
from ..units import INCH

TAPE = INCH / 16
"""What a tape on deck can tell apart, in metres (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Choices:
    """
    What the owner chooses to hang, in metres.

    ``chain`` is the nominal size of the droppers' chain, ``count`` how many hang side
    by side (1 or 2), ``length`` how long they are, ``float_size`` the diameter of any
    float that must be bought.
    """

    chain: float
    count: int
    length: float
    float_size: float


class Placement(NamedTuple):
    """
    Where one dropper goes: its name on deck and distances in metres.

    ``position`` is signed from the centre, negative to port; the other two are how far
    it lies from each corner. ``stays`` says that a good dropper hangs there already.
    """

    name: str
    position: float
    from_port_corner: float
    from_starboard_corner: float
    stays: bool

    @property
    def from_centre(self):
        """Metres from the centre, whichever the side."""
        return abs(self.position)

    @property
    def short(self):
        """The name without the distance, for a table that tells it beside."""
        return self.name.partition(",")[0]


def chain_options(rulebook):
    """Return the Stocks of chain that ``rulebook`` lets droppers be made of, lightest first."""
    limit = rulebook.requirement("dropper_stock").limit
    return tuple(s for s in chain.STOCKS.values() if s.size <= limit + ROUNDING)


def default_choices(rig, rulebook):
    """
    Return the Choices to start from.

    The present droppers' own make if they are all alike and the rules allow it, so that
    they can stay; else the heaviest chain and the shortest length that the rules allow.
    """
    stock = rulebook.requirement("dropper_stock").limit
    length = rulebook.requirement("dropper_length").limit
    size = rulebook.requirement("float_diameter").limit
    makes = {(each.diameter, each.count, each.length) for each in rig.droppers or ()}
    if len(makes) == 1:
        now_chain, now_count, now_length = makes.pop()
        if (
            now_chain is not None
            and now_length is not None
            and now_chain <= stock + ROUNDING
            and now_length >= length - ROUNDING
        ):
            return Choices(now_chain, now_count, now_length, size)
    return Choices(stock, 1, length, size)


def _is_made_so(dropper, choices):
    """Return whether ``dropper`` is known to be bare and of the make chosen."""
    return (
        dropper.bare is True
        and dropper.count == choices.count
        and dropper.diameter is not None
        and abs(dropper.diameter - choices.chain) <= TAPE / 2
        and dropper.length is not None
        and abs(dropper.length - choices.length) <= TAPE
    )


def _stays(dropper, place, choices):
    """Return whether ``dropper``, as it hangs now, is the one wanted at ``place``."""
    return abs(dropper.position - place.position) <= TAPE and _is_made_so(dropper, choices)


def droppers_stay(rig, choices, verdict):
    """
    Return whether the droppers of ``rig`` can stay just as they are, extra ones included.

    So they can on a net without a sweep that keeps every rule on droppers, as long as
    all are of the make chosen: more droppers than required are nobody's fault.
    """
    return (
        rig.sweep is None
        and bool(rig.droppers)
        and all(_is_made_so(each, choices) for each in rig.droppers)
        and not any(
            finding.key.startswith("dropper_") and finding.outcome != PASS
            for finding in verdict.findings
        )
    )


def placements(rig, rulebook, choices, verdict):
    """
    Return the Placement of every dropper of the plan, port to starboard.

    One at every place that ``rulebook`` asks for, and whatever else is there and may
    stay. ``verdict`` is that on the rig as it is.
    """
    rope = rig.footrope
    places = list(layout.dropper_places(rope, rulebook))
    if droppers_stay(rig, choices, verdict):
        wanted = [place.position for place in places]
        places += [
            layout.Place(each.position, off_centre(each.position))
            for each in rig.droppers
            if all(abs(each.position - position) > TAPE for position in wanted)
        ]
    return tuple(
        Placement(
            place.name,
            place.position,
            abs(place.position - rope.port_corner),
            abs(place.position - rope.starboard_corner),
            any(_stays(each, place, choices) for each in rig.droppers or ()),
        )
        for place in sorted(places)
    )


def usable_floats(rig, rulebook):
    """Return the present floats that are known to be large enough to stay."""
    limit = rulebook.requirement("float_diameter").limit
    return tuple(
        each
        for each in rig.floats or ()
        if each.diameter is not None and each.diameter >= limit - ROUNDING
    )


def floats_stay(rig, verdict):
    """Return whether the floats keep every rule as they are and need no touch."""
    return bool(rig.floats) and all(
        verdict.finding(key).outcome == PASS for key in ("float_diameter", "float_spacing")
    )


def planned_floats(rig, rulebook, choices):
    """
    Return the floats as they will be, or None if the headrope was not measured.

    Every present float that is large enough stays in use, the largest nearest the
    centre; new ones make up the number, and all are spaced evenly, ends covered.
    """
    if rig.headrope.length is None:
        return None
    kept = sorted((each.diameter for each in usable_floats(rig, rulebook)), reverse=True)
    needed = layout.float_positions(rig.headrope.length, rulebook)
    count = max(len(needed), len(kept))
    sizes = kept + [choices.float_size] * (count - len(kept))
    places = [rig.headrope.length * (i / (count - 1) - 0.5) for i in range(count)]
    inmost = sorted(range(count), key=lambda i: abs(places[i]))
    size_at = dict(zip(inmost, sizes, strict=True))
    return tuple(Float(places[i], size_at[i]) for i in range(count))


def planned_rig(rig, rulebook, choices, verdict):
    """
    Return ``rig`` as it will be once the plan is carried out.

    ``verdict`` is that on the rig as it is. The sweep is off, the droppers hang where
    ``rulebook`` wants them and the floats are spaced. The footrope counts as off the
    bottom, since it hangs on droppers alone; the first tow's shine has to prove it.
    Ropes, wires, codend and grate are left as they are.
    """
    hung = rig.droppers
    if not droppers_stay(rig, choices, verdict):
        hung = layout.droppers(rig.footrope, rulebook, choices.length, choices.chain, choices.count)
    floats = rig.floats if floats_stay(rig, verdict) else planned_floats(rig, rulebook, choices)
    return rig.with_(
        sweep=None,
        droppers=hung,
        floats=floats,
        footrope=replace(rig.footrope, off_bottom=True),
    )
