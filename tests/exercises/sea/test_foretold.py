"""What is told of an answer at sea is what grading says of it, whatever the answer."""

import base64
import json
import random
import subprocess
from datetime import date

import pytest
from django import forms

from rigs.words import units
from rigs.words.units import INCH, UnitError
from tests.exercises.conftest import right_answer
from training.exercises.hands import answer, people
from training.exercises.kinds.base import BadAnswer
from training.exercises.kinds.foretelling import typed
from training.exercises.sea import sealing

DAY = date(2026, 9, 1)
LEVELS = (1, 2, 3)
EACH = 8  # answers to a task
OFF = (0, 1 / 16, 1 / 4, 1 / 2, 9 / 16, 1, 17 / 16, 3)  # inches
SIZES = ("", "0 in", "1 ft", "41 1/2 in", "1.5 m", "2 fm", "40 ft", "no idea")
RUN = """
import { readFileSync } from "node:fs";
import { check, points, told } from "./foretold.js";

function tell({ known, entered, lengths, answers }) {
  return answers.map((values) => {
    if (check(entered, values, lengths) !== null) return null;
    const { pieces, passed } = told(known.parts, values, lengths);
    return {
      passed,
      ...points(pieces),
      remarks: pieces.flatMap((each) => each.remarks),
      lines: pieces.flatMap(({ lines }) => lines.map((each) => [each.key, each.right, each.marks])),
    };
  });
}
console.log(JSON.stringify(tell(JSON.parse(readFileSync(0, "utf8")))));
"""

OPEN = """
import { readFileSync } from "node:fs";
import { opened } from "./sea_feedback.js";

const [sealed, secret] = JSON.parse(readFileSync(0, "utf8"));
console.log(JSON.stringify(await opened(sealed, secret)));
"""

OTHER_WORDS = {"space-droppers", "order-conversion", "enter-measure"}
"""Kinds whose remarks, which cost nothing, are told in part or in other words."""


def run(scripts, script, given):
    """Return what ``script`` says of ``given``, both as JSON."""
    (scripts / "run.js").write_text(script)
    ran = subprocess.run(
        ["node", scripts / "run.js"], input=json.dumps(given), capture_output=True, text=True
    )
    assert not ran.returncode, ran.stderr
    return json.loads(ran.stdout)


def told(scripts, kind, task, answers):
    """Return what the script tells of each of the ``answers``; None of one it cannot read."""
    foretold = kind.foretold(task)
    given = {
        "known": sealing.plain(foretold),
        "entered": foretold.entered,
        "lengths": sealing.lengths(),
        "answers": [posted(each) for each in answers],
    }
    return run(scripts, RUN, given)


def graded(kind, task, answer):
    """Return the same by grading; None of an answer that cannot be read."""
    try:
        marked = kind.grade(task, answer)
    except BadAnswer:
        return None
    return {
        "passed": marked.passed,
        "marks": marked.marks,
        "outOf": marked.out_of,
        "remarks": [str(each) for each in marked.remarks],
        "lines": [[line.key, line.right, line.marks] for line in marked.lines],
    }


def posted(answer):
    """Return a raw answer as a form holds it: [name, value] pairs."""
    return [
        [name, "on" if each is True else str(each)]
        for name, value in answer.items()
        for each in (value if isinstance(value, list) else [value])
        if each is not False and each is not None
    ]


def scattered(rng, form):
    """Return an answer by chance, which not always can be read."""
    found = {}
    for name, field in form.fields.items():
        choices = [str(value) for value, __ in getattr(field, "choices", ()) if value]
        if isinstance(field, forms.MultipleChoiceField):
            found[name] = rng.sample(choices, rng.randint(0, len(choices)))
        elif isinstance(field, forms.BooleanField):
            found[name] = rng.random() < 0.5
        else:
            found[name] = rng.choice(choices or SIZES)
    return found


def nudged(rng, answer, form):
    """Return ``answer`` with each length in it a little off, or as it was."""
    off = rng.choice(OFF) * rng.choice((-1, 1)) * INCH
    return {
        name: value if hasattr(form.fields[name], "choices") else _off(value, off)
        for name, value in answer.items()
        if name in form.fields
    }


def _off(value, off):
    try:
        return typed(max(0.0, units.parse_length(value, bare=None) + off))
    except (UnitError, AttributeError, TypeError):
        return value


def answers_to(kind, task, rng):
    """Yield many answers: of people who know all, some or nothing, nearly right ones, and noise."""
    minds = [people.at_random(3), people.blind(3), people.of_skill(3, 0.3), people.PERFECT]
    right = right_answer(task)
    for number in range(EACH):
        mind = minds[number % len(minds)]
        yield answer(kind.slug, task, mind, rng)
        yield nudged(rng, right, kind.form(task)())
        yield scattered(rng, kind.form(task)())


@pytest.mark.parametrize("level", LEVELS)
def test_what_is_told_is_what_grading_says(kind, level, scripts):
    rng = random.Random(f"{kind.slug} {level}")
    seed = rng.randrange(1000)
    task = kind.generate(seed, kind.pick_rulebook(seed, level, DAY), level)
    answers = list(answers_to(kind, task, rng))
    for each, said in zip(answers, told(scripts, kind, task, answers), strict=True):
        expected = graded(kind, task, each)
        if expected and said and kind.slug in OTHER_WORDS:
            expected["remarks"] = said["remarks"]
        if said:
            said["lines"].sort()
        if expected:
            expected["lines"].sort()
        assert said == expected, each


def test_the_script_opens_what_the_site_sealed(scripts):
    values, secret = {"words": "40 ft, “met” – ½"}, base64.b64encode(bytes(range(32))).decode()
    assert run(scripts, OPEN, [sealing.seal(values, secret), secret]) == values
