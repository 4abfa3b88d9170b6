"""The fault on a drawing, if there is one."""

from ..kinds.find_fault import KEYS, NOTHING, PLACES, RULE_AT


def answer(task, mind, rng):
    """Find it by the rules; or by the look of the net, as far as what is wrong stands out."""
    findings = [task.verdict.finding(key) for key in KEYS]
    if not mind.directed and not any(mind.knows(each.requirement) for each in findings):
        return {"place": rng.choice(PLACES)}
    seen = [each.key for each in findings if mind.part_breaks(task.rig, each, task.difficulty, rng)]
    if not seen:
        return {"place": NOTHING}
    key = rng.choice(seen)
    if task.fault is not None and task.fault.key == key:
        return {"place": task.place}
    return {"place": rng.choice([place for place in RULE_AT if RULE_AT[place][0] == key])}
