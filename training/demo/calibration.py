"""The demo's rounds: one judged by its invented officers, one to go on with."""

import random
from datetime import timedelta

from rigs.rules import rulebook
from training.calibration import practice, turns
from training.calibration.models import Call, PracticeRig, Round, Turn
from training.exercises.hands import answer, people

from .course import evening

SEED = 4021
RIGS = 24
SPREAD = timedelta(days=9)
PRACTISED = 6  # rigs that the officer to sign in as has practiced on
SKILL = 0.95  # with which that one practices
BEGUN = 4  # rigs judged of the round that is open

# What each invented officer does not see, and what each takes for a fault that is none.
HABITS = (
    (("dropper_spacing", "float_spacing"), ("legs_equal",)),
    (("top_leg_wire", "bottom_leg_wire"), ()),
    ((), ("dropper_length", "dropper_at_corners")),
    (("door_to_wing_end",), ("float_diameter",)),
    (("dropper_at_centre", "float_spacing"), ()),
    (("footrope_excess",), ("dropper_spacing",)),
)
MISSES, CLAIMS = 0.8, 0.3  # how often a habit shows
SLIPS_UNDER, SLIPS_OVER = 0.06, 0.004  # how often anybody errs on any part
UNSURE = 0.02


def load(officers, season_ends):
    """
    Make two rounds in the weeks before ``season_ends``: one handed in, one open.

    ``officers`` are the demo's; the first is the one to sign in as, who has begun to
    practice after the first round and to judge in the second.
    """
    rng = random.Random(SEED)
    done = _round("Fall round at the dock", officers, season_ends - 3 * SPREAD, rng)
    for turn, habits in zip(done.turns.order_by("officer_id"), HABITS, strict=True):
        _judge(turn, habits, evening(season_ends - 2 * SPREAD, rng), rng)
    first = done.turns.get(officer=officers[0])
    _practice(first, evening(season_ends - SPREAD, rng), rng)
    Round.objects.filter(pk=done.pk).update(closed=evening(season_ends - SPREAD, rng))
    opened = _round("Second round: no sweep", officers, season_ends - SPREAD, rng)
    _judge(opened.turns.get(officer=officers[0]), HABITS[0], evening(season_ends, rng), rng, BEGUN)


def _round(title, officers, day, rng):
    book = rulebook.in_force("no-sweep", day)
    made = Round.objects.create(
        title=title,
        rulebook_name=book.name,
        rulebook_version=book.version,
        count=RIGS,
        seed=rng.randrange(SEED),
        is_demo=True,
        created=evening(day, rng),
    )
    Turn.objects.bulk_create([Turn(round=made, officer=officer) for officer in officers])
    return made


def _judge(turn, habits, moment, rng, only=None):
    """Have the officer of ``turn`` judge every rig and hand in, or the first ``only``."""
    calls = []
    for place, entry in enumerate(turns.entries(turn)[:only]):
        verdict, failing = _said(entry.shown, habits, rng)
        saved = moment + timedelta(minutes=2 * place)
        calls.append(
            Call(
                turn=turn,
                number=entry.shown.number,
                verdict=verdict,
                failing=failing,
                saved=saved,
            )
        )
    Call.objects.bulk_create(calls)
    if only is None:
        turns.hand_in(turn, moment + timedelta(hours=1))


def _said(rig, habits, rng):
    """Return (verdict, failing keys) as an officer of ``habits`` would have it."""
    if rng.random() < UNSURE:
        return Call.Verdict.UNSURE, []
    misses, claims = habits
    failing = set()
    for finding in rig.verdict.regulation:
        if finding.failed:
            slips = MISSES if finding.key in misses else SLIPS_UNDER
        else:
            slips = CLAIMS if finding.key in claims else SLIPS_OVER
        if finding.failed is (rng.random() >= slips):
            failing.add(finding.key)
    verdict = Call.Verdict.FAILS if failing else Call.Verdict.PASSES
    return verdict, sorted(failing)


def _practice(turn, moment, rng):
    """Have the officer of ``turn`` judge some rigs on the rules of the list."""
    for number in range(PRACTISED):
        found = practice.open_rig(Turn.objects.get(pk=turn.pk), draw=rng.randrange)
        made = moment + timedelta(minutes=3 * number)
        PracticeRig.objects.filter(pk=found.pk).update(made=made)
        mind = people.of_skill(turn.officer.email, SKILL)
        given = answer(practice.KIND.slug, practice.task_of(found), mind, rng)
        practice.hand_in(found, given, made + timedelta(minutes=2))
