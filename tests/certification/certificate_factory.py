"""Exams already handed in, and rule sets that moved on, for the tests of certificates."""

import uuid
from dataclasses import replace
from datetime import UTC, datetime

from rigs.rules import rulebook, shelf
from tests.rigs.rig_factory import with_limit
from training.certification.models import Exam, ExamTask, Requirements

HANDED_IN = datetime(2026, 1, 31, 15, 30, tzinfo=UTC)


def make_requirements(**changes):
    """Return a saved requirements, with ``changes`` to its fields."""
    fields = {
        "slug": "deck",
        "title": "Rigging a raised footrope",
        "track": Requirements.Track.FISHERMAN,
        "summary": "Hangs droppers where the rules want them, from the right chain.",
        "rulebooks": ["no-sweep"],
        "pass_percent": 70,
        "months_valid": 24,
    }
    return Requirements.objects.create(**(fields | changes))


def make_exam(user, requirements=None, marks=(8, 7), **changes):
    """Return a handed-in exam of ``requirements``, with one task of 10 for each of ``marks``."""
    requirements = (
        requirements or Requirements.objects.filter(slug="deck").first() or make_requirements()
    )
    fields = {
        "key": uuid.uuid4(),
        "seed": 1,
        "pass_percent": requirements.pass_percent,
        "handed_in": HANDED_IN,
        "marks": sum(marks),
        "out_of": 10 * len(marks),
        "passed": sum(marks) >= 7 * len(marks),
    }
    exam = Exam.objects.create(requirements=requirements, user=user, **(fields | changes))
    for number, each in enumerate(marks, 1):
        ExamTask.objects.create(
            exam=exam,
            number=number,
            kind="space-droppers" if number % 2 else "judge-rig",
            seed=number,
            difficulty=1,
            rulebook_name="no-sweep",
            rulebook_version="1",
            marks=each,
            out_of=10,
            passed=each >= 7,
        )
    return exam


def make_asked_exam(user, requirements, readings, rigs=(), **changes):
    """
    Return a saved, turned-in exam of questions that give one point each.

    ``readings`` maps a rule to its short questions, each right (1) or wrong (0); ``rigs`` are
    whole rigs to judge, likewise.
    """
    asked = [("one-reading", [rule], each) for rule, row in readings.items() for each in row]
    asked += [("judge-rig", [], each) for each in rigs]
    marks = sum(each for _, _, each in asked)
    fields = {
        "key": uuid.uuid4(),
        "seed": 1,
        "pass_percent": requirements.pass_percent,
        "must_pass": requirements.must_pass,
        "must_asked": requirements.must_asked,
        "must_slips": requirements.must_slips,
        "handed_in": HANDED_IN,
        "marks": marks,
        "out_of": len(asked),
        "passed": marks * 100 >= requirements.pass_percent * len(asked),
    }
    exam = Exam.objects.create(requirements=requirements, user=user, **(fields | changes))
    ExamTask.objects.bulk_create(
        ExamTask(
            exam=exam,
            number=number,
            kind=kind,
            seed=number,
            difficulty=2,
            rulebook_name="no-sweep",
            rulebook_version="1",
            focus=focus,
            marks=right,
            out_of=1,
            passed=bool(right),
            findings=[],
        )
        for number, (kind, focus, right) in enumerate(asked, 1)
    )
    return exam


def move_on(monkeypatch, effective_from, drop=(), limits=None, version="2", name="no-sweep"):
    """
    Put a later version of the rule set ``name`` on the shelf for one test.

    It leaves out the rules in ``drop`` and has the other ``limits`` (key to SI value).
    """
    old = rulebook.load(name)
    new = replace(
        old,
        version=version,
        effective_from=effective_from,
        requirements=tuple(
            with_limit(rule, limits[rule.key]) if limits and rule.key in limits else rule
            for rule in old.requirements
            if rule.key not in drop
        ),
    )
    books = dict(shelf._books())
    books[name] = [*books[name], new]
    monkeypatch.setattr(shelf, "_books", lambda: books)
    return new
