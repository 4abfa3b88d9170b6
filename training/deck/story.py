"""
What happened to a person or a vessel, in order of time: each room tells its own part.

A room registers a teller when the site starts; the pages ask the whole story.
"""

from collections.abc import Iterable
from datetime import date, datetime
from typing import NamedTuple

from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy


class Kind(models.TextChoices):
    """What a telling is about, as one may choose to see it alone."""

    GROUP = "groups", gettext_lazy("Groups")
    SESSION = "sessions", gettext_lazy("Sessions")
    LESSON = "lessons", gettext_lazy("Lessons")
    EXAM = "exams", gettext_lazy("Exams")
    CERTIFICATE = "certificates", gettext_lazy("Certificates")
    CREW = "crew", gettext_lazy("Crew")
    STAGE = "stages", gettext_lazy("Stages")
    SHEET = "sheets", gettext_lazy("Check sheets")
    NET = "nets", gettext_lazy("Nets and tows")
    CALL = "calls", gettext_lazy("Calls")
    LETTER = "letters", gettext_lazy("Letters")
    REGISTER = "register", gettext_lazy("Register")


class Telling(NamedTuple):
    """
    One thing that happened, in a sentence.

    ``when`` is a date, or an aware datetime where the hour is known. ``link`` is the address
    of the thing itself, ``note`` what somebody wrote about it. ``ways`` are (words, address) of
    what staff may do about it, ``pictures`` (words, address) of photographs. ``is_void`` is
    what does not count any more.
    """

    when: date | datetime
    kind: Kind
    text: str
    link: str = ""
    note: str = ""
    ways: tuple = ()
    pictures: tuple = ()
    is_void: bool = False

    @property
    def day(self):
        """The day of it, in the site's time zone."""
        return timezone.localdate(self.when) if isinstance(self.when, datetime) else self.when


class Story:
    """The tellers about one sort of thing; each takes the thing and who asks."""

    def __init__(self):
        self._tellers = []

    def teller(self, function):
        """
        Let ``function`` tell its part; return it.

        It takes the person or vessel and the member of staff who asks, and yields a Telling for
        each thing that he may see, in as many queries for many things as for few.
        """
        self._tellers.append(function)
        return function

    def told(self, about, user) -> list[Telling]:
        """Return all that ``user`` may see of what happened to ``about``, the latest first."""
        return latest_first(each for tell in self._tellers for each in tell(about, user))


def latest_first(tellings: Iterable[Telling]):
    """Return ``tellings`` by day, on each day by hour, those without an hour as the first of it."""
    return sorted(tellings, key=_order, reverse=True)


def _order(telling):
    moment = telling.when
    return telling.day, moment.timestamp() if isinstance(moment, datetime) else float("-inf")


PERSON, VESSEL = Story(), Story()
