"""What a season report tells, as of one day, with small counts kept back or whole."""

from datetime import date
from typing import NamedTuple

from rigs.rules import rulebook
from training.deck.suppression import SMALLEST
from training.evidence.pooled import Evidence, evidence, shared_catches
from training.people import sight
from training.register.sizes import SIZES
from training.register.uptake_sums import grouped

from . import counting, dates, telling
from .dates import Season
from .telling import Told

MOST_SEASONS = 5
"""As many seasons as can be reported on, counted back from the latest."""
MOST_RULES = 10
FEWEST_FOLLOWED = 4 * SMALLEST
"""As many vessels as a curve is drawn of: each step of it is somebody's."""


class GroupUptake(NamedTuple):
    """A harbor or size: how many vessels, and how many converted, None if kept back."""

    name: str
    vessels: int
    converted: int | None


class SeasonBefore(NamedTuple):
    """The figures of the season before, as of the day ``on`` of it."""

    season: Season
    on: date
    told: Told


class Report(NamedTuple):
    """
    All that a report tells, as it was at the end of the day ``on``.

    ``for_office`` has it whole, else small counts are kept back. ``harbors`` is whose
    vessels it is about, None for the whole fleet. ``followed`` are conversion's, [] if
    there are too few to draw. ``before`` is None if nothing is known of the season before.
    """

    season: Season
    on: date
    is_running: bool
    for_office: bool
    harbors: list | None
    told: Told
    before: SeasonBefore | None
    by_harbor: list[GroupUptake]
    by_size: list[GroupUptake]
    followed: list
    rules: list[counting.RuleMissed]
    evidence: Evidence
    rulebooks: list
    is_demo: bool


def gather(user, season, today, for_office=False):
    """Return the Report of ``season`` on what ``user`` looks after, as it was or is ``today``."""
    on = min(season.last, today)
    counts = counting.count(user, season, on)
    harbors = sight.harbors_of(user)
    fewest = 1 if for_office else FEWEST_FOLLOWED
    found = evidence([each for each in shared_catches() if each.day <= on])
    return Report(
        season=season,
        on=on,
        is_running=on < season.last,
        for_office=for_office,
        harbors=None if harbors is None else sorted(harbors),
        told=telling.everything(counts) if for_office else telling.alone(counts),
        before=_before(user, counts, season, for_office),
        by_harbor=_groups(counts.cells, "harbor", {}, for_office),
        by_size=_groups(
            counts.cells, "size", {size.key: size.words.capitalize() for size in SIZES}, for_office
        ),
        followed=counts.followed if len(counts.followed) >= fewest else [],
        rules=_rules(user, season, on, for_office),
        evidence=found,
        rulebooks=[rulebook.in_force(name, on) for name in rulebook.gear_names(on)],
        is_demo=counts.is_demo or found.is_demo,
    )


def _before(user, counts, season, for_office):
    """Return the SeasonBefore, as far into it as ``counts`` are into ``season``."""
    before = dates.season(season.year - 1)
    on = dates.same_day(season, counts.on, before)
    then = counting.count(user, before, on)
    if not (then.vessels or then.people):
        return None
    told = telling.everything(then) if for_office else telling.beside(then, counts)
    return SeasonBefore(before, on, told)


def _groups(cells, field, names, for_office):
    groups = grouped(cells, field)
    told = {key: row[1] for key, row in groups.items()} if for_office else telling.parts(groups)
    return [GroupUptake(names.get(key, key), groups[key][0], told[key]) for key in groups]


def _rules(user, season, on, for_office):
    """Return the rules that the largest share of people missed, small counts left out."""
    found = [
        rule
        for rule in counting.rules_missed(user, season, on)
        if for_office or telling.whole(rule.missed, rule.people) is not None
    ]
    return found[:MOST_RULES]
