"""
How long reading takes, and how any time is said, so that every page says the same.

It goes by the words, at the pace of somebody who reads little: common practice, no source. How
long a task takes, its kind of exercise says.
"""

WORDS_A_MINUTE = 150


def reading(words):
    """Return how many seconds it takes to read so many ``words``."""
    return words * 60 / WORDS_A_MINUTE


def whole(seconds):
    """Return ``seconds`` as whole minutes for a page: the nearest number, 1 at least, 0 of none."""
    return max(1, int(seconds / 60 + 0.5)) if seconds else 0
