"""
Sending what is new to the record store, each statement until it has arrived.

After a break the sending goes on where the store last said yes. A batch whose answer was
lost is sent again; since its statements have the same names, the store keeps them once.
"""

import time
from datetime import timedelta

from django.utils import timezone
from django.utils.translation import gettext as _

from .models import Delivery, Refused
from .statements import EVENTS, statement
from .store import NotNow, Refusal

BATCH = 50
TRIES = 6
FIRST_WAIT, LONGEST_WAIT = 1.0, 60.0  # seconds
# Rows get their numbers before they are saved for good: a lower number can appear after
# a higher one, though not by more than the longest request takes.
SETTLED = timedelta(minutes=5)


def waits(tries=TRIES):
    """Return how many seconds to wait after each try but the last: doubled each time."""
    return [min(FIRST_WAIT * 2**number, LONGEST_WAIT) for number in range(tries - 1)]


def _deliver(store, statements, sleep):
    """Send ``statements``, trying again while that is of use; raise NotNow if it is in vain."""
    for wait in waits():
        try:
            return store.send(statements)
        except NotNow as trouble:
            sleep(min(trouble.wait or wait, LONGEST_WAIT))
    return store.send(statements)


def push(store, address, say=lambda line: None, sleep=time.sleep, now=None):
    """
    Send everything that ``store`` does not have yet; return how many statements went.

    ``address`` is the site's. Raises NotNow when the store stays away and Shut when it
    does not let the site in; what arrived until then is not sent again.
    """
    settled = (now or timezone.now()) - SETTLED
    sent = 0
    for event in EVENTS:
        delivery, __ = Delivery.objects.get_or_create(event=event.key)
        while True:
            rows = event.rows().filter(pk__gt=delivery.last).order_by("pk")[:BATCH]
            batch = _settled(rows, event, settled)
            if not batch:
                break
            sent += _send(store, event, batch, address, sleep)
            delivery.last = batch[-1].pk
            delivery.save(update_fields=["last", "changed"])
            say(
                _("  {sent} sent, now {key} {last}").format(
                    sent=sent, key=event.key, last=delivery.last
                )
            )
    return sent


def _settled(rows, event, settled):
    """Return the leading ``rows`` that no row with a lower number can still precede."""
    found = []
    for row in rows:
        if getattr(row, event.moment) > settled:
            break
        found.append(row)
    return found


def _send(store, event, rows, address, sleep):
    """Send the statements of ``rows``; note those that are refused; return how many went."""
    try:
        _deliver(store, [statement(event, row, address) for row in rows], sleep)
    except Refusal as refusal:
        if len(rows) == 1:
            Refused.objects.get_or_create(
                event=event.key, row=rows[0].pk, defaults={"answer": str(refusal)}
            )
            return 0
        # One bad statement has the whole batch refused: find it by halves.
        half = len(rows) // 2
        return sum(_send(store, event, part, address, sleep) for part in (rows[:half], rows[half:]))
    return len(rows)
