"""What a page says about a version: where it stands, what differs, what it would change."""

from datetime import date
from itertools import pairwise
from typing import NamedTuple

from django.utils import timezone
from django.utils.translation import gettext as _

from rigs.rules import rulebook
from rigs.rules.cases.turned import TurnedCase, of_rules, turned
from rigs.rules.changes import RuleChange, changed_rules, head_differences, rule_differences
from training.people import sight

from . import impact
from .models import Version


class VersionRow(NamedTuple):
    """
    One version in the list: ``row`` is the Version it was drafted as, None if on file.

    One on file has no page of its own: its ``changes`` are told in the list.
    """

    version: str
    effective_from: date
    standing: str
    row: Version | None
    changes: tuple[RuleChange, ...] = ()


def _standing(book, is_now, today):
    if is_now:
        return _("in force")
    if book.effective_from > today:
        return _("to come")
    if book is rulebook.nearest(book.name, today):
        return _("ended on {date_text}").format(date_text=rulebook.date_text(book.effective_to))
    return _("replaced by a later one")


def shelf(user, today=None):
    """
    Return (Rulebook, its VersionRows, whether it has lapsed) for each rule set, latest first.

    Drafts are among the rows if ``user`` may see them. The Rulebook is that in force today,
    or where there is none the nearest.
    """
    today = today or timezone.localdate()
    drafted = {}
    versions = Version.objects.select_related("drafted_by", "approved_by", "withdrawal")
    for each in sight.rows(versions, user):
        drafted.setdefault(each.name, []).append(each)
    now = {book.name: book for book in rulebook.everything(today)}
    found = []
    for name in rulebook.names():
        rows = []
        known = {each.version: each for each in drafted.get(name, ())}
        current = now.get(name)
        for before, book in pairwise((None, *rulebook.versions(name))):
            standing = _standing(book, book is current, today)
            row = known.pop(book.version, None)
            changes = changed_rules(before, book) if before and row is None else ()
            rows.append(VersionRow(book.version, book.effective_from, standing, row, changes))
        rows += [VersionRow(e.version, e.effective_from, e.standing, e) for e in known.values()]
        rows.sort(key=lambda row: (row.effective_from, row.version), reverse=True)
        found.append((current or rulebook.nearest(name, today), rows, current is None))
    return found


class Differences(NamedTuple):
    """All that differs between ``old``, which is taken over from, and ``new``."""

    old: object
    new: object
    head: tuple
    rules: tuple


def differences(version):
    """Return the Differences of ``version`` from what it takes over from."""
    old, new = impact.taken_over(version), version.book
    return Differences(old, new, head_differences(old, new), rule_differences(old, new))


class TurnedAlike(NamedTuple):
    """Cases that a version turns alike: ``rows`` are (rule, what it said, what it would say)."""

    cases: tuple[TurnedCase, ...]
    rows: tuple[tuple[str, tuple[str, ...], tuple[str, ...]], ...]

    @property
    def first(self) -> TurnedCase:
        """The one that stands for all."""
        return self.cases[0]


class TurnedCases(NamedTuple):
    """The cases of a rule set that a version turns, out of ``of``, those alike together."""

    alike: tuple[TurnedAlike, ...]
    of: int

    @property
    def count(self) -> int:
        """How many cases would come out otherwise."""
        return sum(len(each.cases) for each in self.alike)


def turned_cases(told: Differences) -> TurnedCases:
    """Return the TurnedCases of the Differences ``told``."""
    alike: dict[tuple, list[TurnedCase]] = {}
    for case in turned(told.old, told.new):
        rows = tuple((turn.title, turn.said, turn.would_say) for turn in case.turns)
        alike.setdefault(rows, []).append(case)
    return TurnedCases(
        tuple(TurnedAlike(tuple(cases), rows) for rows, cases in alike.items()),
        len(of_rules(told.new.name)),
    )


class Counted(NamedTuple):
    """What comes of one rule: its change and the counts of nets and tasks."""

    change: object
    as_is: dict
    planned: dict
    tasks: int


NONE = {"breaks": 0, "keeps": 0, "untold": 0}


def counted_rules(old, new, counted):
    """
    Return what the Impact ``counted`` found for each rule that changed or came out otherwise.
    """
    changes = {change.key: change for change in changed_rules(old, new)}
    as_is, planned = (counted.found[state]["rules"] for state in (impact.AS_IS, impact.PLANNED))
    tasks = counted.found["tasks"]["rules"]
    return [
        Counted(change, as_is.get(key, NONE), planned.get(key, NONE), tasks.get(key, 0))
        for key, change in changes.items()
    ]
