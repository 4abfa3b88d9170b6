"""The figures of a round out of the database, for pages and for tables to download."""

from .figures import Figures
from .making import rigs_of
from .models import Turn


def turns_handed_in(round_):
    """Return the turns of ``round_`` that count, with their officers and calls."""
    return list(
        Turn.objects.filter(round=round_, handed_in__isnull=False)
        .select_related("officer")
        .prefetch_related("calls")
    )


def figures_of(round_, turns):
    """Return the Figures of ``turns`` of ``round_``, by turn; None without any."""
    if not turns:
        return None
    said = {turn: {call.number: call for call in turn.calls.all()} for turn in turns}
    return Figures(rigs_of(round_), said)
