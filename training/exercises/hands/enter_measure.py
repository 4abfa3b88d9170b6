"""A measure worked out from a limit."""

from dataclasses import replace

from rigs.words.units import inches

WRONG_BY = 9 / 8  # who works it out wrong is off by an eighth


def answer(task, mind, rng):
    """Work it out by the limit that the person knows, or goes by without knowing it."""
    requirement = task.rulebook.requirement(task.key)
    if not mind.knows(requirement):
        task = _by(task, replace(requirement, limit=mind.limit(requirement), metric=None))
    elif mind.slips_on(mind.slips.work[task.difficulty], rng):
        value = task.just_kept * WRONG_BY
        return {"measure": str(round(value) + 1) if task.counted else inches(value)}
    return {"measure": task.right_text}


def _by(task, believed):
    """Return ``task`` under rules in which the requirement ``believed`` stands for its like."""
    book = task.rulebook
    others = tuple(believed if r.key == believed.key else r for r in book.requirements)
    return replace(task, rulebook=replace(book, requirements=others))
