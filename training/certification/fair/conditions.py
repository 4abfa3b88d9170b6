"""What is granted to a person, and what an exam was begun under."""

from datetime import datetime, timedelta
from typing import NamedTuple

from django.utils import timezone

from ..models import Conditions, Grant
from . import signing


class Granted(NamedTuple):
    """
    What holds for a person's exams: extra time in percent, and whether they are read aloud.

    ``reason`` is for the person and the staff alone.
    """

    extra_percent: int = 0
    read_aloud: bool = False
    reason: str = ""

    @property
    def is_something(self):
        """Whether it differs from what everybody has."""
        return bool(self.extra_percent or self.read_aloud)


class HowTaken(NamedTuple):
    """
    How an exam was taken, as anybody may know it.

    ``supervised`` is None where nothing was recorded. ``on`` is the day of the exam, and
    ``signed`` the moment at which the supervisor signed, or None. ``waits`` says that it
    was begun under supervision and may still be signed for.
    """

    supervised: bool | None
    on: datetime
    signed: datetime | None = None
    waits: bool = False


def granted(user, requirements):
    """Return what is Granted to ``user`` for the exams of ``requirements``."""
    last = Grant.objects.filter(user=user, requirements=requirements).last()
    return Granted(last.extra_percent, last.read_aloud, last.reason) if last else Granted()


def minutes_for(user, requirements):
    """Return the minutes that ``user`` has for an exam, None without a limit."""
    if not requirements.minutes:
        return None
    # Rounded up: nobody loses by the division.
    extra = granted(user, requirements).extra_percent
    return -(-requirements.minutes * (100 + extra) // 100)


def time_for(user, requirements):
    """Return the time that ``user`` has for an exam, None without a limit."""
    minutes = minutes_for(user, requirements)
    return minutes and timedelta(minutes=minutes)


def deadline(user, requirements, begun, supervision=None):
    """
    Return when an exam begun at ``begun`` is turned in by itself, or None.

    A supervised one ends with the supervision at the latest: what is worked on later was
    seen by nobody.
    """
    time = time_for(user, requirements)
    ends = [begun + time] if time else []
    if supervision:
        ends.append(supervision.ends)
    return min(ends, default=None)


def note(exam, supervision=None):
    """Keep what ``exam`` is begun under."""
    now = granted(exam.user, exam.requirements)
    return Conditions.objects.create(
        exam=exam,
        supervision=supervision,
        extra_percent=now.extra_percent,
        read_aloud=now.read_aloud,
    )


def of(exam):
    """Return the Conditions of ``exam``, or None if it is older than they are."""
    return getattr(exam, "conditions", None)


def how_taken(exam, now=None):
    """Return HowTaken of a ``exam`` that was turned in."""
    found = of(exam)
    if found is None:
        return HowTaken(None, exam.begun)
    if found.supervision is None:
        return HowTaken(False, exam.begun)
    signature = signing.last(found)
    if signature is None:
        waits = signing.is_open(found.supervision, now or timezone.now())
        return HowTaken(False, exam.begun, waits=waits)
    if not signature.confirms:
        return HowTaken(False, exam.begun)
    return HowTaken(True, exam.begun, signature.made)
