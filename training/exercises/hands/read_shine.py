"""Shine, and what it says of the height under tow."""

from rigs.physics.practice import FOOTROPE_HEIGHT
from rigs.tuning.way import way
from rigs.words.units import inches

from ..kinds.read_shine import CHANGES

SKILL = "the height under tow"


def answer(task, mind, rng):
    """Take the rule of thumb for the height under tow, unless the person knows better."""
    report, knows = task.report, mind.knows(SKILL)
    height = report.model.height if knows else report.rule.height
    wanted = way(task.heights, FOOTROPE_HEIGHT)
    right = knows and not mind.slips_on(mind.slips.work[task.difficulty], rng)
    return {
        "rule": inches(report.rule.height),
        "height": inches(height, 1),
        "change": wanted if right else rng.choice(list(CHANGES)),
    }
