"""A flight that is drawn, in words for the deck: what a change does, how sure that is, and why."""

from collections.abc import Iterator
from typing import NamedTuple

from rigs.physics.flight import COUNT, NOTHING, Flown, Point, Spread
from rigs.physics.tow import hang, line
from rigs.rules import wording
from rigs.rules.judge import judge
from rigs.rules.rulebook import Rulebook
from rigs.tuning.flight_words import LEFT_OUT, SURE, headline, moved, span, ways
from rigs.tuning.hung import Hung
from rigs.tuning.proposals import lift
from rigs.tuning.uplift import Added, Condition, Uplift, chains, conditions, effect
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import feet_inches, inches

from .mends import UP
from .nets import LOPSIDED
from .pictured import NET, SOUND, Picture, as_it_is
from .table import flights, height

__all__ = [
    "HEIGHTS",
    "LEFT_OUT",
    "broken",
    "headline",
    "how_high",
    "net",
    "places",
    "sayings",
    "shine",
    "sure",
    "worked_out",
]

HEIGHTS = gettext_lazy(
    "Of a real net no height is known to better than about a foot until its own shine was read. "
    "What a change does is known better than that."
)
"""What has to be said wherever a height of a net in flight is written."""

_ALONE = ("floats", "droppers", "doubled")  # changes that the model of single droppers knows


def worked_out() -> str:
    """Return how the figures come about, in sentences that a list of what is left out follows."""
    return _(
        "A model of the whole net in steady tow, flown beforehand. {count} nets that may show the "
        "same shine were flown before and after each change. The span holds nine in ten of them. "
        "The model leaves out:"
    ).format(count=COUNT)


def net() -> str:
    """Return what net it is, as sentences."""
    rig = SOUND.rig
    return _(
        "An invented net: headrope {headrope}, footrope {footrope}, {floats} floats, {droppers} "
        "droppers {length} long, towed at {speed} kn through the water."
    ).format(
        headrope=feet_inches(rig.headrope.length or 0.0),
        footrope=feet_inches(rig.footrope.length),
        floats=len(rig.floats or ()),
        droppers=len(rig.droppers or ()),
        length=inches((rig.droppers or ())[0].length or 0.0),
        speed=f"{NET.speed:g}",
    )


def how_high() -> str:
    """Return how high the net flies before any change, and how sure that is."""
    found = as_it_is()
    middle = len(found.spreads) // 2
    low, high = found.spreads[middle].before
    return _(
        "At the center the footrope flies about {up} up. Nine in ten nets like it, with the same "
        "shine, fly {low} to {high} up there."
    ).format(
        up=inches(found.flown.points[middle].up, 1),
        low=inches(low, 1).removesuffix(" in"),
        high=inches(high, 1),
    )


class Place(NamedTuple):
    """One place: the likely ``change``, the ``span`` of nine in ten, how many nets ``agree``."""

    name: str
    change: str
    span: str
    agree: str


def places(picture: Picture) -> tuple[Place, ...]:
    """Return what a change does place by place, port to starboard."""
    return tuple(
        Place(
            spread.name,
            moved(move.change),
            span(*spread.change),
            _("{count} of {of}").format(count=_alike(move.change, spread), of=spread.of),
        )
        for move, spread in zip(picture.moves, picture.spreads, strict=True)
    )


def _alike(change: float, spread: Spread) -> int:
    """Return how many nets go the way that is likely."""
    if abs(change) < NOTHING:
        return spread.still
    return spread.rises if change > 0 else spread.sinks


def shine(flown: Flown) -> str:
    """Return the shine of the droppers at the five places, port to starboard."""
    return ", ".join(_shine(flown, point) for point in flown.points)


def _shine(flown: Flown, point: Point) -> str:
    near = min(flown.trailing, key=lambda each: abs(each.dropper.position - point.position))
    if point.lies:
        return _("all of it")
    return _("none") if near.clear else inches(near.shine, 1)


def sure(picture: Picture) -> str:
    """Return whether the way the footrope goes is sure, at the center, in a sentence."""
    spread = picture.spreads[len(picture.spreads) // 2]
    most = max(spread.rises, spread.sinks)
    if most < SURE * spread.of:
        return _("Not sure: of {of} nets like it, {ways} at the center.").format(
            of=spread.of, ways=ways(spread)
        )
    way = _("up") if spread.rises > spread.sinks else _("down")
    return _("{most} of {of} nets like it go {way} at the center.").format(
        most=most, of=spread.of, way=way
    )


class Saying(NamedTuple):
    """What else there is to say of a change: ``by`` whom or what, and its ``words``."""

    by: str
    words: str


def sayings(picture: Picture) -> tuple[Saying, ...]:
    """Return what custom and other models say of the change; words are "" of what is silent."""
    return (
        Saying(_("By custom"), custom(picture)),
        Saying(_("Other invented nets, by the same model"), elsewhere(picture)),
        Saying(_("One dropper worked out alone"), alone(picture)),
    )


def custom(picture: Picture) -> str:
    """Return what the trade says of the change, and whether the model does; "" if it is silent."""
    assert picture.mend is not None
    thumb = picture.mend.thumb
    if not thumb:
        return ""
    said = _("It lifts the footrope.") if thumb == UP else _("It lowers the footrope.")
    if picture.center * thumb < 0:
        said = _("{said} The model says the opposite here, so neither is sure.").format(said=said)
    return said


def elsewhere(picture: Picture) -> str:
    """Return what the same change does to the other invented nets; "" if it was not tried."""
    assert picture.mend is not None
    did = _elsewhere(picture)
    if not did:
        return ""
    said = _("On {count} nets that fly too low or too high: {span}.").format(
        count=len(did), span=span(min(did), max(did))
    )
    against = sum(each * picture.center < 0 and abs(each) >= NOTHING for each in did)
    if not against:
        return said
    return _("{said} On {against} of them it goes the other way: the model is not sure.").format(
        said=said, against=against
    )


def _elsewhere(picture: Picture) -> list[float]:
    return [
        height(flight.after) - height(each.before)
        for each in flights()
        if each.ailing.ails != LOPSIDED
        for flight in each.tried
        if flight.mend == picture.mend
    ]


def alone(picture: Picture) -> str:
    """Return what the model of single droppers says of the change; "" of what it leaves out."""
    found = _alone(picture)
    if found is None:
        return ""
    said = _("Likely: {change}. Range: {span}.").format(
        change=moved(found.change), span=span(found.low, found.high)
    )
    if found.clear:
        # What they cannot hold may fly at any height above their reach.
        said = _("Up {change} or more, until the droppers hang clear.").format(
            change=inches(found.change, 1)
        )
    if picture.mend is not None and picture.mend.sort == "floats":
        return _("{said} It assumes that half of the lift reaches the footrope.").format(said=said)
    return said


def _alone(picture: Picture) -> Uplift | None:
    mend, before = picture.mend, as_it_is().flown
    if mend is None or mend.sort not in _ALONE:
        return None
    after = picture.flown.rig
    return effect(
        chains(before.rig),
        chains(after),
        lambda condition: _by_shine(before, condition),
        conditions(SOUND.speed),
        Added(lift=lift(after) - lift(before.rig)),
    )


def _by_shine(flown: Flown, condition: Condition) -> float:
    """Return the mean height in metres that the shine of all droppers shows under ``condition``."""
    found = []
    for each in flown.trailing:
        hung = Hung.of(each.dropper)
        made = line(hung.stock, sheltered=condition.sheltered)
        found.append(
            hang(made, hung.length, condition.speed, each.shine, condition.friction).height
        )
    return sum(found) / len(found)


def broken(picture: Picture, rulebook: Rulebook) -> Iterator[str]:
    """Yield a sentence for each rule, and each custom as such, that the changed net misses."""
    lacking = judge(SOUND.rig, rulebook).missed_keys
    for each in judge(picture.flown.rig, rulebook).findings:
        if each.failed and each.key not in lacking:
            sentence = wording.sentence(each)
            yield (
                _("Against custom: {sentence}") if each.by_custom else _("Rule broken: {sentence}")
            ).format(sentence=sentence)
