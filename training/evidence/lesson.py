"""The fleet's own paired tows in a lesson, when there are enough of them."""

from django.template.loader import render_to_string

from training.lessons.standing import place

from . import figures, pooled, words


@place("fleet-catches")
def fleet_catches():
    """Return what the paired tows say as HTML; one query, and what was reckoned is kept."""
    found = pooled.evidence()
    figure = figures.ratios(found) if found.enough else None
    context = {
        "evidence": found,
        "told": figures.told(found),
        "svg": figure.svg if figure else "",
        "caption": figure.caption if figure else "",
        "needed": words.NEEDED,
    }
    return render_to_string("evidence/lesson_catches.html", context)
