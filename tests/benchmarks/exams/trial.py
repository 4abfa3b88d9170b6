"""Whole exams taken by modelled people: composed and graded by the site's own code, none saved."""

import random
from dataclasses import replace
from types import SimpleNamespace
from typing import NamedTuple

from rigs.rules import rulebook
from training.certification import blueprints, exams
from training.exercises import kinds
from training.exercises.hands import answer, looked_over, people
from training.exercises.kinds.base import BadAnswer


class Form(NamedTuple):
    """One exam: its Specs and the tasks made from them, in the order of the page."""

    requirements: object
    specs: tuple
    tasks: tuple


class Taken(NamedTuple):
    """
    How an exam went.

    ``enough`` is whether the points reach the percent to pass, ``passed`` whether the rules that
    must be right were so too; ``wrong`` holds the rule, or else the kind, of each wrong answer.
    """

    passed: bool
    points: int
    out_of: int
    enough: bool
    wrong: tuple[str, ...]


def requirements_of(fields, parts):
    """Return something to compose exams of, as of saved Requirements, as the demo has them."""
    made = [SimpleNamespace(kind=kind, difficulty=level, count=n) for kind, level, n in parts]
    values = {"slug": "trial", "must_asked": 4, "must_slips": 1, "minutes": None, **fields}
    return SimpleNamespace(**values, parts=SimpleNamespace(all=lambda: made))


def form(requirements, seed, on):
    """Return the Form of ``requirements`` that ``seed`` draws on the date ``on``."""
    specs = blueprints.compose(requirements, seed, on)
    tasks = []
    for spec in specs:
        book = rulebook.in_force(spec.slot.rulebook, on)
        kind = kinds.get(spec.slot.kind)
        tasks.append(kind.generate(spec.seed, book, spec.slot.difficulty, spec.focus))
    return Form(requirements, specs, tuple(tasks))


def take(form, mind, rng):
    """Have ``mind`` answer ``form``, and return how it was graded, as Taken."""
    requirements = form.requirements
    mind = looked_over(mind, form.tasks)
    found = []
    for number, (spec, task) in enumerate(zip(form.specs, form.tasks, strict=True), 1):
        slug = spec.slot.kind
        given = answer(slug, task, mind, rng)
        asked = SimpleNamespace(number=number, kind=slug, focus=list(spec.focus))
        try:
            marked = kinds.get(slug).grade(task, given)
        except BadAnswer:
            marked = kinds.get(slug).unanswered(task)
        found.append((asked, marked))
    exam = SimpleNamespace(
        requirements=requirements,
        pass_percent=requirements.pass_percent,
        must_pass=requirements.must_pass,
        must_asked=requirements.must_asked,
        must_slips=requirements.must_slips,
        deadline=None,
        handed_in=None,
    )
    result = exams.result(exam, found)
    return Taken(
        result.passed,
        result.marks,
        result.out_of,
        result.marks * 100 >= requirements.pass_percent * result.out_of,
        tuple(
            asked.focus[0] if asked.focus else asked.kind
            for asked, marked in found
            if not marked.passed
        ),
    )


def books_of(requirements, on):
    """Return the Rulebooks of ``requirements`` in force on the date ``on``."""
    return [rulebook.in_force(name, on) for name in requirements.rulebooks]


def places_of(requirements, on):
    """Return the Places of an exam of ``requirements``, known to who practices for it."""
    return [
        people.Place(slot.kind, slot.difficulty, rulebook.in_force(slot.rulebook, on), slot.focus)
        for slot in blueprints.of_requirements(requirements, on)
    ]


def types(requirements, on, seed=0):
    """Return {name: function of a number that makes a person} of all types for ``requirements``."""
    rules = people.rules_of(books_of(requirements, on))
    practiced = people.practice(places_of(requirements, on), seed)
    common, crib = people.commonest(seed, practiced), people.crib(seed, practiced)
    found = {
        "random": people.at_random,
        "commonest": lambda number: replace(common, seed=number),
        "blind": people.blind,
        "crib": lambda number: replace(crib, seed=number),
        "odd one out": people.odd_one_out,
        "splits middle": lambda number: people.splitter(number, "middle"),
        "splits gap": lambda number: people.splitter(number, "gap"),
        "splits sizes": lambda number: people.splitter(number, "sizes"),
        "reads rigs": lambda number: people.splitter(number, "rigs", "middle"),
    }
    for percent in people.SHARES:
        found[f"knows {percent}%"] = _knowing(percent, rules)
    # Attacks by people who know some of it, and by larger cribs.
    for way in ("middle", "gap", "sizes", "rigs"):
        found[f"60% and {way}"] = _knowing(60, rules, way)
    for constants in (4, 8):
        larger = people.crib(seed, practiced, constants)
        found[f"crib of {constants}"] = lambda number, larger=larger: replace(larger, seed=number)
    return found


def _knowing(percent, rules, *ways):
    return lambda number: replace(people.knower(number, percent, rules), ways=ways)


def rng_for(*what):
    """Return random numbers that hang on ``what`` alone."""
    return random.Random("/".join(map(str, what)))
