"""What is offered for a net by its flight, in words for the deck."""

from collections.abc import Iterator, Sequence

from rigs.physics.flight import NOTHING
from rigs.physics.practice import RuleOfThumb
from rigs.words.gear import Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import inches

from .advice import Tuning
from .by_flight import Offer, Offered, Sure
from .flight_words import moved
from .flights.mends import DOWN, UP, Mend
from .window import CANNOT_TELL, EVEN

NONE = gettext_lazy(
    "No change we flew brings this net nearer without breaking a rule. Enter more of the net, or "
    "ask your gear technologist."
)


def headline(tuned: Tuning) -> str:
    """Return how the net flies by its shine, in a sentence."""
    if tuned.low_side is not None and tuned.difference is not None:
        return _("It flies lower to {side}: the sides are {apart} apart").format(
            side=tuned.low_side, apart=inches(abs(tuned.difference), 1)
        )
    if tuned.height is None or tuned.status == CANNOT_TELL:
        return _("Its shine does not tell how it flies")
    return _("It flies {status}: {up} up, by its shine").format(
        status=tuned.status, up=inches(tuned.height, 1)
    )


def custom(window: RuleOfThumb) -> str:
    """Return the height that is the custom, in a sentence."""
    return _("By custom the footrope flies {text} up (common practice, no source).").format(
        text=window.text
    )


def does(offer: Offer, window: RuleOfThumb) -> str:
    """Return what ``offer`` likely does, and whether that is enough by ``window``."""
    up = inches(offer.after, 1)
    if offer.evens:
        said = _(
            "Likely the sides are then {after} apart, and were {before}. Center and corners are "
            "then {up} up, by their mean."
        ).format(
            after=_small(abs(offer.apart_after)), before=_small(abs(offer.apart_before)), up=up
        )
    else:
        said = _(
            "Center and corners likely go {moved}: from {before} to {up}, by their mean."
        ).format(moved=moved(offer.after - offer.before), before=inches(offer.before, 1), up=up)
    return f"{said} {_enough(offer, window)}"


def _small(metres: float) -> str:
    return _("hardly any") if metres < NOTHING else inches(metres, 1)


def _enough(offer: Offer, window: RuleOfThumb) -> str:
    low, high = window.low, window.high
    if offer.good:
        return _("That is as is the custom.")
    if offer.evens and abs(offer.apart_after) > EVEN:
        return _("That alone is not enough.")
    if offer.after < low:
        return _("That is still {off} too low.").format(off=inches(low - offer.after, 1))
    return _("That is {off} too high.").format(off=inches(offer.after - high, 1))


def simple(offer: Offer) -> str:
    """Return what the model of one dropper says of ``offer``; empty where that says nothing."""
    if offer.simple is None:
        return ""
    return _(
        "Worked out for one dropper alone: {change}, from {low} to {high}. That model lets "
        "nothing but chain hold the footrope."
    ).format(
        change=moved(offer.simple.change),
        low=moved(offer.simple.low),
        high=moved(offer.simple.high),
    )


def thumb(mend: Mend) -> str:
    """Return which way the trade has ``mend``; empty where it says nothing of it."""
    if mend.thumb == UP:
        return _("By rule of thumb it lifts the footrope (common practice, no source).")
    if mend.thumb == DOWN:
        return _("By rule of thumb it lowers the footrope (common practice, no source).")
    return ""


def how_sure(sure: Sure, offer: Offer) -> str:
    """Return how sure ``offer`` is, as sentences."""
    if offer.evens:
        said = _("In {agree} of {of} nets that may be yours the sides come nearer.")
    elif offer.after > offer.before:
        said = _("In {agree} of {of} nets that may be yours it goes up.")
    else:
        said = _("In {agree} of {of} nets that may be yours it goes down.")
    words = [said.format(agree=sure.agree, of=sure.of)]
    if not sure.is_sure:
        words.insert(0, _("Not sure."))
    if sure.lost:
        words.append(_("{lost} find no steady flight.").format(lost=sure.lost))
    words.append(
        _("Nine in ten of those that fly: {low} to {high}.").format(
            low=_gone(sure.low, offer), high=_gone(sure.high, offer)
        )
    )
    return " ".join(words)


def _gone(metres: float, offer: Offer) -> str:
    """Return how far a net goes the way of ``offer``, below nothing the other way."""
    if not offer.evens:
        return moved(metres if offer.after > offer.before else -metres)
    if abs(metres) < NOTHING:
        return _("no nearer")
    text = _("{size} nearer") if metres > 0 else _("{size} farther apart")
    return text.format(size=inches(abs(metres), 1))


def left_out(offered: Offered, rig: Rig) -> Iterator[str]:
    """Yield what was tried and is not offered, with why, as sentences."""
    for text, mends in (
        (_("It would break a rule that the net keeps now: {changes}."), offered.forbidden),
        (
            _("The rule of thumb and flight say the opposite, so neither is sure: {changes}."),
            offered.contested,
        ),
        (_("Flight finds no steady flight with it: {changes}."), offered.lost),
    ):
        if mends:
            yield text.format(changes=_listed(mends, rig))


def _listed(mends: Sequence[Mend], rig: Rig) -> str:
    return "; ".join(_lower(each.words(rig)) for each in mends)


def _lower(words: str) -> str:
    return words[:1].lower() + words[1:]
