"""Remarks on a tuning, in words for the deck."""

from collections.abc import Sequence

from rigs.physics.tow import hang, line
from rigs.rules.judge import Finding, Verdict
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy, ngettext
from rigs.words.units import inches

from .catch import OVER, Bycatch
from .flight import Flight
from .log import TowHeights
from .window import CANNOT_TELL, TOO_LOW, mean


def _reach(run: Sequence[TowHeights]) -> float:
    """Return how far below the footrope the droppers that were read reach, metres."""
    return mean(
        [
            hang(line(place.hung.stock), place.hung.length, each.tow.speed).height
            for each in run
            for place in each.places
        ]
    )


def remarks(flight: Flight, caught: Bycatch | None) -> tuple[str, ...]:
    """Return what should be said of the heights, the sides and the catch, as sentences."""
    notes = []
    low_side, status, rule_status = flight.low_side, flight.status, flight.rule_status
    if low_side is not None:
        *__, apart = (
            max(abs(each.difference), abs(each.rule_difference))
            for each in flight.run
            if each.difference is not None and each.rule_difference is not None
        )
        notes.append(
            _(
                "The {low_side} side flies lower: {inches} on the latest tow that read both. The "
                "mean of both sides says little."
            ).format(low_side=low_side, inches=inches(apart, 1))
        )
    elif status != rule_status and CANNOT_TELL not in (status, rule_status):
        notes.append(
            _(
                "By length minus shine the footrope is {rule_status}. Worked out under tow it is "
                "{status}. Go by the second: length minus shine is the most the height can be."
            ).format(rule_status=rule_status, status=status)
        )
    if status == TOO_LOW and _reach(flight.run) < flight.window.low:
        notes.append(
            _(
                "At this speed the droppers reach only {inches} below the footrope. Whatever the "
                "lift, they cannot hold it at the right height. Hang longer ones, or tow slower."
            ).format(inches=inches(_reach(flight.run), 1))
        )
    if caught is not None and caught.verdict == OVER and status != TOO_LOW:
        notes.append(
            _(
                "The catch holds many bottom animals, though the shine does not say that the net "
                "is low. Read the shine again, and look at the ground fished."
            )
        )
    return tuple(notes)


NO_EFFECT = gettext_lazy(
    "This shine cannot tell how hard the net pulls up, so no effect is worked out. Make the "
    "smallest change and read the shine again."
)

NO_ADVICE = gettext_lazy(
    "No change we looked at helps without breaking a rule or going too far. Each does too "
    "little, too much, or would break one."
)


def _rules(count: int) -> str:
    return ngettext(
        "{count} rule",
        "{count} rules",
        count,
    ).format(count=count)


def rules_said(broken: int, unmeasured: int) -> str:
    """
    Return how a changed net stands with the rules, in words.

    ``broken`` is how many it still breaks, all of which it broke before, ``unmeasured``
    how many could not be checked.
    """
    if broken:
        said = _("The net still breaks {rules} it broke before. This change adds none.").format(
            rules=_rules(broken)
        )
        if unmeasured:
            said += _(" {rules} could not be checked.").format(
                rules=_rules(unmeasured).capitalize()
            )
        return said
    if unmeasured:
        return _(
            "The changed net breaks none of the rules that could be checked here. {rules} "
            "could not be: something was not measured."
        ).format(rules=_rules(unmeasured).capitalize())
    return _("The changed net meets every rule checked here.")


def broken_by(before: Verdict, after: Verdict) -> tuple[Finding, ...]:
    """Return the findings of the rules that a net breaks ``after`` a change and not before."""
    broken = before.failed_keys
    return tuple(each for each in after.failed if each.requirement.key not in broken)


def rules_after(before: Verdict, after: Verdict) -> str:
    """Return how a net stands with the rules ``after`` a change that may break some, in words."""
    added = len(broken_by(before, after))
    if not added:
        return rules_said(len(after.failed), len(after.not_measured))
    told = [
        _("This change breaks {rules} that the net did not break before.").format(
            rules=_rules(added)
        )
    ]
    if len(after.failed) > added:
        told.append(
            _("The net still breaks {rules} it broke before.").format(
                rules=_rules(len(after.failed) - added)
            )
        )
    if after.not_measured:
        told.append(
            _("{rules} could not be checked.").format(
                rules=_rules(len(after.not_measured)).capitalize()
            )
        )
    return " ".join(told)
