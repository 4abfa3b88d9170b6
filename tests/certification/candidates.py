"""RequirementsList to sit, and people who sit them, for the tests."""

import uuid

from tests.exercises.conftest import right_answer
from training.certification import exams
from training.certification.models import Requirements, RequirementsPart

PARTS = (("space-droppers", 1, 1), ("pick-chain", 1, 1), ("judge-rig", 1, 2))
# Two readings of each of two rules that must be right, and one of each other measured rule.
READINGS = (("one-reading", 1, 11), ("judge-rig", 1, 1))
MUST = ("dropper_spacing", "float_spacing")


def make_requirements(parts=PARTS, **fields):
    """Return a saved requirements for fishermen, of four tasks unless told otherwise."""
    requirements = Requirements.objects.create(
        **{
            "slug": "raised-footrope",
            "title": "Raised footrope",
            "track": Requirements.Track.FISHERMAN,
            "rulebooks": ["no-sweep"],
            "pass_percent": 80,
            "waiting_days": 0,
            **fields,
        }
    )
    RequirementsPart.objects.bulk_create(
        RequirementsPart(requirements=requirements, kind=kind, difficulty=difficulty, count=count)
        for kind, difficulty, count in parts
    )
    return requirements


def make_strict(**fields):
    """Return a saved requirements of readings, two of each of two rules that must be right."""
    return make_requirements(
        READINGS, **{"must_pass": list(MUST), "must_asked": 2, "must_slips": 0, **fields}
    )


def begin(user, requirements, now=None):
    return exams.begin(user, requirements, uuid.uuid4(), exams.Opening(now))


def answer(exam, but=()):
    """Save the right answer to every task of ``exam`` save the numbers in ``but``."""
    for task in exam.tasks.exclude(number__in=but):
        exams.save(task, right_answer(exams.task_of(task)), task.revision, exam.begun)
