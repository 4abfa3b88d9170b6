"""
Do those who passed keep their rules? What officers found on nets of vessels they fish on.

A check sheet names a vessel, not a person. So a sheet is counted with a person who fished on
that vessel on that day and had passed before, whoever of the crew rigged the net. A certificate
taken back does not count; one that ran out does, since the question is what stays.
"""

from collections import defaultdict
from datetime import date
from typing import NamedTuple

from django.utils import timezone

from rigs.words.say import gettext_lazy
from training.certification.certificates import all_taken_back
from training.certification.models import Certificate
from training.checks.models import CheckSheet
from training.people import sight
from training.register.deriving.sources import NAMING, names_of, to_name
from training.register.models import Crew, Vessel

from .spans import SPANS, span_of

SOONER = "under 30 days"
NOBODY = gettext_lazy("nobody had passed")
WORDS = (SOONER, *(span.words for span in SPANS), NOBODY)
"""For how long before a check somebody had passed, in the order of the page."""


class _Sheet(NamedTuple):
    """A finished sheet: its number, its day, and whether nothing was outside."""

    pk: int
    day: date
    clear: bool


class Checked(NamedTuple):
    """How many ``sheets`` were finished, and on how many an officer found nothing outside."""

    sheets: int = 0
    clear: int = 0

    def with_one(self, clear):
        return Checked(self.sheets + 1, self.clear + clear)


def checks_after_passing(user, teams):
    """
    Return {team: {words of a span: Checked}}, of the vessels that ``user`` looks after.

    ``teams`` maps a team to the set of its people's numbers, or to None for everybody. The
    span is that from the latest pass of somebody of the team who fished on the vessel on the
    day of the check, up to the check; where none of them had passed, the sheet is under NOBODY. A
    sheet of a vessel on which nobody of the team fished is left out, except for everybody.
    Each sheet is counted once a team. Four queries, however many teams.
    """
    sheets = _sheets_by_vessel(user)
    found = {team: dict.fromkeys(WORDS, Checked()) for team in teams}
    for team, under, sheet in _placed(sheets, teams):
        found[team][under] = found[team][under].with_one(sheet.clear)
    return found


def sheets_behind(user, people, under, clear=False):
    """
    Return the numbers of the sheets that ``checks_after_passing`` counts for a team.

    Those of its ``people``, or None for everybody, ``under`` one of WORDS; with ``clear`` those
    with nothing outside alone.
    """
    placed = _placed(_sheets_by_vessel(user), {None: people})
    return [
        sheet.pk for __, words, sheet in placed if words == under and (sheet.clear or not clear)
    ]


def _placed(sheets, teams):
    """Yield each team, words for how long before, and _Sheet that counts for that team."""
    berths, passes = _berths(sheets), _passes()
    for vessel, checked in sheets.items():
        for sheet in checked:
            aboard = {
                person
                for person, since, until in berths[vessel]
                if since <= sheet.day and (until is None or sheet.day <= until)
            }
            for team, people in teams.items():
                of_team = aboard if people is None else aboard & people
                if of_team or people is None:
                    yield team, _under(sheet.day, of_team, passes), sheet


def _under(day, people, passes):
    """Return the words for how long before ``day`` one of ``people`` had last passed."""
    passed = [each for person in people for each in passes[person] if each <= day]
    return _words((day - max(passed)).days) if passed else NOBODY


def _words(days):
    span = span_of(days)
    return span.words if span else SOONER


def _sheets_by_vessel(user):
    """Return the finished sheets, as _Sheet, by number of the vessel."""
    names = names_of(to_name(sight.rows(Vessel.objects.all(), user)))
    found = defaultdict(list)
    rows = CheckSheet.objects.finished().order_by("pk")
    for pk, *told, day, outside in rows.values_list("pk", *NAMING, "day", "outside"):
        vessel = names.meant(*told)
        if vessel is not None:
            found[vessel].append(_Sheet(pk, day, outside == 0))
    return found


def _berths(vessels):
    berths = Crew.objects.filter(vessel__in=list(vessels)).order_by()
    found = defaultdict(list)
    for vessel, person, since, until in berths.values_list("vessel", "user", "since", "until"):
        found[vessel].append((person, since, until))
    return found


def _passes():
    """Return the days on which each person passed, certificates taken back left out."""
    standing = Certificate.objects.exclude(pk__in=all_taken_back().values("pk")).order_by()
    found = defaultdict(list)
    for person, issued in standing.values_list("exam__user", "issued"):
        found[person].append(timezone.localdate(issued))
    return found
