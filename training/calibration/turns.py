"""An officer's turn in a round: judged rig by rig, saved each time, handed in once."""

import random
from typing import NamedTuple

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from . import recalled
from .making import RoundRig, rigs_of
from .models import Call, Round, Turn


class TurnClosed(ValueError):
    """A change that came after the turn was handed in or its round was closed."""


class StaleCall(ValueError):
    """A save by someone who had not seen the call saved last, from another device."""


class NotFinished(ValueError):
    """A turn handed in before every rig was judged."""


class TurnRig(NamedTuple):
    """One rig as it comes up in a turn: ``place`` counts from 1 in this officer's order."""

    place: int
    shown: RoundRig
    call: Call | None


def entries(turn):
    """Return the TurnRigs of ``turn`` in its officer's own order."""
    rigs = list(rigs_of(turn.round))
    # Each officer has another order, so that who gets tired errs on other rigs.
    random.Random(f"turn/{turn.round.seed}/{turn.officer_id}").shuffle(rigs)
    calls = {call.number: call for call in turn.calls.all()}
    return [TurnRig(place, each, calls.get(each.number)) for place, each in enumerate(rigs, 1)]


def next_open(found, after=0):
    """Return the first TurnRig of ``found`` not judged yet, looking on from place ``after``."""
    waiting = [each for each in found if each.call is None]
    return next((each for each in waiting if each.place > after), waiting[0] if waiting else None)


def is_open(turn):
    """Return whether calls in ``turn`` can still be made or changed."""
    return turn.handed_in is None and turn.round.closed is None


def _held(turn):
    """Return ``turn`` read anew and held until the transaction ends; raise TurnClosed if it is."""
    # The round too, so that it is not closed while a call is being saved.
    round_ = Round.objects.select_for_update().get(pk=turn.round_id)
    held = Turn.objects.select_for_update().get(pk=turn.pk)
    if held.handed_in:
        raise TurnClosed(_("You have turned this round in already. It cannot be changed."))
    if round_.closed:
        raise TurnClosed(_("This round has been closed. Your saved answers stay."))
    return held


@transaction.atomic
def save(turn, number, verdict, failing, revision):
    """
    Save what the officer says of rig ``number`` and return the Call; saved means on disk.

    ``failing`` are keys of rules; ``revision`` is that of the call the writer had seen, 0
    for none. The same call sent twice is saved once. Raise StaleCall if another device
    saved since, TurnClosed if nothing can be changed any more.
    """
    held = _held(turn)
    failing = sorted(failing)
    call = Call.objects.filter(turn=held, number=number).first()
    if call is None:
        return Call.objects.create(
            turn=held,
            number=number,
            verdict=verdict,
            failing=failing,
            saved=timezone.now(),
        )
    if (call.verdict, call.failing) == (verdict, failing):
        return call
    if revision != call.revision:
        raise StaleCall(
            _(
                "This rig was judged from another place since you opened it here. Look at both. "
                "If you save again, this call replaces that one."
            )
        )
    call.verdict, call.failing, call.revision = verdict, failing, call.revision + 1
    call.saved = timezone.now()
    call.save(update_fields=["verdict", "failing", "revision", "saved"])
    return call


@transaction.atomic
def hand_in(turn, now=None):
    """
    Hand ``turn`` in and return it; doing so again changes nothing.

    Raise NotFinished while a rig has not been judged, TurnClosed if the round is closed.
    """
    try:
        held = _held(turn)
    except TurnClosed:
        turn.refresh_from_db()
        if turn.handed_in:
            return turn
        raise
    left = turn.round.count - held.calls.count()
    if left:
        rigs = _("1 rig is") if left == 1 else _("{left} rigs are").format(left=left)
        raise NotFinished(
            _("{rigs} not judged yet. Where you cannot tell, say so.").format(rigs=rigs)
        )
    held.handed_in = now or timezone.now()
    held.save(update_fields=["handed_in"])
    recalled.note(held)
    turn.refresh_from_db()
    return turn
