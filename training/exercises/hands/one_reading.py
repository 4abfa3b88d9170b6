"""One reading of one rule."""

from ..kinds.one_reading import BROKEN, MET


def answer(task, mind, rng):
    return {"said": BROKEN if mind.reading_breaks(task.finding, task.difficulty, rng) else MET}
