"""
Modelled people who answer tasks: one function a kind, ``answer(task, mind, rng)``.

Each takes a task, a ``mind.Mind`` and a random.Random, and returns a raw answer, which the
kind's own grading then marks. ``people`` makes the minds; every number in them is an
assumption. They try out the exams, and they are the people of the demo. A kind that is not
in ``HANDS`` is one that they do not try.
"""

from dataclasses import replace

from . import (
    choose_one,
    choose_several,
    enter_measure,
    find_fault,
    judge_rig,
    looks,
    measure_drawing,
    one_reading,
    order_conversion,
    people,
    pick_chain,
    read_shine,
    space_droppers,
)
from .mind import ALL, Mind

__all__ = ["ALL", "HANDS", "Mind", "answer", "looked_over", "people"]

HANDS = {
    "space-droppers": space_droppers.answer,
    "pick-chain": pick_chain.answer,
    "judge-rig": judge_rig.answer,
    "read-shine": read_shine.answer,
    "order-conversion": order_conversion.answer,
    "choose-one": choose_one.answer,
    "choose-several": choose_several.answer,
    "enter-measure": enter_measure.answer,
    "find-fault": find_fault.answer,
    "measure-drawing": measure_drawing.answer,
    "one-reading": one_reading.answer,
}


def looked_over(mind, tasks):
    """Return ``mind`` after it has seen all ``tasks`` of an exam, which may tell it limits."""
    believed = dict(mind.believed)
    for way in mind.ways:
        for key, limit in looks.WAYS[way](tasks).items():
            believed.setdefault(key, limit)
    return replace(mind, believed=believed)


def answer(slug, task, mind, rng):
    """Return the raw answer of ``mind`` to ``task`` of the kind ``slug``."""
    fixed = mind.fixed.get(people.where_of(slug, task)) or mind.fixed.get((slug, task.difficulty))
    return fixed or HANDS[slug](task, mind, rng)
