"""The fleet's own paired tows in a lesson, when there are enough of them."""

from django.template.loader import render_to_string

from training.lessons.standing import place

from . import figures, pooled, words


@place("fleet-catches")
def fleet_catches():
    """Return what the paired tows say as HTML; one query, and what was reckoned is kept."""
    found = pooled.evidence()
    context = {
        "evidence": found,
        "basis": words.basis(found),
        "told": figures.told(found),
        "svg": figures.ratios(found).svg if found.enough else "",
        "needed": words.NEEDED,
    }
    return render_to_string("evidence/lesson_catches.html", context)
