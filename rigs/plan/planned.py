"""The net as it will be: sweep off, droppers and floats where the rules want them."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from rigs.physics import chain
from rigs.requirements import layout
from rigs.requirements.readings import Taken
from rigs.rules.judge import Verdict, judge_taken
from rigs.rules.outcomes import PASS
from rigs.rules.rulebook import Rulebook
from rigs.words.gear import Dropper, Float, Rig
from rigs.words.places import off_center
from rigs.words.units import INCH, ROUNDING

TAPE = INCH / 16
"""What a tape on deck can tell apart, in metres (common practice, no source)."""


_PLACES = ("dropper_at_centre", "dropper_at_corners", "dropper_spacing")


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


STAYS, MOVED, NEW = "stays", "moved", "new"
"""Where a dropper of the plan comes from: it hangs there, it hangs elsewhere, it is made up."""


class Placement(NamedTuple):
    """
    Where one dropper goes: its name on deck and distances in metres.

    ``position`` is signed from the center, negative to port; the other two are how far
    it lies from each corner. ``source`` says where it comes from, ``dropper`` is the
    present one that is used, None for a new one.
    """

    name: str
    position: float
    from_port_corner: float
    from_starboard_corner: float
    source: str
    dropper: Dropper | None = None

    @property
    def stays(self) -> bool:
        """Whether a good dropper hangs there already."""
        return self.source == STAYS

    @property
    def from_center(self) -> float:
        """Metres from the center, whichever the side."""
        return abs(self.position)

    @property
    def short(self) -> str:
        """The name without the distance, for a table that tells it beside."""
        return self.name.partition(",")[0]


def chain_options(rulebook: Rulebook) -> tuple[chain.Stock, ...]:
    """Return the Stocks of chain that ``rulebook`` lets droppers be made of, lightest first."""
    limit = rulebook.requirement("dropper_stock").limit
    return tuple(s for s in chain.STOCKS.values() if s.size <= limit + ROUNDING)


def _is_allowed(size: float, rulebook: Rulebook) -> bool:
    """Return whether ``rulebook`` lets droppers be made of chain ``size`` metres thick."""
    taken = Taken({"dropper_stock": ([size], ["a dropper"])})
    return judge_taken(taken, rulebook).finding("dropper_stock").outcome == PASS


def default_choices(rig: Rig, rulebook: Rulebook) -> Choices:
    """
    Return the Choices to start from.

    The present droppers' own make if they are all alike, allowed, and as long as rule or
    custom asks, so that they can be used; else the heaviest chain and the shortest
    length that ``rulebook`` has.
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
            and _is_allowed(now_chain, rulebook)
            and now_length >= length - ROUNDING
        ):
            return Choices(now_chain, now_count, now_length, size)
    return Choices(stock, 1, length, size)


def pitch(size: float) -> float:
    """
    Return the longest that a link of chain ``size`` metres thick can be inside, in metres.

    Chain thicker than any that is sold here is taken to have the links of the heaviest.
    """
    heaviest = max(chain.STOCKS.values(), key=lambda stock: stock.size)
    return (chain.trade_size(size) or heaviest).pitch


def is_usable(dropper: Dropper, choices: Choices) -> bool:
    """
    Return whether ``dropper`` is known to do for the plan, where it hangs or elsewhere.

    It does if it is bare, of the chain and the count chosen, and long enough.
    """
    return (
        dropper.bare is True
        and dropper.count == choices.count
        and dropper.diameter is not None
        and abs(dropper.diameter - choices.chain) <= TAPE / 2
        and dropper.length is not None
        and dropper.length >= choices.length - ROUNDING
    )


def is_unsure(dropper: Dropper, choices: Choices) -> bool:
    """Return whether only what was not entered of ``dropper`` keeps it from being usable."""
    guess = replace(
        dropper,
        bare=True if dropper.bare is None else dropper.bare,
        diameter=choices.chain if dropper.diameter is None else dropper.diameter,
        length=choices.length if dropper.length is None else dropper.length,
    )
    return not is_usable(dropper, choices) and is_usable(guess, choices)


def is_of_other_chain(dropper: Dropper, rulebook: Rulebook, choices: Choices) -> bool:
    """Return whether ``dropper`` would do but that it is of another chain, which is allowed."""
    return (
        dropper.diameter is not None
        and not is_usable(dropper, choices)
        and is_usable(replace(dropper, diameter=choices.chain), choices)
        and _is_allowed(dropper.diameter, rulebook)
    )


def is_short_by_custom(dropper: Dropper, rulebook: Rulebook, choices: Choices) -> bool:
    """Return whether ``dropper`` would break no rule, but is shorter than custom and chosen."""
    length = rulebook.requirement("dropper_length")
    return (
        length.by_custom
        and dropper.bare is True
        and dropper.diameter is not None
        and _is_allowed(dropper.diameter, rulebook)
        and dropper.length is not None
        and dropper.length < min(length.limit, choices.length) - ROUNDING
    )


def cut_off(dropper: Dropper, choices: Choices) -> float:
    """Return the metres by which a usable ``dropper`` is cut down: a whole link or more, or 0."""
    over = 0.0 if dropper.length is None else dropper.length - choices.length
    return over if over >= pitch(choices.chain) else 0.0


def is_cut_down(dropper: Dropper, choices: Choices) -> bool:
    """Return whether a usable ``dropper`` has a whole link or more than the length chosen."""
    return cut_off(dropper, choices) > 0


def as_hung(dropper: Dropper, position: float, choices: Choices) -> Dropper:
    """Return a usable ``dropper`` as it will hang at ``position``, cut down if need be."""
    length = choices.length if is_cut_down(dropper, choices) else dropper.length
    return replace(dropper, position=position, length=length, sweep_position=None)


def droppers_stay(rig: Rig, choices: Choices, verdict: Verdict) -> bool:
    """
    Return whether the droppers of ``rig`` can stay where they are, extra ones included.

    So they can on a net without a sweep that has one wherever the rules ask for it, as
    long as all are usable: more droppers than required are nobody's fault.
    """
    return (
        rig.sweep is None
        and bool(rig.droppers)
        and all(is_usable(each, choices) for each in rig.droppers or ())
        and all(verdict.finding(key).outcome == PASS for key in _PLACES)
    )


def _places(rig: Rig, rulebook: Rulebook, choices: Choices, verdict: Verdict) -> list[layout.Place]:
    """Return the layout.Places of every dropper of the plan, port to starboard."""
    places = list(layout.dropper_places(rig.footrope, rulebook))
    if droppers_stay(rig, choices, verdict):
        wanted = [place.position for place in places]
        places += [
            layout.Place(each.position, off_center(each.position))
            for each in rig.droppers or ()
            if all(abs(each.position - position) > TAPE for position in wanted)
        ]
    return sorted(places)


def _sources(
    places: Sequence[layout.Place], droppers: Iterable[Dropper]
) -> dict[layout.Place, tuple[str, Dropper | None]]:
    """
    Return {place: (source, dropper)} for ``places``, given the usable ``droppers``.

    What hangs in the right place stays; of the rest the nearest is moved, until there
    are none left.
    """
    left = list(droppers)
    found: dict[layout.Place, tuple[str, Dropper | None]] = {}
    for place in places:
        nearest = min(left, key=lambda each: abs(each.position - place.position), default=None)
        if nearest is not None and abs(nearest.position - place.position) <= TAPE:
            left.remove(nearest)
            found[place] = STAYS, nearest
    for place in places:
        if place not in found:
            nearest = min(left, key=lambda each: abs(each.position - place.position), default=None)
            if nearest is not None:
                left.remove(nearest)
            found[place] = (NEW, None) if nearest is None else (MOVED, nearest)
    return found


def placements(
    rig: Rig, rulebook: Rulebook, choices: Choices, verdict: Verdict
) -> tuple[Placement, ...]:
    """
    Return the Placement of every dropper of the plan, port to starboard.

    One at every place that ``rulebook`` asks for, and whatever else is there and may
    stay. ``verdict`` is that on the rig as it is.
    """
    rope = rig.footrope
    places = _places(rig, rulebook, choices, verdict)
    usable = [each for each in rig.droppers or () if is_usable(each, choices)]
    sources = _sources(places, usable)
    return tuple(
        Placement(
            place.name,
            place.position,
            abs(place.position - rope.port_corner),
            abs(place.position - rope.starboard_corner),
            *sources[place],
        )
        for place in places
    )


class FloatCount(NamedTuple):
    """
    What becomes of the floats, by number.

    ``needed`` are to hang in all, ``good`` are known to be large enough, ``unsure`` are
    there but were not measured, ``small`` are known to be too small.
    """

    needed: int
    good: int
    unsure: int
    small: int

    @property
    def to_buy(self) -> int:
        """How many must be bought, if all that were not measured turn out to be good."""
        return max(0, self.needed - self.good - self.unsure)


def usable_floats(rig: Rig, rulebook: Rulebook) -> tuple[Float, ...]:
    """Return the present floats that are known to be large enough to stay."""
    limit = rulebook.requirement("float_diameter").limit
    return tuple(
        each
        for each in rig.floats or ()
        if each.diameter is not None and each.diameter >= limit - ROUNDING
    )


def count_floats(rig: Rig, rulebook: Rulebook) -> FloatCount | None:
    """Return the FloatCount of ``rig``, or None if headrope or floats were not entered."""
    if rig.headrope.length is None or rig.floats is None:
        return None
    good = len(usable_floats(rig, rulebook))
    unsure = sum(each.diameter is None for each in rig.floats)
    needed = len(layout.float_positions(rig.headrope.length, rulebook))
    return FloatCount(max(needed, good + unsure), good, unsure, len(rig.floats) - good - unsure)


def floats_stay(rig: Rig, verdict: Verdict) -> bool:
    """Return whether the floats break no rule where they are, as far as they were entered."""
    return (
        bool(rig.floats)
        and verdict.finding("float_spacing").outcome == PASS
        and not verdict.finding("float_diameter").failed
    )


def planned_floats(rig: Rig, rulebook: Rulebook, choices: Choices) -> tuple[Float, ...] | None:
    """
    Return the floats as they will be, or None if headrope or floats were not entered.

    Every present float that is large enough, or may be, stays in use, the largest
    nearest the center; new ones make up the number, and all are spaced evenly, ends
    covered.
    """
    counted = count_floats(rig, rulebook)
    if counted is None or rig.headrope.length is None:
        return None
    known = (each.diameter for each in usable_floats(rig, rulebook) if each.diameter is not None)
    sizes: list[float | None] = [*sorted(known, reverse=True)]
    sizes += [choices.float_size] * counted.to_buy + [None] * counted.unsure
    last = counted.needed - 1
    places = [rig.headrope.length * (i / last - 0.5) for i in range(counted.needed)]
    inmost = sorted(range(counted.needed), key=lambda i: abs(places[i]))
    size_at = dict(zip(inmost, sizes, strict=True))
    return tuple(Float(places[i], size_at[i]) for i in range(counted.needed))


def planned_rig(rig: Rig, rulebook: Rulebook, choices: Choices, verdict: Verdict) -> Rig:
    """
    Return ``rig`` as it will be once the plan is carried out.

    ``verdict`` is that on the rig as it is. The sweep is off, the droppers hang where
    ``rulebook`` wants them and the floats are spaced. The footrope counts as off the
    bottom, since it hangs on droppers alone; the first tow's shine has to prove it.
    Ropes, wires, codend and grate are left as they are.
    """
    hung = tuple(
        Dropper(place.position, choices.length, choices.chain, choices.count)
        if place.dropper is None
        else as_hung(place.dropper, place.position, choices)
        for place in placements(rig, rulebook, choices, verdict)
    )
    floats = rig.floats if floats_stay(rig, verdict) else planned_floats(rig, rulebook, choices)
    return rig.with_(
        sweep=None,
        droppers=hung,
        floats=floats,
        footrope=replace(rig.footrope, off_bottom=True),
    )
