"""The steps of a conversion."""

SKILL = "the order of a conversion"
OFTEN = 0.35  # how often somebody who does not know the order takes a step too soon


def answer(task, mind, rng):
    """Take the steps in their order, some of them too soon."""
    keys = [step.key for step in task.steps]
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
    return {key: str(number) for number, key in enumerate(keys, 1)}
