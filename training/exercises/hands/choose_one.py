"""One of several readings of a rule."""

from .mind import is_plain, upward


def answer(task, mind, rng):
    """Choose by the rule, or else whichever lies farthest to the side asked for."""
    requirement, options = task.requirement, task.options
    places = range(len(options))
    knows = mind.knows(requirement) or (mind.directed and is_plain(requirement))
    if knows:
        slips = mind.slips_on(mind.slips.reading[task.difficulty], rng)
        right = [at for at in places if options[at].finding.failed is task.breaking]
        wrong = [at for at in places if at not in right]
        return {"option": str(rng.choice(wrong if slips and wrong else right))}
    if not mind.directed or any(each.finding.measured is None for each in options):
        return {"option": str(rng.choice(places))}
    most = upward(requirement) is task.breaking
    return {"option": str((max if most else min)(places, key=lambda at: _size(options[at])))}


def _size(option):
    return option.finding.measured
