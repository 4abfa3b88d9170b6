"""What a round, and practice after it, say of what an officer remembers by rule."""

from training.recall import memory, sets

from . import practice
from .models import PracticeRig, Turn


def missed(turn):
    """Return the (rule set, key) that ``turn``, handed in, called wrong on any rig."""
    keys = {key for wrong in practice.departures(turn).values() for key in wrong}
    book = turn.round.rulebook
    return [(book.name, each.key) for each in book.requirements if each.key in keys]


def note(turn):
    """Have what was called wrong come back, in the transaction that hands ``turn`` in."""
    sets.bring_back(turn.officer, missed(turn), turn.handed_in)


@memory.source
def called(pks):
    """Yield what officers were Asked in rounds and called wrong."""
    turns = Turn.objects.filter(officer__in=pks, handed_in__isnull=False).order_by("pk")
    for turn in turns.select_related("round").prefetch_related("calls").iterator(chunk_size=50):
        if rules := missed(turn):
            answers = dict.fromkeys((key for _, key in rules), False)
            name = turn.round.rulebook_name
            yield memory.Asked(turn.officer_id, turn.handed_in, name, answers, turn.pk)


@memory.source
def practiced(pks):
    """Yield what officers were Asked in practice after a round."""
    rigs = PracticeRig.objects.filter(turn__officer__in=pks, handed_in__isnull=False)
    for rig in rigs.select_related("turn__round").order_by("pk").iterator():
        yield practice.asked(rig)
