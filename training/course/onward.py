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
    state = progress_for(reading_set.user).of(lesson.slug)
    if state is not None and state.complete:
        return Onward(_("Lesson complete: go to my next step"), reverse("home"))
    page = reverse("lessons:detail", args=[lesson.slug])
    if state is not None and not state.read:
        return Onward(_("Read the lesson"), page)
    return Onward(_("Back to the lesson"), f"{page}#next")


@leads_on(ReadingSet.Purpose.START)
def to_lessons(reading_set):
    return Onward(_("Go to my next step"), reverse("home"))


@leads_on(ReadingSet.Purpose.REVIEW)
def to_rules(reading_set):
    if reading_set.subject:  # one rule alone
        return Onward(_("Back to my rules"), reverse("recall:rules"))
    return Onward(_("Go to my home page"), reverse("home"))
