"""
Try exams and kinds with modelled people: ``python -m tests.benchmarks.exams``, all or some parts.

``kinds`` prints the share right by kind and level, ``whole`` whole exams of the demo's
certificates, ``parallel`` what their forms have in common, ``attacks`` what can be told by the
look of a question. More people or forms make the standard errors smaller and take longer.
What is assumed of people is in ``training/exercises/hands``: it has no source.
"""

import argparse
import os
from datetime import date

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "training.settings")
os.environ["SITE_DEMO"] = "1"
# Nothing is saved: an empty database, with no rule sets but those of the files.
os.environ["DATABASE_URL"] = "sqlite://:memory:"
os.environ["SECRET_KEY"] = "for benchmarks only, and for nothing else than benchmarks"
django.setup()

from tests.benchmarks.exams import attacks, by_kind, parallel, trial, whole  # noqa: E402
from training.demo.certification import CREW, OFFICER  # noqa: E402

PARTS = ("kinds", "whole", "parallel", "attacks")

parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.exams", description=__doc__)
parser.add_argument("part", nargs="*", choices=[*PARTS, []])
parser.add_argument("--tasks", type=int, default=60, help="questions of each kind and level")
parser.add_argument("--kind", nargs="+", default=(), help="only these kinds, by slug")
parser.add_argument("--people", type=int, default=40, help="people of each type for whole exams")
parser.add_argument("--forms", type=int, default=150, help="forms that are compared")
parser.add_argument("--looks", type=int, default=600, help="questions whose look is learned")
parser.add_argument("--day", type=date.fromisoformat, default=date(2026, 9, 1))
chosen = parser.parse_args()

exams = [trial.requirements_of(*each) for each in (CREW, OFFICER)]
for part in chosen.part or PARTS:
    if part == "kinds":
        by_kind.run(chosen.tasks, chosen.day, chosen.kind)
    elif part == "attacks":
        attacks.run(chosen.looks, chosen.day)
    else:
        for exam in exams:
            if part == "whole":
                whole.run(exam, chosen.people, chosen.day)
            else:
                parallel.run(exam, chosen.forms, chosen.day)
