"""A stock of answers, given to real tasks and marked by the real grading, to draw from."""

import json
import random
from datetime import date
from typing import NamedTuple

from training.exercises import kinds
from training.exercises.handing import SEEDS
from training.exercises.hands import answer, people
from training.exercises.kinds.base import EASIEST, HARDEST
from training.lessons.loader import all_lessons

EACH = 60  # answers to a kind of exercise
DAY = date(2026, 9, 1)  # whose rule sets the tasks are made by


class Marked(NamedTuple):
    """An assignment's and its attempt's columns that do not hang on who answered, or when."""

    kind: str
    seed: int
    difficulty: int
    rulebook_name: str
    rulebook_version: str
    answer: str
    marks: int
    out_of: int
    passed: bool
    findings: str
    remarks: str


def stock(seed):
    """Return {(kind, passed): list of Marked} of the kinds that lessons set."""
    rng = random.Random(seed)
    taught = sorted({slug for lesson in all_lessons() for slug in lesson.exercises})
    found = {}
    for slug in taught:
        for number in range(EACH):
            marked = _answer(kinds.get(slug), rng, skill=number / (EACH - 1))
            found.setdefault((slug, marked.passed), []).append(marked)
    return found


def _answer(kind, rng, skill):
    seed, difficulty = rng.randrange(SEEDS), rng.randint(EASIEST, HARDEST)
    book = kind.pick_rulebook(seed, difficulty, DAY)
    task = kind.generate(seed, book, difficulty)
    given = answer(kind.slug, task, people.of_skill(seed, skill), rng)
    marked = kind.grade(task, given)
    return Marked(
        kind=kind.slug,
        seed=seed,
        difficulty=difficulty,
        rulebook_name=book.name,
        rulebook_version=book.version,
        answer=json.dumps(given),
        marks=marked.marks,
        out_of=marked.out_of,
        passed=marked.passed,
        findings=json.dumps([line.as_record() for line in marked.lines]),
        remarks=json.dumps(list(marked.remarks)),
    )
