"""
Practice on just those rules on which an officer departed from the rule module in a round.

Each rig is made for one rule of the officer's list and is near its limit, on either side as
often. Once the calls tell an officer from somebody who guesses (see ``holding``), the rule
leaves the list. A wrong call on whatever rig counts against it, and a rule that was not on the
list joins it.
"""

import random
import secrets
from collections import Counter, defaultdict
from dataclasses import dataclass, replace

from django.db import transaction
from django.utils import timezone

from rigs.make import near
from rigs.rules.rulebook import Requirement
from training.exercises import kinds
from training.exercises.handing import SEEDS
from training.exercises.kinds.judge_rig import JudgeRig
from training.exercises.kinds.one_reading import BROKEN, MET
from training.recall import memory

from .holding import Count
from .making import rigs_of
from .models import Call, PracticeRig, Turn

LEVEL = 3  # the nearest to the limit that a tape tells
KIND = kinds.get(JudgeRig.slug)


@dataclass(frozen=True)
class ListedRule:
    """
    How far an officer has come on one rule of the list.

    ``over`` and ``under`` are how often in the round a sound part was said to fail and a
    failing one let pass; ``missed`` how often it was called wrong in practice; ``count`` what
    the calls in practice show.
    """

    requirement: Requirement
    over: int
    under: int
    missed: int
    count: Count

    @property
    def holds(self):
        """Whether the officer holds the rule, so that it has left the list."""
        return self.count.held

    @property
    def so_far(self):
        """How far along the test is, of ``count.whole``."""
        return max(0, self.count.whole - self.count.to_go)


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
    """Return a ListedRule for each rule that has been on the list, in the rule set's order."""
    return _standings(turn, [each for each in turn.practice.all() if each.handed_in])


def _standings(turn, done):
    over, under, missed, counts = Counter(), Counter(), Counter(), defaultdict(Count)
    for wrong in departures(turn).values():
        for key, claimed in wrong.items():
            (over if claimed else under)[key] += 1
    for each in done:
        for key, right in each.calls.items():
            missed[key] += not right
            # On a rig made for another rule it is nearly always met: that proves nothing.
            if key == each.rule or not right:
                counts[key] = counts[key].after(right)
    return [
        ListedRule(each, over[each.key], under[each.key], missed[each.key], counts[each.key])
        for each in turn.round.rulebook.requirements
        if over[each.key] or under[each.key] or missed[each.key]
    ]


def open_rig(turn, draw=secrets.randbelow):
    """
    Return the PracticeRig of ``turn`` that is open, making one if there is none.

    None if no rule is left to practice. However often it is asked for, there is only one.
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
    # A fair coin, whatever came before: what was broken last tells nothing of the next.
    side = BROKEN if rng.random() < 0.5 else MET
    return {
        "rule": rule,
        "kind_version": KIND.version,
        "seed": draw(SEEDS),
        "focus": [rule, side],
    }


def kind_of(practice_rig):
    """Return the Kind that made ``practice_rig``, in its version of that day."""
    return kinds.get(KIND.slug, practice_rig.kind_version)


def task_of(practice_rig):
    """
    Return the exercises' Task of ``practice_rig``, made anew from its seed.

    Its rig breaks its rule or meets it by little. One that the kind cannot make break that rule
    alone, such as a sweep too short, breaks what goes with it too, and nothing else.
    """
    book, kind = practice_rig.turn.round.rulebook, kind_of(practice_rig)
    rule, seed = practice_rig.rule, practice_rig.seed
    if rule in kind.covers(book, LEVEL):
        return kind.generate(seed, book, LEVEL, tuple(practice_rig.focus))
    rng = random.Random(f"practice/{seed}")
    rig = near.rig(rng, book, rule, BROKEN in practice_rig.focus, LEVEL)
    return replace(kind.generate(seed, book, LEVEL), rig=rig)


def asked(practice_rig):
    """Return what the officer was Asked by ``practice_rig``, handed in, for what is remembered."""
    turn = practice_rig.turn
    told = {
        key: right
        for key, right in practice_rig.calls.items()
        if key == practice_rig.rule or not right
    }
    name = turn.round.rulebook_name
    return memory.Asked(turn.officer_id, practice_rig.handed_in, name, told, practice_rig.pk)


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
        memory.take(asked(held))
    return held
