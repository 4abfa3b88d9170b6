"""
Where a finished set leads.

Other apps say so for the purposes that are theirs: they put a function on the list when they
are ready.
"""

from typing import NamedTuple

from django.urls import reverse
from django.utils.translation import gettext as _

from training.lessons.loader import find
from training.recall.models import ReadingSet
from training.recall.remembered import KNOWN_ALREADY

from .progress import progress_for

PURPOSES = {}


class Onward(NamedTuple):
    """Words for a button, and where it leads."""

    label: str
    url: str


def leads_on(purpose):
    """Put the decorated function, which turns a ReadingSet into an Onward, on the list."""

    def decorator(function):
        PURPOSES[purpose] = function
        return function

    return decorator


def onward(reading_set):
    """Return the Onward of ``reading_set``: home, unless its purpose leads elsewhere."""
    leads = PURPOSES.get(reading_set.purpose)
    return leads(reading_set) if leads else Onward(_("Go to my home page"), reverse("home"))


@leads_on(ReadingSet.Purpose.LESSON)
def to_lesson(reading_set):
    try:
        lesson = find(reading_set.subject.removesuffix(KNOWN_ALREADY))
    except KeyError:  # taken out of the course since
        return Onward(_("Go to the lessons"), reverse("lessons:list"))
    progress = progress_for(reading_set.user)
    state = progress.of(lesson.slug)
    page = reverse("lessons:detail", args=[lesson.slug])
    if state is None:
        return Onward(_("Back to the lesson"), f"{page}#next")
    if not state.read and not state.complete:
        return Onward(_("Read the lesson"), page)
    return _to_step(progress.step_from(lesson.slug))


def _to_step(step):
    """Return the Onward to a NextStep; home, where there is more to do, if it is None."""
    if step is None:
        return Onward(_("All lessons complete: go to my home page"), reverse("home"))
    return Onward(step.label, step.url)


@leads_on(ReadingSet.Purpose.START)
def to_lessons(reading_set):
    return _to_step(progress_for(reading_set.user).next_step)


@leads_on(ReadingSet.Purpose.REVIEW)
def to_rules(reading_set):
    if reading_set.subject:  # one rule alone
        return Onward(_("Back to my rules"), reverse("recall:rules"))
    return Onward(_("Go to my home page"), reverse("home"))
