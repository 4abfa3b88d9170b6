"""
Tasks as they were drawn and graded when they were pinned, one file a kind in ``pins/``.

``python -m tests.exercises.pinned KIND ...`` writes them anew. Do so only for a kind that nobody
has answered yet, or along with a new version of it: then the old file stays, under the name
``KIND.1.json`` for version 1, and the old class beside the new one.
"""

import hashlib
import json
import os
import sys
from dataclasses import fields, is_dataclass
from pathlib import Path

import django

if __name__ == "__main__":
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "training.settings")
    django.setup()  # kinds are looked over, in words, as they are imported

from rigs.rules import rulebook
from rigs.rules.rulebook import Requirement, Rulebook
from training.exercises import kinds

FOLDER = Path(__file__).with_name("pins")
SEEDS = (1, 2026, 2**31 - 1)
FOCUSED = 7  # the seed of tasks that are to turn on a certain rule


def facts(value):
    """Return what a task is made of as plain values; lengths to a thousandth of a millimetre."""
    if isinstance(value, (Rulebook, Requirement)):
        return value.version if isinstance(value, Rulebook) else value.key
    if is_dataclass(value):
        # A finding of the judge is worked out from the rest.
        told = {each.name: facts(getattr(value, each.name)) for each in fields(value)}
        if told.get("noted") == []:
            del told["noted"]  # no rig had it when tasks were first pinned
        return told
    if hasattr(value, "_asdict"):
        return {name: facts(each) for name, each in value._asdict().items()}
    if isinstance(value, dict):
        return {str(name): facts(each) for name, each in value.items()}
    if isinstance(value, (set, frozenset)):
        return sorted(map(str, value))
    if isinstance(value, (list, tuple)):
        return [facts(each) for each in value]
    if isinstance(value, float):
        return round(value, 6) + 0.0  # never minus zero
    return value if value is None or isinstance(value, (bool, int, str)) else str(value)


def digest(value):
    """Return a short text that another value hardly ever has."""
    text = json.dumps(facts(value), sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def _asked(kind):
    """Yield (seed, rule set, difficulty, focus) of the tasks to pin."""
    for difficulty, names in kind.rulebooks.items():
        for name in names:
            book = rulebook.load(name, "1")
            for seed in SEEDS:
                yield seed, book, difficulty, ()
            if not kind.covers_all:
                for key in kind.covers(book, difficulty)[::3]:
                    yield FOCUSED, book, difficulty, (key,)


def pin(kind):
    """Return the pins of ``kind`` as plain values: its version and its tasks, one text each."""
    told = {}
    for seed, book, difficulty, focus in _asked(kind):
        task = kind.generate(seed, book, difficulty, focus)
        marked = kind.grade(task, kind.any_answer(task))
        right = [line.key for line in marked.lines if line.right]
        right = ", ".join(right) if 0 < len(right) < 4 else f"{len(right)} lines"
        name = " ".join([str(seed), book.name, str(difficulty), *focus])
        told[name] = f"{digest(task)}: {marked.marks} of {marked.out_of}, right on {right}"
    return {"version": kind.version, "tasks": told}


def read(path):
    """Return (kind, pins) of a file: the kind in the version that was pinned."""
    pins = json.loads(path.read_text())
    return kinds.get(path.name.split(".")[0], pins["version"]), pins


def write(slug):
    """Pin the newest version of the kind ``slug``."""
    text = json.dumps(pin(kinds.get(slug)), indent=1) + "\n"
    (FOLDER / f"{slug}.json").write_text(text)


if __name__ == "__main__":
    for each in sys.argv[1:] or kinds.KINDS:
        write(each)
