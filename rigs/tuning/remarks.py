"""Remarks on a tuning, in words for the deck."""

from .. import chain
from ..gear import PORT, STARBOARD
from ..tow import hang, line
from ..units import inches
from .catch import OVER
from .window import CANNOT_TELL, EVEN, IN_WINDOW, TOO_LOW, mean_of


def _reach(used):
    """Return how far below the footrope the droppers that were read reach, metres."""
    return mean_of(
        hang(line(chain.stock_for(place.dropper.diameter)), place.dropper.length, tow.speed).height
        for tow, place in ((each.tow, place) for each in used for place in each.places)
    )


def remarks(rig, used, window, status, rule_status, difference, shown, caught):
    """Return what should be said of the heights, the shine and the catch, as sentences."""
    notes = []
    reach = _reach(used)
    if status != rule_status and CANNOT_TELL not in (status, rule_status):
        notes.append(
            f"By length minus shine the net flies {_say(rule_status)}, by the chain in the "
            f"current {_say(status)}. The advice goes by the current: under tow a dropper "
            "trails, so length minus shine is the most the height can be."
        )
    if all(each.at_least for each in used):
        notes.append(
            "No dropper showed any shine, so the footrope may fly higher than it is shown here."
        )
    if rig.sweep is not None:
        notes.append(
            "This net has a sweep. Droppers that end on a sweep do not hang free, so heights "
            "from their shine are rough and no effect is predicted."
        )
    elif not shown.known(None):
        notes.append(
            "How hard the net pulls up cannot be told from this shine, so no effect is "
            "predicted. Make the smallest change and read the shine again."
        )
    if status == TOO_LOW and reach < window.low:
        notes.append(
            f"At this speed the droppers reach only {inches(reach, 1)} below the footrope, so "
            "they cannot hold it in the window however hard the net pulls up: hang longer ones."
        )
    if difference is not None and abs(difference) > EVEN:
        side = PORT if difference < 0 else STARBOARD
        notes.append(f"The {side} side flies {inches(abs(difference), 1)} lower than the other.")
    if caught is not None and caught.verdict == OVER and status != TOO_LOW:
        notes.append(
            "The catch holds more bottom animals than the standard, though the shine does not "
            "say that the net is low: read the shine again, and look at the ground fished."
        )
    return tuple(notes)


NO_ADVICE = (
    "No change looked at brings the net nearer to the window within the rules: each does too "
    "little, too much, or would break one."
)


def _say(status):
    return {IN_WINDOW: "at the right height"}.get(status, status)
