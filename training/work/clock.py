"""
What is to be done again and again: commands that the worker runs, so that no scheduler is needed.

A room registers its own by ``every`` when its app starts.
"""

from collections.abc import Callable
from datetime import datetime, time, timedelta
from typing import NamedTuple

from django.utils import timezone

MINUTE, HOUR, DAY = timedelta(minutes=1), timedelta(hours=1), timedelta(days=1)
AT_NIGHT = time(4)  # in the site's time: what is done once a day


class Repeated(NamedTuple):
    """A ``command`` to be run each ``period``; ``wanted`` says whether it is of use here."""

    command: str
    period: timedelta
    wanted: Callable | None = None

    def due(self, now):
        """Return the latest moment, no later than ``now``, at which it was to be run."""
        if self.period < DAY:
            seconds = self.period.total_seconds()
            return datetime.fromtimestamp(now.timestamp() // seconds * seconds, tz=now.tzinfo)
        local = timezone.localtime(now)
        day = local.date() - (DAY if local.time() < AT_NIGHT else timedelta(0))
        return timezone.make_aware(datetime.combine(day, AT_NIGHT))


repeated = {}


def every(period, command, wanted=None):
    """Have ``command`` run each ``period``, DAY or less; if given, only while ``wanted()``."""
    repeated[command] = Repeated(command, period, wanted)
