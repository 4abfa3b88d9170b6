"""Several readings, each of another rule."""


def answer(task, mind, rng):
    said = [
        each.requirement.key
        for each in task.options
        if mind.reading_breaks(each.finding, task.difficulty, rng)
    ]
    # At least one has to be checked.
    return {"broken": said or [rng.choice(task.options).requirement.key]}
