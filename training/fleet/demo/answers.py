"""
Answers as people of varying skill give them, slips and all.

Each function takes a task, the skill from 0 to 1 of whoever answers, and a
random.Random; it returns a raw answer, which the kind's own grading then marks. A kind
of exercise that is not in ``HANDS`` is one that nobody in the demo has tried.
"""

from rigs.gear import SIDES
from rigs.practice import FOOTROPE_HEIGHT
from rigs.rulebook import ROUNDING
from rigs.tuning.way import way
from rigs.units import feet_inches, inches
from training.exercises.kinds.judge_rig import LEGAL, NOT_LEGAL
from training.exercises.kinds.measure_drawing import breaking
from training.exercises.kinds.measure_form import OUTSIDE, UNTOLD, WITHIN
from training.exercises.kinds.pick_chain import CHOICES
from training.exercises.kinds.read_shine import CHANGES
from training.exercises.kinds.space_droppers import SIGN, answer_at

from .picks import choose_one, choose_several, enter_measure, find_fault, one_reading

# How much further apart a stretched wing's droppers are: a foot in eight.
STRETCH = 9 / 8
OFTEN = 0.35  # how often someone without any skill makes one certain slip


def _side_of(places, side):
    return [at for at in places if at * SIGN[side] > 0]


def _forget_the_centre(task, places, rng):
    return [at for at in places if at != 0]


def _forget_a_corner(task, places, rng):
    corner = task.footrope.corner(rng.choice(SIDES))
    return [at for at in places if abs(at - corner) > ROUNDING]


def _forget_the_outermost(task, places, rng):
    outermost = rng.choice([min(places), max(places)])
    return [at for at in places if at != outermost]


def _stretch_a_wing(task, places, rng):
    """Hang one wing's droppers too far apart, and as many as then fit."""
    side = rng.choice(SIDES)
    corner, end = task.footrope.corner(side), task.footrope.end(side)
    stretched = [
        corner + (at - corner) * STRETCH if abs(at) > abs(corner) else at
        for at in _side_of(places, side)
    ]
    rest = [at for at in places if at * SIGN[side] <= 0]
    return rest + [at for at in stretched if abs(at) <= abs(end)]


def _measure_from_the_centre(task, places, rng):
    """Count the intervals off from the centre, as if there were no corners."""
    interval = task.rulebook.requirement("dropper_spacing").limit
    counted = [0.0]
    for side in SIDES:
        fit = int(abs(task.footrope.end(side)) / interval + ROUNDING)
        counted += [SIGN[side] * interval * step for step in range(1, fit + 1)]
    return counted


SLIPS = (
    _measure_from_the_centre,
    _stretch_a_wing,
    _forget_a_corner,
    _forget_the_outermost,
    _forget_the_centre,
)


def space_droppers(task, skill, rng):
    places = list(task.fewest)
    for slip in SLIPS:
        if rng.random() < OFTEN * (1 - skill):
            # With nothing left on the footrope there would be nothing to hand in.
            places = slip(task, places, rng) or places
    return answer_at(places)


def pick_chain(task, skill, rng):
    knows = rng.random() < skill
    choice = rng.choice([each for each in CHOICES if task.will_do(each) is knows])
    return {"stock": choice.stock.name, "count": str(choice.count)}


def judge_rig(task, skill, rng):
    ticked = [
        finding
        for finding in task.verdict.regulation
        if rng.random() < (0.25 + 0.75 * skill if finding.failed else 0.08 * (1 - skill))
    ]
    return {
        "verdict": NOT_LEGAL if ticked else LEGAL,
        "failing": [finding.key for finding in ticked],
    }


def read_shine(task, skill, rng):
    """Take the rule of thumb for the height under tow, unless skill says otherwise."""
    report = task.report
    knows = rng.random() < skill
    height = report.model.height if knows else report.rule.height
    wanted = way(task.heights, FOOTROPE_HEIGHT)
    others = [each for each in CHANGES if each != wanted]
    return {
        "rule": inches(report.rule.height),
        "height": inches(height, 1),
        "change": wanted if rng.random() < (1 + skill) / 2 else rng.choice(others),
    }


def order_conversion(task, skill, rng):
    """Take the steps in their order, some of them too soon."""
    keys = [step.key for step in task.steps]
    for at in range(1, len(keys)):
        if rng.random() < OFTEN * (1 - skill):
            keys.insert(rng.randrange(at), keys.pop(at))
    return {key: str(number) for number, key in enumerate(keys, 1)}


def measure_drawing(task, skill, rng):
    """Go by the look of a thing instead of measuring it, unless skill says otherwise."""
    said = {}
    for finding in task.verdict.findings:
        truth = task.truth(finding.key)
        knows = rng.random() < skill
        said[f"said_{finding.key}"] = truth if knows else rng.choice([WITHIN, OUTSIDE, UNTOLD])
        if finding.failed and finding.spots and knows:
            said[f"size_{finding.key}"] = feet_inches(breaking(task.rig, finding)[0], 64)
    return said


HANDS = {
    "space-droppers": space_droppers,
    "pick-chain": pick_chain,
    "judge-rig": judge_rig,
    "read-shine": read_shine,
    "order-conversion": order_conversion,
    "choose-one": choose_one,
    "choose-several": choose_several,
    "enter-measure": enter_measure,
    "find-fault": find_fault,
    "measure-drawing": measure_drawing,
    "one-reading": one_reading,
}
