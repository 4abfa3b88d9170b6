"""Several readings, each of another rule."""

from ..kinds.choose_several import NONE


def answer(task, mind, rng):
    said = [
        each.requirement.key
        for each in task.options
        if mind.reading_breaks(each.finding, task.difficulty, rng)
    ]
    return {"broken": said or [NONE]}
