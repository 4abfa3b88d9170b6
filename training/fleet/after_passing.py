"""
Do those who passed keep their rules? What officers found on nets of vessels they fish on.

A check sheet names a vessel, not a person. So a sheet is counted with a person who fished on
that vessel on that day and had passed before, whoever of the crew rigged the net. A certificate
taken back does not count; one that ran out does, since the question is what stays.
"""

from collections import defaultdict
from typing import NamedTuple

from django.utils import timezone

from rigs.models import CheckSheet
from training.certification.certificates import all_taken_back
from training.certification.models import Certificate

from .deriving.sources import names_of
from .models import Crew, Vessel
from .reach import within
from .register.entries import plain_place, plain_registration
from .spans import SPANS, span_of

SOONER = "under 30 days"
NOBODY = "nobody on board had passed"


class Checked(NamedTuple):
    """How many ``sheets`` were finished, and on how many an officer found nothing outside."""

    sheets: int = 0
    clear: int = 0

    def with_one(self, clear):
        return Checked(self.sheets + 1, self.clear + clear)


def checks_after_passing(user, people=None):
    """
    Return the Checked of the vessels that ``user`` looks after, by the words of the span.

    The span is that from the latest pass of somebody who fished on the vessel on the day
    of the check, up to the check; sheets of vessels on which nobody had passed are under
    NOBODY. With ``people``, numbers of people, only their passes count and only sheets of vessels
    on which one of them fished. A sheet is counted once. Four queries.
    """
    sheets = _sheets_by_vessel(user)
    berths, passes = _berths(sheets, people), _passes()
    found = dict.fromkeys([SOONER, *(span.words for span in SPANS), NOBODY], Checked())
    for vessel, checked in sheets.items():
        for day, clear in checked:
            aboard = [
                person
                for person, since, until in berths[vessel]
                if since <= day and (until is None or day <= until)
            ]
            if people is not None and not aboard:
                continue
            passed = [each for person in aboard for each in passes[person] if each <= day]
            words = _words((day - max(passed)).days) if passed else NOBODY
            found[words] = found[words].with_one(clear)
    return found


def _words(days):
    span = span_of(days)
    return span.words if span else SOONER


def _sheets_by_vessel(user):
    """Return (day, whether nothing was outside) of the finished sheets, by number of the vessel."""
    vessels = list(within(Vessel.objects.all(), user))
    place, number = names_of(vessels)
    found = defaultdict(list)
    rows = CheckSheet.objects.finished().order_by("pk")
    for name, harbour, day, outside in rows.values_list("vessel_name", "harbour", "day", "outside"):
        vessel = place.get(plain_place(name, harbour)) or number.get(plain_registration(name))
        if vessel is not None:
            found[vessel].append((day, outside == 0))
    return found


def _berths(vessels, people):
    berths = Crew.objects.filter(vessel__in=list(vessels)).order_by()
    if people is not None:
        berths = berths.filter(user__in=people)
    found = defaultdict(list)
    for vessel, person, since, until in berths.values_list("vessel", "user", "since", "until"):
        found[vessel].append((person, since, until))
    return found


def _passes():
    """Return the days on which each person passed, certificates taken back left out."""
    standing = Certificate.objects.exclude(pk__in=all_taken_back().values("pk")).order_by()
    found = defaultdict(list)
    for person, issued in standing.values_list("paper__user", "issued"):
        found[person].append(timezone.localdate(issued))
    return found
