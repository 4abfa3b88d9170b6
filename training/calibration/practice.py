"""
Practice on just those rules on which an officer departed from the rule module in a round.

Each rig is made for one rule of the officer's list: sometimes that rule is broken,
sometimes it is kept. Called right often enough running, the rule leaves the list; called
wrong on whatever rig, it starts anew, and a rule that was not on the list joins it.
"""

import random
import secrets
from collections import Counter
from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone

from rigs.rulebook import Requirement
from training.exercises import kinds
from training.exercises.handing import SEEDS
from training.exercises.kinds.one_reading import BROKEN, MET

from .making import rigs_of
from .models import Call, PracticeRig, Turn

# How many rigs made for a rule must be called right on it, one after the other, before
# an officer holds the line (common practice, no source).
RIGHT_RUNNING = 4

# No more rigs than that for one rule are running all broken or all sound, so that calling
# every one of them the same never holds the line.
MOST_ALIKE = 2

LEVEL = 2
KIND = kinds.get("judge-rig")


@dataclass(frozen=True)
class Standing:
    """
    How far an officer has come on one rule of the list.

    ``over`` and ``under`` are how often in the round a sound part was said to fail and a
    failing one let pass; ``missed`` how often it was called wrong in practice; ``running``
    how many rigs made for it have been called right on it since it was last called wrong.
    """

    requirement: Requirement
    over: int
    under: int
    missed: int
    running: int

    needed = RIGHT_RUNNING

    @property
    def holds(self):
        """Whether the officer holds the line on the rule, so that it has left the list."""
        return self.running >= self.needed

    @property
    def counted(self):
        """How much of ``running`` counts: never more than is needed."""
        return min(self.running, self.needed)


def departures(turn):
    """
    Return what was called wrong in a round handed in, as {rig number: {key: said to fail}}.

    Rigs that the officer could not tell are left out, and so are those without a wrong call.
    """
    calls = {call.number: call for call in turn.calls.all()}
    found = {}
    for rig in rigs_of(turn.round):
        call = calls[rig.number]
        if call.verdict == Call.Verdict.UNSURE:
            continue
        said = {finding.key: finding.key in call.failing for finding in rig.verdict.regulation}
        failed = rig.verdict.failed_keys
        wrong = {key: claimed for key, claimed in said.items() if claimed is not (key in failed)}
        if wrong:
            found[rig.number] = wrong
    return found


def standings(turn):
    """Return a Standing for each rule that has been on the list, in the rule set's order."""
    return _standings(turn, [each for each in turn.practice.all() if each.handed_in])


def _standings(turn, done):
    over, under, missed, running = Counter(), Counter(), Counter(), Counter()
    for wrong in departures(turn).values():
        for key, claimed in wrong.items():
            (over if claimed else under)[key] += 1
    for each in done:
        for key, right in each.calls.items():
            if not right:
                missed[key] += 1
                running[key] = 0
            elif key == each.rule:
                running[key] += 1
    return [
        Standing(each, over[each.key], under[each.key], missed[each.key], running[each.key])
        for each in turn.round.rulebook.requirements
        if over[each.key] or under[each.key] or missed[each.key]
    ]


def open_rig(turn, draw=secrets.randbelow):
    """
    Return the PracticeRig of ``turn`` that is open, making one if there is none.

    None if no rule is left to practise. However often it is asked for, there is only one.
    ``draw`` gives a whole number below the one it is given.
    """
    found = list(turn.practice.all())
    waiting = next((each for each in found if each.handed_in is None), None)
    if waiting:
        return waiting
    left = [each.requirement.key for each in _standings(turn, found) if not each.holds]
    if not left:
        return None
    made, _ = PracticeRig.objects.get_or_create(
        turn=turn, handed_in=None, defaults=_next_rig(turn.round.rulebook, left, found, draw)
    )
    return made


def _next_rig(rulebook, left, done, draw):
    """Return the fields of a rig for one rule of ``left``, another than last time if there is."""
    rng = random.Random(draw(SEEDS))
    others = [key for key in left if not done or key != done[-1].rule]
    rule = rng.choice(others or left)
    sorts = [BROKEN in each.focus for each in done if each.rule == rule][-MOST_ALIKE:]
    broken = rng.random() < 0.5
    if len(sorts) == MOST_ALIKE and len(set(sorts)) == 1:
        broken = not sorts[0]
    made = {"rule": rule, "kind_version": KIND.version}
    if rule in KIND.covers(rulebook, LEVEL):
        return made | {"seed": draw(SEEDS), "focus": [rule, BROKEN if broken else MET]}
    while True:
        seed = draw(SEEDS)
        if _keeps(KIND.generate(seed, rulebook, LEVEL).verdict, rule):
            return made | {"seed": seed, "focus": []}


def _keeps(verdict, rule):
    """Return whether ``rule`` binds the rig that ``verdict`` is on, and is kept."""
    return any(finding.key == rule and not finding.failed for finding in verdict.findings)


def kind_of(practice_rig):
    """Return the Kind that made ``practice_rig``, in its version of that day."""
    return kinds.get(KIND.slug, practice_rig.kind_version)


def task_of(practice_rig):
    """Return the exercises' Task of ``practice_rig``, made anew from its seed."""
    book = practice_rig.turn.round.rulebook
    return kind_of(practice_rig).generate(practice_rig.seed, book, LEVEL, tuple(practice_rig.focus))


def marked(practice_rig):
    """Return a rig handed in as Marked, from its seed and raw answer alone."""
    return kind_of(practice_rig).grade(task_of(practice_rig), practice_rig.answer)


@transaction.atomic
def hand_in(practice_rig, answer, now=None):
    """
    Keep ``answer``, raw, and return the rig; the first answer handed in stands.

    Raise BadAnswer if it cannot be read; nothing is saved then.
    """
    # Held until it is saved, so that a second hand-in waits and then finds it.
    Turn.objects.select_for_update().get(pk=practice_rig.turn_id)
    held = PracticeRig.objects.select_related("turn__round").get(pk=practice_rig.pk)
    if held.handed_in is None:
        task = task_of(held)
        found = kind_of(held).grade(task, answer)
        binding = {each.key for each in task.requirements}
        held.calls = {line.key: line.right for line in found.lines if line.key in binding}
        held.answer, held.handed_in = answer, now or timezone.now()
        held.save(update_fields=["answer", "calls", "handed_in"])
    return held
