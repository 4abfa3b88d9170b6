"""
How many of a group's vessels converted, told so that no small count can be worked out.

Vessels in each harbor are no secret; who of them fishes without a sweep is, as is who
alone still does not. So a group is told only if both counts may be shown, and groups kept
back must not be found again from the whole: there are none or at least two of them, and
together they hold enough of both sorts.
"""

from training.deck.suppression import SMALLEST, shown


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
