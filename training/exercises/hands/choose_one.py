"""The last of several sizes that still meets a rule."""

from ..kinds.choose_one import NONE


def answer(task, mind, rng):
    """Go by the rule, or else by the limit that is guessed at."""
    places = [*map(str, range(len(task.options))), NONE]
    if mind.knows(task.requirement):
        slips = mind.slips_on(mind.slips.reading[task.difficulty], rng)
        return {"option": rng.choice(places) if slips else task.right}
    if not mind.directed:
        return {"option": rng.choice(places)}
    met = [
        at for at, each in enumerate(task.options) if not mind.past(each.value, task.requirement)
    ]
    return {"option": str(met[-1] if task.most else met[0]) if met else NONE}
