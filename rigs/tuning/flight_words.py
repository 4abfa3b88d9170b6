"""What a change does to a net in flight, in words for the deck."""

from collections.abc import Sequence
from typing import NamedTuple

from rigs.physics.flight import NOTHING, Beliefs, Flown, Moved, Spread
from rigs.physics.practice import FOOTROPE_HEIGHT
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import inches

SURE = 0.9
"""The share of cases that have to agree before a way is called sure."""

LEFT_OUT = (
    gettext_lazy("The catch, and what is in the net."),
    gettext_lazy("A current across the tow, and waves."),
    gettext_lazy("Soft ground, into which chain and cables sink."),
    gettext_lazy("The wake of doors and cables."),
    gettext_lazy(
        "How your netting is cut and hung: a typical small-mesh net, scaled to your ropes, takes "
        "its place."
    ),
)
"""What flight does not count, as sentences."""

ONLY_SHINE = gettext_lazy(
    "Only your own droppers tell how the net flies. Change one thing, tow, and read the shine."
)
TRIED = gettext_lazy(
    "We let a finer model of invented nets play the sea. After one shine, half of what changes did "
    "to them was foretold to about an inch, nine in ten to about 3 in. About 8 in 10 were within "
    "the span shown here. No real net was flown."
)
"""How well changes are foretold, as the benchmark ``sea`` prints it of 25 nets; rerun it after
every change of the model."""

WITH_A_SWEEP = gettext_lazy(
    "With a sweep flight is a rough guess. How much of the drag the sweep takes hangs on a few "
    "inches of its length against the footrope. Do not trust these figures. Read the shine after "
    "the sweep is off."
)
"""What is said of any flight with a sweep: by its length within 4 percent the footrope flies a foot
higher or lower, as trials with invented nets showed."""

NO_SHINE = gettext_lazy(
    "No dropper of this net showed any shine yet. So it flew at least as high as its droppers "
    "reach, and nobody knows how much higher. So only changes are shown here, no heights."
)


def why_no_heights(beliefs: Beliefs) -> str:
    """Return why no height of a net is told, in words; empty if one is."""
    if beliefs.knows_heights:
        return ""
    if not beliefs.by_custom:
        return NO_SHINE
    return _(
        "Nobody has read this net's shine yet. We assume that it flies as is the custom, {custom} "
        "up (common practice, no source). So only changes are shown here, no heights."
    ).format(custom=FOOTROPE_HEIGHT.text)


def moved(metres: float) -> str:
    """Return a change of height in words, to the inch: ``up 3 in``, ``hardly any change``."""
    if abs(metres) < NOTHING:
        return _("hardly any change")
    text = _("up {inches}") if metres > 0 else _("down {inches}")
    return text.format(inches=inches(abs(metres), 1))


def span(low: float, high: float) -> str:
    """Return changes from ``low`` to ``high`` in words: ``up 3 to 8 in``."""
    if moved(low) == moved(high):
        return moved(low)
    if min(abs(low), abs(high)) < NOTHING or low * high < 0:
        return _("{low} to {high}").format(low=moved(low), high=moved(high))
    near, far = sorted((abs(low), abs(high)))
    text = _("up {near} to {far}") if low > 0 else _("down {near} to {far}")
    return text.format(near=inches(near, 1).removesuffix(" in"), far=inches(far, 1))


class PlaceMoved(NamedTuple):
    """One place in words: its ``name``, the likely ``change``, where it then ``is``."""

    name: str
    change: str
    is_now: str


def places(after: Flown, found: Sequence[Moved], with_heights: bool) -> tuple[PlaceMoved, ...]:
    """Return ``found``, with the net ``after`` the change, place by place in words."""
    told = []
    for each in found:
        if each.after.lies:
            state = _("on the bottom")
        elif after.is_clear(each.after.position):
            state = _("higher than its droppers reach")
        elif with_heights:
            state = _("about {inches} up").format(inches=inches(each.after.up, 1))
        else:
            state = _("off the bottom")
        told.append(PlaceMoved(each.name, moved(each.change), state))
    return tuple(told)


def headline(found: Sequence[Moved]) -> str:
    """Return what ``found``, the five places port to starboard, do, in a sentence."""
    center = found[len(found) // 2]
    changes = [each.change for each in found]
    if all(abs(each) < NOTHING for each in changes):
        return _("The footrope hardly moves.")
    if all(each >= NOTHING for each in changes):
        return _("The footrope goes up everywhere: {inches} at the center.").format(
            inches=inches(center.change, 1)
        )
    if all(each <= -NOTHING for each in changes):
        return _("The footrope goes down everywhere: {inches} at the center.").format(
            inches=inches(-center.change, 1)
        )
    most = max(found, key=lambda each: abs(each.change))
    if most is center:
        return _("Most at the center: {moved}.").format(moved=moved(center.change))
    return _("Most at the {place}: {moved}. At the center: {center}.").format(
        place=most.name, moved=moved(most.change), center=moved(center.change)
    )


class PlaceSure(NamedTuple):
    """How sure the change at a place is: the ``span`` of it, and how many nets agree."""

    name: str
    span: str
    agree: str


def how_sure(spreads: Sequence[Spread]) -> tuple[PlaceSure, ...]:
    """Return ``spreads`` place by place in words."""
    return tuple(PlaceSure(each.name, span(*each.change), _agree(each)) for each in spreads)


def _agree(each: Spread) -> str:
    told = [
        text.format(count=count, of=each.of)
        for count, text in (
            (each.rises, _("{count} of {of} go up")),
            (each.sinks, _("{count} of {of} go down")),
            (each.still, _("{count} of {of} hardly move")),
            (each.lost, _("{count} of {of} find no steady flight")),
        )
        if count
    ]
    if each.lies:
        told.append(_("{count} of {of} end on the bottom").format(count=each.lies, of=each.of))
    return ", ".join(told)


def verdict_of(spreads: Sequence[Spread]) -> str:
    """Return in a sentence whether the way the footrope goes is sure, at the center."""
    return verdict_at(spreads[len(spreads) // 2])


def verdict_at(spread: Spread) -> str:
    """Return in a sentence whether the way the footrope goes is sure at one place."""
    most = max(spread.rises, spread.sinks)
    if max(most, spread.still) < SURE * spread.of:
        return _("Not sure: of {of} nets that may be yours, {ways} at the {place}.").format(
            of=spread.of, ways=ways(spread), place=spread.name
        )
    if most < SURE * spread.of:
        return _("Hardly any of {of} nets that may be yours moves at the {place}.").format(
            of=spread.of, place=spread.name
        )
    way = _("up") if spread.rises > spread.sinks else _("down")
    return _(
        "The way is sure at the {place}: {most} of {of} nets that may be yours go {way}."
    ).format(place=spread.name, most=most, of=spread.of, way=way)


def ways(spread: Spread) -> str:
    """Return how many nets go which way, all of them: ``12 go up, 3 go down, 5 hardly move``."""
    told = [
        _("{count} go up").format(count=spread.rises),
        _("{count} go down").format(count=spread.sinks),
        _("{count} hardly move").format(count=spread.still),
    ]
    if spread.lost:
        told.append(_("{count} find no steady flight").format(count=spread.lost))
    return ", ".join(told)
