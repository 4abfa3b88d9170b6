"""Small counts kept out of reports, since a few people in a small harbour are known."""

from collections.abc import Hashable, Mapping

# Common practice in official statistics, no single source: below five people or vessels,
# a number tells on somebody.
SMALLEST = 5


def shown(count):
    """Return ``count`` if it may be shown: nought or at least SMALLEST; None otherwise."""
    return None if 0 < count < SMALLEST else count


def suppressed(counts: Mapping[Hashable, int]):
    """
    Return ``counts``, parts of a total that is shown beside them, as dict of count or None.

    What is left out could be had back together by taking the others from the total. As
    long as that is a small count itself, the smallest of the others, noughts aside, is
    left out too.
    """
    found = {key: shown(count) for key, count in counts.items()}
    while shown(sum(counts[key] for key, count in found.items() if count is None)) is None:
        others = [key for key, count in found.items() if count]
        if not others:
            break
        found[min(others, key=lambda key: found[key])] = None
    return found
