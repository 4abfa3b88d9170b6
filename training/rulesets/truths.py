"""
What the rules make true of a task, so that two versions can be held side by side.

Only kinds whose tasks turn on limits have a truth here. What the others ask, such as the
order of work or what shine tells, no rule set decides.
"""

from collections import defaultdict
from dataclasses import replace

from rigs.rules.judge import judge
from training.exercises.kinds.pick_chain import CHOICES


def _of_rig(task, book):
    """A rig drawn and described: which rules it breaks."""
    return dict.fromkeys(judge(task.rig, book).failed_keys, True)


def _of_reading(task, book):
    """One reading off a rig: whether it breaks its rule."""
    key = task.requirement.key
    return {key: key in judge(task.rig, book).failed_keys}


def _of_sizes(task, book):
    """Sizes to choose from: the last that meets the rule."""
    key = task.requirement.key
    return {key: task.right_under(book)} if book.has(key) else {}


def _of_options(task, book):
    """Readings to choose from: which of them break their rules."""
    found = defaultdict(list)
    for each in task.options:
        failed = judge(each.rig, book).failed_keys
        found[each.requirement.key].append(each.requirement.key in failed)
    return found


def _of_measure(task, book):
    """A measure to work out: up to where its rule holds."""
    under = replace(task, rulebook=book)
    return {under.key: round(under.just_kept, 6)} if under.key else {}


def _of_footrope(task, book):
    """A footrope to hang droppers along: where the fewest go."""
    if not book.lays_out_rig:
        return {}
    places = replace(task, rulebook=book).fewest
    return {"dropper_spacing": [round(place, 6) for place in places]}


def _of_chain(task, book):
    """A chain to choose: which choices are legal, and which weigh what is asked."""
    under = replace(task, rulebook=book)
    found = {}
    if book.has("dropper_stock"):
        found["dropper_stock"] = [under.size_finding(each).failed for each in CHOICES]
    # The weight in all follows from how many hang along the footrope.
    if book.lays_out_rig:
        found["dropper_spacing"] = [under.meets_need(each) for each in CHOICES]
    return found


TRUTHS = {
    "judge-rig": _of_rig,
    "find-fault": _of_rig,
    "measure-drawing": _of_rig,
    "one-reading": _of_reading,
    "choose-one": _of_sizes,
    "choose-several": _of_options,
    "enter-measure": _of_measure,
    "space-droppers": _of_footrope,
    "pick-chain": _of_chain,
}


def changed_truths(kind, task, book):
    """
    Return the keys of the rules by which ``task`` would come out otherwise under ``book``.

    ``kind`` is the slug of its kind, one of ``TRUTHS``; the task's own rule set is what
    ``book`` is held against.
    """
    truth = TRUTHS[kind]
    was, now = truth(task, task.rulebook), truth(task, book)
    return frozenset(key for key in {*was, *now} if was.get(key) != now.get(key))
