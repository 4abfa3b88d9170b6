"""The steps of a conversion."""

from ..kinds.order_conversion import FLOATS, OUT

SKILL = "the order of a conversion"
OFTEN = 0.35  # how often somebody who does not know the order takes a step too soon
REPAIR = "set_"


def answer(task, mind, rng):
    """Do what the net seems to need, some of it too soon, and leave the rest out."""
    steps = [step.key for step in task.steps]
    keys = sorted(task.jumbled, key=lambda key: steps.index(key) if key in steps else len(steps))
    if mind.knows(SKILL):
        chance = mind.slips.work[task.difficulty] / len(keys)
    elif mind.directed:
        chance = OFTEN
    else:
        rng.shuffle(keys)
        chance = 0
    for at in range(1, len(keys)):
        if mind.slips_on(chance, rng):
            keys.insert(rng.randrange(at), keys.pop(at))
    if task.may_leave_out:
        now = task.plan.now
        keys = [key for key in keys if _is_done(task, now, key, key in steps, mind, rng)]
    numbers = {key: str(number) for number, key in enumerate(keys, 1)}
    return {key: numbers.get(key, OUT) for key in task.jumbled}


def _is_done(task, now, key, needed, mind, rng):
    """Return whether the person takes the step ``key`` for one that the net needs."""
    if key.startswith(REPAIR):
        keys = FLOATS if key == "set_floats" else (key.removeprefix(REPAIR),)
        return any(
            mind.part_breaks(task.rig, now.finding(each), task.difficulty, rng) for each in keys
        )
    if mind.knows(SKILL):
        return needed is not mind.slips_on(mind.slips.missed[task.difficulty] / 2, rng)
    return rng.random() < 0.5
