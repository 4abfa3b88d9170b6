"""Says what importing a draft would do."""

from collections import Counter, defaultdict
from typing import NamedTuple

from django.utils import timezone

from training.people import sight

from .. import uptake
from ..folding import Happening
from ..models import AdoptionEvent, Removal, Vessel
from .comparing import Comparison, Outcome
from .entries import Answers, Reader, vocabulary


class Snapshot(NamedTuple):
    """
    The ``vessels`` of the register and what ``happened`` to each, by number.

    ``merged`` are the Removals of those that were merged into one of them.
    """

    vessels: list[Vessel]
    happened: dict[int, list[Happening]]
    merged: list[Removal]


def snapshot(with_events):
    """Return the Snapshot of the whole register."""
    happened = defaultdict(list)
    if with_events:
        for vessel, *told in AdoptionEvent.objects.order_by().values_list(*uptake.EVENT):
            happened[vessel].append(Happening(*told))
    merged = Removal.objects.filter(undone=None, into__isnull=False)
    merged = merged.select_related("vessel", "into")
    return Snapshot(list(Vessel.objects.order_by("pk")), happened, list(merged))


def outcomes(draft, register):
    """Yield what importing ``draft`` into the Snapshot ``register`` would do, Outcome by row."""
    answers, told = Answers(**draft.answers), vocabulary()
    reader = Reader(draft.columns, answers, told, timezone.localdate())
    comparison = Comparison(register, sight.harbors_of(draft.owner), told, answers.twins)
    for line, cells in draft.rows:
        yield comparison.outcome(reader.read(line, cells))


def register_for(draft):
    """Return the Snapshot that ``draft`` is to be compared with."""
    return snapshot(with_events="stage" in draft.columns)


def kept(found):
    """Return Outcomes as JSON keeps them."""
    return [list(outcome) for outcome in found]


def outcomes_of(draft):
    """Return the Outcomes that ``draft`` keeps."""
    return [Outcome(*each) for each in draft.outcomes]


def counts(found):
    """Return how many rows are to be added, changed, left as they are and refused, by ``does``."""
    return Counter(outcome.does for outcome in found)
