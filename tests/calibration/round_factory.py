"""Rounds judged on purpose in one way or another, for tests."""

from django.utils import timezone

from rigs.rules import rulebook
from training.calibration import turns
from training.calibration.making import rigs_of
from training.calibration.models import Call, Round, Turn
from training.people.models import Role, User

PASSES, FAILS, UNSURE = Call.Verdict.PASSES, Call.Verdict.FAILS, Call.Verdict.UNSURE


def make_round(officers, name="no-sweep", count=20, seed=7, **fields):
    """Return a round with a turn for each of ``officers``."""
    book = rulebook.load(name)
    round_ = Round.objects.create(
        title="Quay round",
        rulebook_name=book.name,
        rulebook_version=book.version,
        count=count,
        seed=seed,
        **fields,
    )
    Turn.objects.bulk_create([Turn(round=round_, officer=officer) for officer in officers])
    return round_


def make_officers(count, start=1):
    """Return ``count`` new officers, numbered from ``start``."""
    return [
        User.objects.create_user(
            f"officer{number}@example.com", name=f"Officer {number}", role=Role.OFFICER
        )
        for number in range(start, start + count)
    ]


def truth(rig, miss=(), claim=()):
    """
    Return (verdict, failing keys) as an officer would have it who is right about ``rig``.

    But ``miss`` are rules never seen to fail, ``claim`` rules always said to.
    """
    bound = {finding.key for finding in rig.verdict.findings}
    failing = (set(rig.verdict.failed_keys) - set(miss)) | (set(claim) & bound)
    law = {each.key for each in rig.requirements if each.basis == "regulation"}
    return (FAILS if failing & law else PASSES), sorted(failing)


def judge_all(turn, said=truth, hand_in=True):
    """Save what ``said`` gives for each rig, and hand in unless told not to; return the turn."""
    seen = dict(turn.calls.values_list("number", "revision"))
    for rig in rigs_of(turn.round):
        verdict, failing = said(rig)
        turns.save(turn, rig.number, verdict, failing, revision=seen.get(rig.number, 0))
    return turns.hand_in(turn) if hand_in else turn


def judge_at_once(round_, said=truth):
    """Put in what ``said`` gives for every rig and officer of ``round_``, all handed in."""
    rigs = [(rig.number, *said(rig)) for rig in rigs_of(round_)]
    Call.objects.bulk_create(
        Call(turn=turn, number=number, verdict=verdict, failing=failing)
        for turn in round_.turns.all()
        for number, verdict, failing in rigs
    )
    round_.turns.update(handed_in=timezone.now())
