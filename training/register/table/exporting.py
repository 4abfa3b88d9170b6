"""The register as a table that can be imported again."""

from django.utils import timezone

from rigs.rules import rulebook
from training.deck.passing import in_lots

from ..wording import stage_words
from .columns import COLUMNS, DEMO

HEADER = [*(column.header for column in COLUMNS), DEMO]
AT_A_TIME = 500


def rows(vessels):
    """
    Yield what stands under HEADER for each of ``vessels``, a queryset, AT_A_TIME.

    Lengths are written as on deck, days as such.
    """
    words = stage_words()
    gears = {book.name: book.title for book in rulebook.nearest_gear_books(timezone.localdate())}
    for vessel in in_lots(vessels.select_related("standing"), AT_A_TIME):
        standing = getattr(vessel, "standing", None)
        yield (
            vessel.name,
            vessel.harbor,
            vessel.length_text,
            vessel.registration,
            vessel.owner,
            vessel.captain,
            gears.get(vessel.gear, vessel.gear),
            vessel.is_fishing,
            words[standing.stage] if standing and standing.stage else "",
            standing.since if standing else None,
            vessel.is_demo,
        )
