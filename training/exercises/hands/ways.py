"""What can be told of limits by comparing all questions of an exam, without knowing one."""

from collections import defaultdict
from statistics import median

from ..kinds.choose_one import ChoosingTask
from ..kinds.judge_rig import JudgingTask
from ..kinds.one_reading import ReadingTask
from .looks import numbers
from .mind import identity


def readings_of(tasks):
    """Return the readings that ``tasks`` ask about: identity to (Requirement, [Finding])."""
    found = defaultdict(list)
    for task in tasks:
        if isinstance(task, ReadingTask):
            found[identity(task.requirement)].append(task.finding)
    return {
        key: (findings[0].requirement, findings)
        for key, findings in found.items()
        if not findings[0].requirement.is_plain
    }


def _sorted(findings):
    return sorted(set(numbers(finding.measured for finding in findings)))


def split_at_middle(tasks):
    """Return the limits of one who thinks that half of each rule's readings must break it."""
    found = {}
    for key, (_, findings) in readings_of(tasks).items():
        values = _sorted(findings)
        if len(values) > 1:
            at = len(values) // 2
            found[key] = (values[at - 1] + values[at]) / 2
    return found


def split_at_gap(tasks):
    """Return the limits of one who looks for them in the widest gap between a rule's readings."""
    found = {}
    for key, (_, findings) in readings_of(tasks).items():
        values = _sorted(findings)
        if len(values) > 1:
            pairs = list(zip(values, values[1:], strict=False))
            low, high = max(pairs, key=lambda pair: pair[1] - pair[0])
            found[key] = (low + high) / 2
    return found


def split_at_sizes(tasks):
    """Return the limits of one who takes the middle of all sizes shown of a rule for its limit."""
    found = defaultdict(set)
    for key, (_, findings) in readings_of(tasks).items():
        found[key].update(_sorted(findings))
    for task in tasks:
        if isinstance(task, ChoosingTask):
            found[identity(task.requirement)].update(each.value for each in task.options)
    return {key: median(values) for key, values in found.items()}


def odd_one_out(tasks):
    """Return the limits of one who takes the reading farthest from the others for broken."""
    found = {}
    for key, (requirement, findings) in readings_of(tasks).items():
        values = _sorted(findings)
        if len(values) > 1:
            pair = values[-2:] if requirement.is_upper else values[:2]
            found[key] = sum(pair) / 2
    return found


def learn_from_rigs(tasks):
    """
    Return the limits of one who takes what most whole rigs have for what is allowed.

    The second worst reading among the rigs of an exam is thought to be met just so.
    """
    worst, asked = defaultdict(list), {}
    for task in tasks:
        if not isinstance(task, JudgingTask):
            continue
        for finding in task.verdict.regulation:
            if finding.requirement.is_plain or not numbers([finding.measured]):
                continue
            key = identity(finding.requirement)
            asked[key] = finding.requirement
            worst[key].append(finding.measured)
    found = {}
    for key, values in worst.items():
        up = asked[key].is_upper
        values = sorted(values, reverse=up)
        edge = values[min(1, len(values) - 1)]
        found[key] = edge * (1 + 1e-6) if up else edge * (1 - 1e-6)
    return found


WAYS = {
    "middle": split_at_middle,
    "gap": split_at_gap,
    "sizes": split_at_sizes,
    "odd": odd_one_out,
    "rigs": learn_from_rigs,
}
