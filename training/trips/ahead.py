"""The days ahead and the rules' text, which stay on the page where the site cannot be asked."""

from django.utils import timezone

from rigs.drawing.area import area_view
from rigs.rules import ahead, openings
from rigs.rules.wording import source
from training.deck.drawn import drawn


def _rules(book):
    """Return the rules of ``book`` as (title, what is asked, its clause, a warning)."""
    return [
        (each.title, each.allowed_text, source(each), each.caution)
        for each in book.requirements
        if each.binds
    ]


def _of(first):
    found = ahead.spells(first)
    closures = openings.closures(first)
    fisheries = [
        {
            "rulebook": runs[-1].rulebook,
            "spells": [
                {
                    "spell": run,
                    "chart": drawn(
                        area_view(openings.parts(run.rulebook, run.first), None, closures),
                        f"ahead-{name}-{run.first}",
                    ),
                }
                for run in runs
            ],
            "rules": _rules(runs[-1].rulebook),
        }
        for name, runs in found.items()
    ]
    return {
        "data": ahead.script_data(found, first),
        "first": first,
        "fisheries": fisheries,
        "gear": [(book, _rules(book)) for book in openings.gear_books(first)],
    }


# (the day, the rule sets, what is shown): the same for all until one changes.
_kept = (None, (), {})


def shown():
    """Return what the page shows of the days from today on, as a dict."""
    global _kept
    today = timezone.localdate()
    # One that is approved today changes the days ahead.
    books = (*openings.fisheries(today), *openings.fisheries(), *openings.gear_books(today))
    day, before, found = _kept
    if day != today or [*map(id, before)] != [*map(id, books)]:
        found = _of(today)
        _kept = (today, books, found)
    return found
