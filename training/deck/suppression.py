"""Small counts kept out of reports, since a few people in a small harbor are known."""

# Common practice in official statistics, no single source: below five people or vessels,
# a number tells on somebody.
SMALLEST = 5


def shown(count):
    """Return ``count`` if it may be shown: nought or at least SMALLEST; None otherwise."""
    return None if 0 < count < SMALLEST else count
