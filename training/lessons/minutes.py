"""
How long things take, in one place, so that every page says the same.

All of it is common practice, no source. Reading goes by the words, at the pace of somebody who
reads little; a task by what a careful person takes for it, its result included.
"""

WORDS_A_MINUTE = 150

SECONDS = {
    "one-reading": 30,
    "choose-one": 45,
    "find-fault": 45,
    "choose-several": 60,
    "enter-measure": 60,
    "pick-chain": 60,
    "space-droppers": 120,
    "judge-rig": 120,
    "read-shine": 150,
    "order-conversion": 150,
    "measure-drawing": 300,
}
"""Seconds for one task, by the slug of its kind."""

UNKNOWN = 120
"""Seconds for a task of a kind that is not on the list."""


def reading(words):
    """Return how many seconds it takes to read so many ``words``."""
    return words * 60 / WORDS_A_MINUTE


def task(kind):
    """Return how many seconds one task of ``kind``, a slug, takes."""
    return SECONDS.get(kind, UNKNOWN)


def whole(seconds):
    """Return ``seconds`` as whole minutes for a page: the nearest number, 1 at least, 0 of none."""
    return max(1, int(seconds / 60 + 0.5)) if seconds else 0
