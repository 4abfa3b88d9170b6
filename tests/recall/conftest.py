from datetime import datetime, time

import pytest
from django.utils import timezone

from training.recall import sets
from training.recall.models import ReadingSet

RULES = [("no-sweep", "float_spacing"), ("no-sweep", "dropper_stock"), ("no-sweep", "no_sweep")]


def at(day, hour=12):
    """Return noon, or another hour, of the date ``day`` where the site is."""
    return timezone.make_aware(datetime.combine(day, time(hour)))


def said(reading, right=True):
    """Return the raw answer to ``reading`` that is right, or the one that is not."""
    broken = sets.task_of(reading).broken
    return {"said": "broken" if broken is right else "met"}


def answer_all(reading_set, right=True, now=None):
    for reading in reading_set.readings.filter(answered=None):
        sets.answer(reading, said(reading, right), now)
    reading_set.refresh_from_db()


@pytest.fixture
def open_set(user):
    """A function that opens a set for ``user``."""

    def opened(rules=RULES, purpose=ReadingSet.Purpose.START, **options):
        return sets.open_set(user, purpose, rules, **options)

    return opened
