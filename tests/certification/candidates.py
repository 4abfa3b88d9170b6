"""Schemes to sit, and people who sit them, for the tests."""

import uuid

from tests.exercises.conftest import right_answer
from training.certification import papers
from training.certification.models import Scheme, SchemePart

PARTS = (("space-droppers", 1, 1), ("pick-chain", 1, 1), ("judge-rig", 1, 2))
# Two readings of each of two rules that must be right, and one of each other measured rule.
READINGS = (("one-reading", 1, 11), ("judge-rig", 1, 1))
MUST = ("dropper_spacing", "float_spacing")


def make_scheme(parts=PARTS, **fields):
    """Return a saved scheme for fishermen, of four tasks unless told otherwise."""
    scheme = Scheme.objects.create(
        **{
            "slug": "raised-footrope",
            "title": "Raised footrope",
            "track": Scheme.Track.FISHERMAN,
            "rulebooks": ["no-sweep"],
            "pass_percent": 80,
            "waiting_days": 0,
            **fields,
        }
    )
    SchemePart.objects.bulk_create(
        SchemePart(scheme=scheme, kind=kind, difficulty=difficulty, count=count)
        for kind, difficulty, count in parts
    )
    return scheme


def make_strict(**fields):
    """Return a saved scheme of readings, two of each of two rules that must be right."""
    return make_scheme(
        READINGS, **{"must_pass": list(MUST), "must_asked": 2, "must_slips": 0, **fields}
    )


def begin(user, scheme, now=None):
    return papers.begin(user, scheme, uuid.uuid4(), now)


def answer(paper, but=()):
    """Save the right answer to every task of ``paper`` save the numbers in ``but``."""
    for task in paper.tasks.exclude(number__in=but):
        papers.save(task, right_answer(papers.task_of(task)), task.revision, paper.begun)
