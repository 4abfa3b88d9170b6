"""What a page shows of a net in flight, and of a change to it before anything is cut."""

from contextlib import contextmanager
from typing import NamedTuple

from django.utils.translation import gettext as _

from rigs.drawing.in_flight import flight_from_above, flight_from_ahead, flight_from_the_side
from rigs.physics import flight
from rigs.plan.towed import told
from rigs.rules.judge import judge
from rigs.tuning import borne_out, flight_words, in_flight
from rigs.tuning.altered import Alteration
from rigs.tuning.remarks import rules_after
from rigs.words.gear import Rig
from training.deck.drawn import drawn

from . import shine_log
from .flight_forms import HANGS, NOW, PLANNED


class CannotFly(Exception):
    """A net that cannot be flown; ``str`` says why, in words for the reader."""


@contextmanager
def in_words():
    """Let what cannot be flown be raised as CannotFly, with why."""
    try:
        yield
    except KeyError as error:  # chain that nobody sells
        raise CannotFly(str(error.args[0])) from error
    except (ValueError, flight.NotAtRest) as error:
        raise CannotFly(str(error)) from error


class Known(NamedTuple):
    """
    A saved net as flight knows it: its rigs by what one starts from, and its evidence.

    ``cut_for`` is the rig that its netting was cut for, ``read`` what its tows say.
    """

    rigs: dict[str, Rig]
    cut_for: Rig
    told: flight.Told
    evidence: tuple[flight.Seen, ...]
    read: shine_log.Heights

    @property
    def plan(self):
        """The plan.Plan of the net's conversion."""
        return self.read.plan


def known(net, on):
    """Return the Known of ``net`` by the rules of the date ``on``."""
    read = shine_log.heights(net, on)
    plan = read.plan
    rigs = {PLANNED: plan.planned, NOW: plan.present}
    if read.rigging is not None:
        rigs[HANGS] = read.hangs
    evidence = in_flight.seen(read.heights) or (flight.custom(read.hangs),)
    speed = evidence[-1].speed
    if speed is None:
        towed = told(net.measures, read.hangs)
    else:
        towed = told(net.measures, read.hangs, speed, read.told[-1].speed_spread)
    return Known(rigs, plan.present, towed, evidence, read)


class Tried(NamedTuple):
    """A rig ``before`` and ``after`` a change, and what is believed of the net."""

    known: Known
    before: Rig
    after: Rig
    beliefs: flight.Beliefs


def tried(found, start, alteration=None, *, convert=False):
    """
    Return the Tried of ``alteration`` on the rig that ``start`` names in ``found``, a Known.

    With ``convert`` it is converted as planned before that. Raise CannotFly where the net or the
    change cannot be flown.
    """
    before = found.rigs[start]
    with in_words():
        after = (alteration or Alteration()).of(found.rigs[PLANNED] if convert else before)
        beliefs = believed(found, before)
        for rig in (before, after):
            beliefs.flown(rig)
    return Tried(found, before, after, beliefs)


def believed(found, rig):
    """
    Return the flight.Beliefs of a net, a Known, of which ``rig`` is to be flown.

    Raise CannotFly for what has to be entered first, and what in_flight.beliefs raises.
    """
    lacking = flight.missing(rig) or flight.missing(found.evidence[-1].rig)
    if lacking:
        raise CannotFly(_("Not entered yet: {lacking}.").format(lacking=_("; ").join(lacking)))
    return in_flight.beliefs(found.cut_for, found.told, found.evidence)


def cases(found, rig):
    """Return the flight.Cases of a Known flown with ``rig``; raise what in_flight.cases raises."""
    return in_flight.cases(found.cut_for, found.told, found.evidence, rig)


def shown(made, on):
    """Return what nets/flight_figure.html shows of a Tried, as context."""
    before, after = made.beliefs.flown(made.before), made.beliefs.flown(made.after)
    moved = flight.compare(made.beliefs, made.before, made.after)
    with_heights = made.beliefs.knows_heights
    changed = after if made.before != made.after else None
    context = {
        "with_heights": with_heights,
        "changes": changed is not None,
        "ahead": drawn(
            flight_from_ahead(before, changed, with_heights=with_heights), "flight-ahead"
        ),
        "views": [
            (
                _("From the side"),
                drawn(
                    flight_from_the_side(before, changed, with_heights=with_heights), "flight-side"
                ),
            ),
            (
                _("From above"),
                drawn(
                    flight_from_above(before, changed, with_heights=with_heights), "flight-above"
                ),
            ),
        ],
        "places": flight_words.places(after, moved, with_heights),
        "headline": flight_words.headline(moved),
        "only_shine": flight_words.ONLY_SHINE,
        "with_a_sweep": flight_words.WITH_A_SWEEP if _has_sweep(made) else "",
        "why_no_heights": flight_words.why_no_heights(made.beliefs),
    }
    if not made.known.plan.lapsed:  # without a version for today nothing is said of the rules
        was, verdict = (
            judge(rig, made.known.plan.rulebook, on) for rig in (made.before, made.after)
        )
        context["rules"] = rules_after(was, verdict)
        context["failed"] = verdict.failed
    return context


def _has_sweep(made):
    return any(rig.sweep is not None for rig in (made.before, made.after))


def how_sure(made):
    """
    Return what nets/flight_sure.html shows of a Tried, as context; it takes seconds.

    Raise CannotFly where hardly any net that may be this one flies.
    """
    with in_words():
        spreads = cases(made.known, made.before).after(made.after)
    return {
        "verdict": flight_words.verdict_of(spreads),
        "sure": flight_words.how_sure(spreads),
        "count": spreads[0].of,
        "borne_out": borne_out.last_change(
            made.known.cut_for, made.known.told, made.known.read.heights
        ),
    }
