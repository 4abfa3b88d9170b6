"""
What a draft would change, counted before it takes effect.

Three things are looked at: whether all parts of the site can work by it (``trial``),
what every saved net would newly break or keep, and of how many past tasks, those of
exercises, exams and officers' rounds, the truth would have been another. It is counted
bit by bit: what is left to look at and what came of the rest are kept together, so that
it can be stopped at any moment and carried on.

Nobody is named: what is kept are counts.
"""

import random
from collections import Counter
from dataclasses import replace
from datetime import timedelta
from hashlib import sha256
from time import monotonic
from typing import NamedTuple

from django.db import transaction
from django.utils import timezone

from rigs.rules import rulebook
from rigs.rules.effect import effect
from rigs.rules.judge import judge
from rigs.rules.rulebook import Rulebook, RulebookError
from training.calibration.making import rigs_of
from training.calibration.models import Round
from training.certification import exams
from training.certification.models import ExamTask
from training.exercises import handing, kinds
from training.exercises.models import Assignment
from training.nets.models import Net

from . import trial
from .models import Impact

MOST_TASKS = 400
"""Past tasks that are looked at; of more, so many are drawn at random."""

# What there is to look at, as the first of a pair in ``Impact.todo``.
PART, NET, EXERCISE, PAPER, ROUND = "part", "net", "exercise", "exam", "round"
AS_IS, PLANNED = "as_is", "planned"


def digest_of(text):
    """Return what tells one text from every other."""
    return sha256(text.encode()).hexdigest()


def taken_over(version):
    """
    Return the Rulebook that ``version`` takes over from: that in force on the eve.

    It is as if it went on, should it have ended by itself. Raise RulebookError if no version
    had begun by then.
    """
    eve = version.effective_from - timedelta(days=1)
    book = rulebook.nearest(version.name, eve)
    if book.effective_from > eve:
        book = rulebook.in_force(version.name, eve)
    return replace(book, effective_to=None)


def of_text(version):
    """
    Return the latest Impact of just the text that ``version`` has now, None if there is none.

    It has to be held against the version in force on the eve, which another approval may
    have changed.
    """
    try:
        against = taken_over(version).version
    except RulebookError:
        return None
    return version.impacts.filter(digest=digest_of(version.text), against=against).last()


def begin(version):
    """
    Return a new Impact of ``version`` with all of it still to do.

    Raise RulebookError if its text cannot be read or there is nothing it takes over from.
    """
    book, old = version.book, taken_over(version)
    tasks = _past_tasks(version.name)
    digest = digest_of(version.text)
    drawn = tasks
    if len(tasks) > MOST_TASKS:
        drawn = random.Random(digest).sample(tasks, MOST_TASKS)
    todo = [[PART, part] for part in trial.parts(book)]
    todo += [[NET, pk] for pk in Net.objects.there().order_by("pk").values_list("pk", flat=True)]
    todo += drawn
    return Impact.objects.create(
        version=version,
        digest=digest,
        against=old.version,
        total=len(todo),
        todo=todo,
        found={
            "troubles": [],
            "nets": {"of": sum(sort == NET for sort, _ in todo), "judged": 0},
            AS_IS: _nothing(),
            PLANNED: _nothing(),
            "tasks": {"of": len(tasks), "looked_at": 0, "changed": 0, "rules": {}},
        },
    )


def _nothing():
    return {"breaks": 0, "keeps": 0, "untold": 0, "rules": {}}


def _past_tasks(name):
    """Return [sort, key] of each task handed in by the rule set ``name``, whatever its version."""
    decided = [slug for slug, kind in kinds.KINDS.items() if kind.truth]
    exercises = Assignment.objects.filter(
        rulebook_name=name, kind__in=decided, attempt__isnull=False
    ).order_by("pk")
    sat = ExamTask.objects.filter(
        rulebook_name=name, kind__in=decided, exam__handed_in__isnull=False
    ).order_by("pk")
    rounds = Round.objects.filter(rulebook_name=name, turns__handed_in__isnull=False)
    return [
        *([EXERCISE, pk] for pk in exercises.values_list("pk", flat=True)),
        *([PAPER, pk] for pk in sat.values_list("pk", flat=True)),
        *(
            [ROUND, [each.pk, place]]
            for each in rounds.order_by("pk").distinct()
            for place in range(each.count)
        ),
    ]


class _Books(NamedTuple):
    """What is held side by side: the draft with its text, and what it takes over from."""

    new: Rulebook
    text: str
    old: Rulebook


def carry_on(impact, seconds):
    """
    Look at what ``impact`` has still to do for so many ``seconds``, but at one thing at least.

    What was found is saved at the end, all or nothing. Of two who carry on at once one
    is counted. Returns the Impact as it is then. Raise RulebookError if the text can no
    longer be read.
    """
    until = monotonic() + seconds
    version = impact.version
    books = _Books(version.book, version.text, taken_over(version))
    todo, found = list(impact.todo), impact.found
    while todo:
        sort, key = todo.pop(0)
        _LOOK[sort](key, books, found)
        if monotonic() >= until:
            break
    return _save(impact, todo, found)


def _save(impact, todo, found):
    with transaction.atomic():
        # Only over what was read: if somebody else carried on meanwhile, theirs stands.
        Impact.objects.filter(pk=impact.pk, revision=impact.revision).update(
            todo=todo,
            found=found,
            revision=impact.revision + 1,
            finished=None if todo else timezone.now(),
        )
    return Impact.objects.select_related("version").get(pk=impact.pk)


def _look_at_part(part, books, found):
    found["troubles"] += trial.troubles(part, books.new, books.text)


def _look_at_net(pk, books, found):
    net = Net.objects.there().filter(pk=pk).first()
    rigs = {} if net is None else _rigs(net, books)
    found["nets"]["judged"] += bool(rigs)
    for state, rig in rigs.items():
        _count(effect(rig, books.old, books.new), found[state])


def _rigs(net, books):
    """
    Return the rigs of ``net`` that the rule set bears on: as it is and as it is planned.

    The plan is that of today's rules, which its owner may be carrying out.
    """
    name = books.new.name
    day = timezone.localdate()
    try:
        plan = net.plan(day)
    except RulebookError:  # its rule set has been ended
        return {}
    asked = {plan.rulebook.name, plan.fishery and plan.fishery.name}
    if name in asked:
        return {AS_IS: plan.present, PLANNED: plan.planned}
    # Until it is converted, a net with a sweep answers to the rules for one.
    if books.old.has("sweep_stock") and plan.present.sweep is not None:
        return {AS_IS: plan.present}
    return {}


def _count(told, found):
    for name, keys in told._asdict().items():
        found[name] += bool(keys)
        for key in keys:
            rule = found["rules"].setdefault(key, dict.fromkeys(told._fields, 0))
            rule[name] += 1


def _look_at_exercise(pk, books, found):
    assignment = Assignment.objects.get(pk=pk)
    task = handing.task_of(assignment)
    _count_task(handing.kind_of(assignment).changed(task, books.new), found)


def _look_at_exam_task(pk, books, found):
    task = ExamTask.objects.get(pk=pk)
    _count_task(exams.kind_of(task).changed(exams.task_of(task), books.new), found)


def _look_at_round_rig(key, books, found):
    pk, place = key
    each = rigs_of(Round.objects.get(pk=pk))[place]
    _count_task(each.verdict.failed_keys ^ judge(each.rig, books.new).failed_keys, found)


def _count_task(keys, found):
    found = found["tasks"]
    found["looked_at"] += 1
    found["changed"] += bool(keys)
    found["rules"] = dict(Counter(found["rules"]) + Counter(keys))


_LOOK = {
    PART: _look_at_part,
    NET: _look_at_net,
    EXERCISE: _look_at_exercise,
    PAPER: _look_at_exam_task,
    ROUND: _look_at_round_rig,
}
