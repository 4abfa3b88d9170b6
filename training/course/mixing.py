"""
Mixed practice: kinds and rules in turn, what was missed or is due before all else.

Mixing what is practiced keeps more than doing one kind after another: Rohrer and Taylor, "The
shuffling of mathematics problems improves learning", Instructional Science, 2007 (from memory).
"""

import random
import secrets
from collections import defaultdict
from datetime import datetime
from typing import NamedTuple

from django.db import transaction
from django.utils import timezone

from rigs.rules.rulebook import Rulebook, find_in_force
from training.exercises import handing, kinds
from training.exercises.kinds.base import HARDEST, Kind
from training.exercises.models import Assignment, Attempt
from training.lessons import course
from training.people.models import User
from training.recall import remembered

# How much a rule is in need of practice, most first.
DUE, NOT_ASKED, SHAKY, KNOWN = range(4)


def of_rule(memory, today):
    """Return how much a rule is in need, by its RuleMemory or None, as of ``today``."""
    if memory is None:
        return NOT_ASKED
    if not memory.right_last or (memory.due is not None and memory.due <= today):
        return DUE
    return KNOWN if memory.state(today) == "known" else SHAKY


def of_kind(latest):
    """
    Return how much a kind that turns on no rule is in need of practice.

    ``latest`` is (difficulty, passed) of the last task of it, None if there was none.
    """
    if latest is None:
        return NOT_ASKED
    difficulty, passed = latest
    if not passed:
        return DUE
    return KNOWN if difficulty == HARDEST else SHAKY


@transaction.atomic
def next_assignment(user):
    """
    Return the assignment that is next in the mixed practice of ``user``.

    One that is open and not passed over stays. One that was passed over comes back as soon as
    another was handed in, and is the same task. Asked for twice at once, it is the same. Raise
    handing.NoRules if no kind can be set today.
    """
    User.objects.select_for_update(no_key=True).get(pk=user.pk)
    opened = list(Assignment.objects.open().filter(user=user, is_mixed=True).order_by("created"))
    for each in opened:
        if each.passed_over is None:
            return each
    opened.sort(key=lambda each: each.passed_over)
    last = Attempt.objects.by(user).filter(assignment__is_mixed=True).first()
    if opened and last and last.handed_in > opened[0].passed_over:
        return _back(opened[0])
    drawn = _draw(user, opened, last)
    if drawn is None:
        if opened:
            return _back(opened[0])
        raise handing.NoRules(HARDEST)
    return drawn


def _back(assignment):
    assignment.passed_over = None
    assignment.save(update_fields=["passed_over"])
    return assignment


def pass_over(assignment, now=None):
    """
    Note that the task is passed over; it stays open, and its rule is nobody's loss.

    Returns whether it could be: one that is handed in, or not of mixed practice, cannot.
    """
    rows = Assignment.objects.open().filter(pk=assignment.pk, is_mixed=True, passed_over=None)
    return bool(rows.update(passed_over=now or timezone.now()))


class _Candidate(NamedTuple):
    """
    A kind that can be set: how hard, by which rule set, how much each of its rules is in need.

    ``need`` is that of the neediest; ``last`` when one was handed in, None if none was.
    """

    kind: Kind
    difficulty: int
    book: Rulebook
    needs: dict[str, int]
    need: int
    last: datetime | None


def _draw(user, opened, last):
    """Return a new assignment, or None if nothing can be set."""
    rng = random.Random(secrets.randbelow(handing.SEEDS))
    avoided = {key for each in opened for key in each.focus}
    last_kind = ""
    if last:
        last_kind = last.assignment.kind
        avoided.update(last.assignment.focus)
    found = list(_candidates(user, {each.kind for each in opened}, avoided, rng))
    found = [each for each in found if each.kind.slug != last_kind] or found
    if not found:
        return None
    most = min(each.need for each in found)
    neediest = [each for each in found if each.need == most]
    never = [each for each in neediest if each.last is None]
    chosen = rng.choice(never) if never else min(neediest, key=lambda each: each.last)
    focus = ()
    if chosen.needs and not chosen.kind.covers_all:
        focus = (rng.choice([key for key, need in chosen.needs.items() if need == most]),)
    seed = rng.randrange(handing.SEEDS)
    recipe = handing.Recipe(chosen.kind, seed, chosen.difficulty, chosen.book, focus)
    assignment = handing.set_task(user, recipe)
    assignment.is_mixed = True
    assignment.save(update_fields=["is_mixed"])
    return assignment


def _candidates(user, taken, avoided, rng):
    """Yield a _Candidate for each kind that is not ``taken`` and has a rule set for today."""
    today = timezone.localdate()
    role = "staff" if user.is_staff else user.role
    memory = remembered.by_rule([user]).get(user.pk, {})
    rules = {each: rule for rule in course.rules(role) for each in rule.alike}
    latest, last = defaultdict(list), {}
    for kind, difficulty, passed, moment in Attempt.objects.by(user).values_list(
        "assignment__kind", "assignment__difficulty", "passed", "handed_in"
    ):
        latest[kind].append((difficulty, passed))
        last.setdefault(kind, moment)
    for kind in kinds.KINDS.values():
        if kind.slug in taken:
            continue
        done = latest[kind.slug]
        difficulty = handing.staircase(done)
        names = [name for name in kind.rulebooks[difficulty] if name in course.rule_sets(role)]
        books = [book for name in names if (book := find_in_force(name, today))]
        if not books:
            continue
        book = rng.choice(books)
        needs = {
            key: of_rule(remembered.latest(memory, rules[book.name, key]), today)
            for key in kind.covers(book, difficulty)
            if (book.name, key) in rules
        }
        needs = {key: need for key, need in needs.items() if key not in avoided} or needs
        need = min(needs.values()) if needs else of_kind(done[0] if done else None)
        yield _Candidate(kind, difficulty, book, needs, need, last.get(kind.slug))
