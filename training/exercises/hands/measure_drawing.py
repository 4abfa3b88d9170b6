"""Drawings that are measured."""

from rigs.rules.judge import NOT_MEASURED
from rigs.words.units import feet_inches

from ..kinds.measure_drawing import breaking
from ..kinds.measure_form import OUTSIDE, UNTOLD, WITHIN


def answer(task, mind, rng):
    """Say what is known of each rule, and how much what is broken measures."""
    said = {}
    for finding in task.verdict.findings:
        knows = mind.knows(finding.requirement)
        if not (knows or mind.directed):
            told = rng.choice([WITHIN, OUTSIDE, UNTOLD])
        elif finding.outcome == NOT_MEASURED:
            slips = mind.slips_on(mind.slips.reading[task.difficulty], rng)
            told = UNTOLD if knows and not slips else WITHIN
        else:
            broken = mind.part_breaks(task.rig, finding, task.difficulty, rng)
            told = OUTSIDE if broken else WITHIN
        said[f"said_{finding.key}"] = told
        if told == OUTSIDE and finding.failed and finding.spots:
            said[f"size_{finding.key}"] = feet_inches(breaking(task.rig, finding)[0], 64)
    return said
