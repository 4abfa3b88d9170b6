"""
How many of a group's vessels converted, told so that no small count can be worked out.

Vessels in each harbor are no secret; who of them fishes without a sweep is, as is who
alone still does not. So a group is told only if both counts may be shown, and groups kept
back must not be found again from the whole: there are none or at least two of them, and
together they hold enough of both sorts.
"""

from typing import NamedTuple

from training.deck.suppression import SMALLEST, shown


class Told(NamedTuple):
    """Figures of one day as a report tells them; each but ``vessels`` may be None, kept back."""

    vessels: int
    converted: int | None
    came: int | None
    people: int | None
    begun: int | None
    certified: int | None


def _is_small(count):
    return shown(abs(count)) is None


def everything(counts):
    """Return the Told of SeasonCounts, nothing kept back."""
    return Told(*(getattr(counts, name) for name in Told._fields))


def alone(counts):
    """Return the Told of SeasonCounts, kept back what is small or follows from the rest."""
    converted = whole(counts.converted, counts.vessels)
    came = whole(counts.came, counts.vessels)
    if _is_small(counts.converted - counts.came):
        came = None
    people = shown(counts.people)
    begun = certified = None
    if people is not None:
        begun = whole(counts.begun, people)
        certified = whole(counts.certified, people)
        if _is_small(counts.begun - counts.certified):
            certified = None
    return Told(counts.vessels, converted, came, people, begun, certified)


def beside(before, now):
    """
    Return the Told of the SeasonCounts ``before`` beside those of ``now``.

    Kept back is also what differs by little from now: the difference would be told.
    """
    told, later = alone(before), alone(now)
    hidden = {
        name: None
        for name in ("converted", "people", "begun", "certified")
        if getattr(later, name) is not None
        and _is_small(getattr(now, name) - getattr(before, name))
    }
    change = now.converted - before.converted
    if later.converted is not None and later.came is not None and _is_small(later.came - change):
        # What came less what there is more went back, or away.
        hidden["converted"] = None
    return told._replace(**hidden)


def whole(converted, vessels):
    """Return ``converted`` if it and the rest of the ``vessels`` may be shown, else None."""
    if shown(converted) is None or shown(vessels - converted) is None:
        return None
    return converted


def parts(groups):
    """
    Return {group: converted, or None if kept back} of ``groups``, {group: (vessels, converted)}.

    Nothing is told of any group if the whole may not be told.
    """
    told = {key: whole(converted, vessels) for key, (vessels, converted) in groups.items()}
    vessels = sum(each for each, _ in groups.values())
    converted = sum(each for _, each in groups.values())
    if whole(converted, vessels) is None:
        return dict.fromkeys(groups)
    while _can_be_worked_out(groups, told):
        others = [key for key, count in told.items() if count is not None]
        if not others:
            break
        # The smallest goes next: least is lost by it.
        told[min(others, key=lambda key: groups[key][0])] = None
    return told


def _can_be_worked_out(groups, told):
    """Return whether what is kept back follows from the whole less what is told."""
    hidden = [groups[key] for key, count in told.items() if count is None]
    if not hidden:
        return False
    vessels = sum(each for each, _ in hidden)
    converted = sum(each for _, each in hidden)
    # With all or none of them converted each would be known; with few, somebody would.
    return len(hidden) < 2 or min(converted, vessels - converted) < SMALLEST
