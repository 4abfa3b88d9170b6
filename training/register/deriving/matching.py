"""Brings the derived events of vessels in line with what the site's records say."""

from collections import defaultdict

from django.db import transaction
from django.utils.translation import gettext as _

from .. import uptake
from ..models import AdoptionEvent, Vessel
from ..stages import Known
from .sources import wanted

DERIVED = {Known.CREW, Known.CERTIFICATE, Known.PLAN, Known.RIGGED, Known.SHEET}


@transaction.atomic
def derive(vessel_pks):
    """
    Record for a chunk of vessels what the site knows of them; return how many new events.

    Doing it again does nothing.
    """
    # The lock keeps two of these from recording the same at once.
    vessels = list(Vessel.objects.select_for_update().filter(pk__in=set(vessel_pks)).order_by("pk"))
    should = wanted(vessels)
    origins, ends, lengths = _chains(vessels)
    known = {_source(event) for event in origins.values()}
    new = [_event(derived, key) for key, derived in sorted(should.items()) if key not in known]
    for key in sorted(origins):
        end, derived = ends[key], should.get(_source(origins[key]))
        # What staff said in its place stands.
        if end.by_id is None and not _agrees(end, derived):
            new.append(_follower(end, f"{key}#{lengths[key]}", derived))
    AdoptionEvent.objects.bulk_create(new)
    if new:
        uptake.refresh({event.vessel_id for event in new})
    return len(new)


def _source(event):
    """Return the key that ``event`` would have now: a vessel merged into another takes it along."""
    record, __, ___ = event.key.rpartition(":vessel:")
    return f"{record}:vessel:{event.vessel_id}"


def _chains(vessels):
    """
    Return the first events derived for ``vessels`` by key, and what stands for each now.

    The third is how many events there are from the first to that.
    """
    corrections = defaultdict(lambda: None)
    origins, ends, lengths = {}, {}, {}
    for event in AdoptionEvent.objects.filter(vessel__in=vessels).order_by("pk"):
        if event.corrects_id:
            corrections[event.corrects_id] = event
        elif event.known in DERIVED and event.by_id is None:
            origins[event.key] = event
    for key, event in origins.items():
        lengths[key] = 1
        while corrections[event.pk]:
            event = corrections[event.pk]
            lengths[key] += 1
        ends[key] = event
    return origins, ends, lengths


def _agrees(event, derived):
    """Return whether ``event`` says what ``derived`` wants; None wants it withdrawn."""
    if derived is None or event.is_withdrawal:
        return derived is None and event.is_withdrawal
    return (event.stage, event.day) == (derived.stage, derived.day)


def _event(derived, key, **more):
    return AdoptionEvent(
        vessel_id=derived.vessel,
        stage=derived.stage,
        day=derived.day,
        known=derived.known,
        key=key,
        **more,
    )


def _follower(end, key, derived):
    """Return the event that stands for ``end`` from now on."""
    if derived is not None:
        return _event(derived, key, corrects=end)
    return AdoptionEvent(
        vessel_id=end.vessel_id,
        stage=end.stage,
        day=end.day,
        known=end.known,
        key=key,
        corrects=end,
        is_withdrawal=True,
    )


def derive_all(say=lambda line: None):
    """
    Do the same for every vessel, chunk by chunk; return how many new events.

    ``say`` gets lines of progress. It can be stopped at any time and begun again.
    """
    pks = list(Vessel.objects.order_by("pk").values_list("pk", flat=True))
    done = recorded = 0
    for some in uptake.chunks(pks):
        recorded += derive(some)
        done += len(some)
        say(
            _("  {done} of {pks} vessels looked at, {recorded} new events.").format(
                done=done, pks=len(pks), recorded=recorded
            )
        )
    return recorded
