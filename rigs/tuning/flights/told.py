"""A net of the table, and what a change makes of it, in words for the deck."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from rigs.physics.flight import COUNT, POINTS
from rigs.rules import wording
from rigs.tuning.flight_words import moved, span
from rigs.tuning.window import EVEN
from rigs.words.gear import PORT, SIDES, STARBOARD, Rig
from rigs.words.say import gettext as _
from rigs.words.units import FOOT, INCH, fathoms_and_feet, feet_inches, inches

from .mended import STILL_HIGH, STILL_LOW, STILL_UNEVEN, UNSURE, WRONG_WAY, Mended
from .mends import DOWN, UP
from .nets import LOPSIDED
from .table import Flights, apart, flights, height

Line = tuple[str, str]
"""A part of the net and what is said of it."""


def quarter(metres: float) -> str:
    """Return a height in words, to the quarter inch it is set to."""
    return inches(metres, 4)


# The net ----------------------------------------------------------------------------------------


def parts(told: Flights) -> Iterator[Line]:
    """Yield what there is to know of a net, as (part, text)."""
    rig, net = told.ailing.rig, told.ailing.net
    rope = rig.footrope
    yield _("Headrope"), feet_inches(net.headrope * FOOT)
    yield (
        _("Footrope"),
        _("{length}: bosom {bosom}, each wing {wing}").format(
            length=feet_inches(rope.length),
            bosom=feet_inches(rope.bosom),
            wing=feet_inches(rope.port_wing),
        ),
    )
    yield _("Floats"), _floats(rig)
    yield (
        _("Droppers"),
        _("{count} of {chain} chain, {length} long").format(
            count=len(rig.droppers or ()),
            chain=inches(net.chain * INCH),
            length=inches(net.dropper * INCH),
        ),
    )
    yield from _legs(rig)
    yield _("Speed through the water"), _("{knots} kn").format(knots=f"{net.speed:g}")


def _floats(rig: Rig) -> str:
    places = [each.position for each in rig.floats or ()]
    gaps = [b - a for a, b in pairwise(places)]
    if max(gaps) - min(gaps) < INCH / 4:
        return _("{count}, one every {gap}").format(count=len(places), gap=feet_inches(gaps[0], 4))
    return _("{count}, one every {port} to port and every {starboard} to starboard").format(
        count=len(places), port=feet_inches(gaps[0], 4), starboard=feet_inches(gaps[-1], 4)
    )


def _legs(rig: Rig) -> Iterator[Line]:
    by_side = {leg.side: (leg.top_length or 0.0, leg.bottom_length or 0.0) for leg in rig.legs}
    if by_side[PORT] == by_side[STARBOARD]:
        yield (
            _("Legs"),
            _("{length} each, top and bottom").format(length=fathoms_and_feet(by_side[PORT][0])),
        )
        return
    for side in SIDES:
        top, bottom = by_side[side]
        yield (
            _("{side} legs").format(side=side.capitalize()),
            _("top {top}, bottom {bottom}").format(
                top=fathoms_and_feet(top), bottom=fathoms_and_feet(bottom)
            ),
        )


class Place(NamedTuple):
    """A place on the footrope in words: its ``name``, its ``shine`` and how far it is ``up``."""

    name: str
    shine: str
    up: str


def places(told: Flights) -> tuple[Place, ...]:
    """Return how a net flies now, place by place."""
    return tuple(
        Place(name, quarter(shine), quarter(up))
        for name, shine, up in zip(POINTS, told.shine, told.before, strict=True)
    )


def now(told: Flights) -> str:
    """Return what is wrong with how a net flies, as sentences."""
    up = quarter(height(told.before))
    if told.ailing.ails != LOPSIDED:
        return _("This net {ails}: {up} up, by its center and corners.").format(
            ails=told.ailing.ails, up=up
        )
    low = PORT if apart(told.before) < 0 else STARBOARD
    return _(
        "This net flies lower to {side}: wing end and corner are {apart} lower there. Its center "
        "and corners are {up} up."
    ).format(side=low, apart=quarter(abs(apart(told.before))), up=up)


# What a change makes of it ----------------------------------------------------------------------


def found(mended: Mended) -> str:
    """Return how the net flies after a change."""
    up = quarter(mended.height)
    if not mended.is_lopsided:
        return _("it then flies {up} up").format(up=up)
    return _("the sides are then {apart} apart, and it flies {up} up").format(
        apart=quarter(abs(mended.apart)), up=up
    )


def asked(mended: Mended) -> str:
    """Return how it has to fly."""
    low, high = inches(mended.window.low).removesuffix(" in"), inches(mended.window.high)
    if not mended.is_lopsided:
        return _("{low} to {high} up").format(low=low, high=high)
    return _("sides no more than {even} apart, and {low} to {high} up").format(
        even=inches(EVEN), low=low, high=high
    )


def verdict(mended: Mended) -> str:
    """Return what is right or wrong with it, and in how many nets like this one."""
    count = _("{agree} of {of} nets like this one").format(agree=mended.agree, of=COUNT)
    window = mended.window
    said = {
        WRONG_WAY: _("that is the wrong way"),
        UNSURE: _("it is not sure, for it goes the right way in only {count}").format(count=count),
        STILL_LOW: _("that is {off} too low").format(off=quarter(window.low - mended.height)),
        STILL_HIGH: _("that is {off} too high").format(off=quarter(mended.height - window.high)),
        STILL_UNEVEN: _("that is {off} too much").format(off=quarter(abs(mended.apart) - EVEN)),
    }
    if mended.fault is not None:
        return said[mended.fault]
    right = _("it goes the right way in {count}").format(count=count)
    return _("{right}, but then a rule is broken").format(right=right) if mended.broken else right


class PlaceMoved(NamedTuple):
    """What a change does at the place ``name``: likely, and in nets like it."""

    name: str
    change: str
    alike: str


def by_place(mended: Mended) -> tuple[PlaceMoved, ...]:
    """Return what a change does, place by place, port to starboard."""
    flight, before = mended.flight, mended.flights.before
    told = []
    for i, name in enumerate(POINTS):
        change = flight.after[i] - before[i]
        count, way = max((flight.rises[i], _("up")), (flight.sinks[i], _("down")))
        alike = _("{span}; {count} of {of} go {way}").format(
            span=span(flight.low[i], flight.high[i]), count=count, of=flight.of, way=way
        )
        told.append(PlaceMoved(name, moved(change), alike))
    return tuple(told)


def rules(mended: Mended) -> str:
    """Return how the changed net does by the rules, in a few words."""
    if not mended.broken:
        return _("The changed net meets the rules.")
    return " ".join(wording.sentence(each) for each in mended.broken)


def thumb(mended: Mended) -> str:
    """Return which way the trade has it, empty where it says nothing."""
    return {UP: _("lifts the footrope"), DOWN: _("lowers the footrope"), 0: ""}[
        mended.flight.mend.thumb
    ]


def tried_before(mended: Mended) -> str:
    """Return what a change did to the height, and between the sides, of this same net."""
    if not mended.is_lopsided:
        return moved(mended.change)
    near = _nearer(abs(apart(mended.flights.before)) - abs(mended.apart))
    return _("the sides were {near}").format(near=near)


def _nearer(metres: float) -> str:
    size = inches(abs(metres), 1)
    if abs(metres) < INCH / 2:
        return _("as far apart as before")
    text = _("{size} nearer to each other") if metres > 0 else _("{size} farther apart")
    return text.format(size=size)


def elsewhere(mended: Mended) -> str:
    """Return what the same change did to the other nets of the table that ail alike."""
    ailing = mended.flights.ailing
    of_low = _is_low(mended.flights, mended.flight.mend.side)
    did = [
        _effect(other, flight.after)
        for other in flights()
        if other.ailing.ails == ailing.ails and other.ailing.key != ailing.key
        for flight in other.tried
        if (flight.mend.sort, flight.mend.amount)
        == (mended.flight.mend.sort, mended.flight.mend.amount)
        and _is_low(other, flight.mend.side) == of_low
    ]
    if not did:
        return _("not tried")
    if not mended.is_lopsided:
        return span(min(did), max(did))
    return _nearer_span(min(did), max(did))


def _nearer_span(low: float, high: float) -> str:
    """Return ``_nearer`` of all from ``low`` to ``high``: ``2 to 4 in farther apart``."""
    if _nearer(low) == _nearer(high):
        return _nearer(low)
    if min(abs(low), abs(high)) < INCH / 2 or low * high < 0:
        return _("from {low} to {high}").format(low=_nearer(low), high=_nearer(high))
    near, far = sorted((low, high), key=abs)
    size = inches(abs(near), 1).removesuffix(" in")
    return _("{low} to {high}").format(low=size, high=_nearer(far))


def _effect(told: Flights, after: Sequence[float]) -> float:
    if told.ailing.ails == LOPSIDED:
        return abs(apart(told.before)) - abs(apart(after))
    return height(after) - height(told.before)


def _is_low(told: Flights, side: str | None) -> bool | None:
    """Return whether ``side`` is the one that flies lower; None for all over."""
    return None if side is None else side == (PORT if apart(told.before) < 0 else STARBOARD)
