"""A measure worked out from a limit."""

from rigs.units import inches

WRONG_BY = 9 / 8  # who works it out wrong is off by an eighth


def answer(task, mind, rng):
    """Work it out; who does not know the limit is off by as much as the limit guessed is."""
    requirement, value = task.rulebook.requirement(task.key), task.just_kept()
    if not mind.knows(requirement):
        off = mind.limit(requirement) / requirement.limit if requirement.limit else WRONG_BY
        return {"measure": inches(value * off)}
    if mind.slips_on(mind.slips.work[task.difficulty], rng):
        value *= WRONG_BY
    return {"measure": inches(value)}
