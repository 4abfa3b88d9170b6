import pytest

from rigs.physics.practice import FOOTROPE_HEIGHT
from rigs.tuning.way import way
from rigs.words.units import feet_inches, inches
from training.exercises import handing, kinds
from training.exercises.hands import people
from training.exercises.kinds.judge_rig import LEGAL, NOT_LEGAL
from training.exercises.kinds.measure_drawing import breaking
from training.exercises.kinds.pick_chain import CHOICES
from training.exercises.kinds.space_droppers import answer_at


def right_answer(task):
    """Return the raw answer that gets full marks for ``task``."""
    if hasattr(task, "reading"):
        return {"said": task.right}
    if hasattr(task, "options"):
        return _right_options(task)
    if hasattr(task, "just_kept"):
        return {"measure": task.right_text}
    if hasattr(task, "oddities"):
        return measured_answer(task)
    if hasattr(task, "fault"):
        return {"place": task.place}
    if hasattr(task, "rig") and hasattr(task, "verdict"):
        verdict = task.verdict
        return {
            "verdict": LEGAL if verdict.legal else NOT_LEGAL,
            "failing": sorted(verdict.failed_keys),
        }
    if hasattr(task, "will_do"):
        choice = next(each for each in CHOICES if task.will_do(each))
        return {"stock": choice.stock.name, "count": str(choice.count)}
    if hasattr(task, "jumbled"):
        numbers = {step.key: str(number) for number, step in enumerate(task.steps, 1)}
        return {key: numbers.get(key, "out") for key in task.jumbled}
    if hasattr(task, "tow"):
        return {
            "rule": inches(task.report.rule.height),
            "height": inches(task.report.model.height),
            "change": way(task.heights, FOOTROPE_HEIGHT),
        }
    if hasattr(task, "fewest"):
        return answer_at(task.fewest)
    return _by_its_kind(task)


def _by_its_kind(task):
    """Return the right answer to a task of a kind that is not told apart here."""
    slug = next(
        slug for slug, kind in kinds.KINDS.items() if type(kind).__module__ == type(task).__module__
    )
    return people.right_answer(slug, task)


def measured_answer(task):
    """Return what a careful hand says of drawings: each rule, and how much what fails measures."""
    said = {f"said_{key}": task.truth(key) for key in task.keys}
    sizes = {
        f"size_{finding.key}": feet_inches(breaking(task.rig, finding)[0], 64)
        for finding in task.verdict.failed
        if finding.spots
    }
    return said | sizes


def _right_options(task):
    return {"broken" if isinstance(task.right, list) else "option": task.right}


@pytest.fixture(params=list(kinds.KINDS))
def kind(request):
    """Each kind of exercise in turn."""
    return kinds.get(request.param)


@pytest.fixture
def assignment(user, kind):
    """The open assignment of ``user`` in ``kind``."""
    return handing.open_assignment(user, kind)


def as_posted(answer):
    """Return a raw answer as a browser posts it: a box not ticked is not sent at all."""
    return {
        name: "on" if value is True else value
        for name, value in answer.items()
        if value is not False
    }
