"""A whole rig."""

from ..kinds.judge_rig import LEGAL, NOT_LEGAL


def answer(task, mind, rng):
    checked = [
        finding.key
        for finding in task.verdict.regulation
        if mind.part_breaks(task.rig, finding, task.difficulty, rng)
    ]
    return {"verdict": NOT_LEGAL if checked else LEGAL, "failing": checked}
