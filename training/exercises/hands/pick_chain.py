"""The chain for the droppers."""

from ..kinds.pick_chain import CHOICES


def answer(task, mind, rng):
    """Pick the lightest chain that is heavy enough and, as far as is known, allowed."""
    stock = task.rulebook.requirement("dropper_stock")
    slips = mind.slips_on(mind.slips.work[task.difficulty], rng)
    fit = [each for each in CHOICES if task.meets_need(each)]
    if mind.knows(stock):
        fit = [each for each in fit if task.will_do(each)]
    elif mind.directed:
        fit = [each for each in fit if each.stock.size <= mind.limit(stock)]
    else:
        fit = []
    choice = rng.choice(CHOICES) if slips or not fit else min(fit, key=task.at_each)
    return {"stock": choice.stock.name, "count": str(choice.count)}
