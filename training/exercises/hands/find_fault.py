"""The fault on a drawing."""

from ..kinds.find_fault import PLACES, place_of


def answer(task, mind, rng):
    """Find it by the rule; or by the look of the net, as far as what is wrong stands out."""
    right = place_of(task.fault)
    wrong = [each for each in PLACES if each != right]
    chance = mind.slips.work[task.difficulty]
    sees = mind.part_breaks(task.rig, task.fault, task.difficulty, rng)
    if not mind.knows(task.fault.requirement):
        return {"place": right if sees and mind.directed else rng.choice(PLACES)}
    return {"place": rng.choice(wrong) if mind.slips_on(chance, rng) else right}
