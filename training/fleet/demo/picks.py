"""Answers to questions with a choice or a measure, as people of varying skill give them."""

from rigs.units import inches
from training.exercises.kinds.find_fault import PLACES, place_of
from training.exercises.kinds.one_reading import BROKEN, MET

WRONG_BY = 9 / 8  # who works it out wrong is off by an eighth


def _pick(options, is_right, skill, rng):
    """Return a right one of ``options`` as often as ``skill`` has it, else a wrong one."""
    knows = rng.random() < skill
    return rng.choice([each for each in options if is_right(each) is knows])


def choose_one(task, skill, rng):
    def is_right(index):
        return task.options[index].finding.failed is task.breaking

    return {"option": str(_pick(range(len(task.options)), is_right, skill, rng))}


def one_reading(task, skill, rng):
    """Toss a coin, unless skill says otherwise."""
    return {"said": task.right if rng.random() < skill else rng.choice((MET, BROKEN))}


def choose_several(task, skill, rng):
    said = [
        each.requirement.key
        for each in task.options
        if each.finding.failed is (rng.random() < (1 + skill) / 2)
    ]
    # At least one has to be ticked.
    return {"broken": said or [rng.choice(task.options).requirement.key]}


def enter_measure(task, skill, rng):
    value = task.just_kept()
    return {"measure": inches(value if rng.random() < skill else value * WRONG_BY)}


def find_fault(task, skill, rng):
    place = place_of(task.fault)
    return {"place": _pick(PLACES, lambda each: each == place, skill, rng)}
