"""The demo's requirements of certificates, and exams sat by its invented people."""

import random
import uuid
from datetime import timedelta

from training.certification import changes, exams, terms
from training.certification.exams import Opening
from training.certification.models import ExamTask, Judgement, Requirements, RequirementsPart
from training.certification.motion import Motion
from training.exercises.handing import SEEDS
from training.exercises.hands import answer, people
from training.people.models import Role

from . import fair as fair
from . import scenario
from .course import evening

CANDIDATES = 36  # fishermen who sit for their certificate; of the officers all do
SITTING_WEEKS = timedelta(weeks=5)
SPREAD = 25  # days over which people come to sit for the first time
MOST_SITTINGS = 2
BETWEEN = timedelta(days=3)
LEARNT_BETWEEN = 0.5  # of what is left to learn

# Chosen by what ``expected`` says of them, so that they meet the aims that stand there. What tells
# people apart most for its time is LAST: a sixth of those who guess have it right, not half. It
# asks each rule twice at most, since who compares more sizes of one rule comes near its limit.
CREW = (
    {
        "slug": "rigging-without-a-sweep",
        "title": "Rigging without a sweep",
        "track": Requirements.Track.FISHERMAN,
        "summary": "Rigging a raised footrope, and seeing when it is not right.",
        "rulebooks": ["no-sweep", "grate"],
        "must_pass": ["dropper_spacing", "float_spacing"],
        "must_asked": 5,
        "must_slips": 2,
        "pass_percent": 87,
        "minutes": 40,
        "months_valid": 24,
    },
    (
        ("one-reading", 3, 30),
        ("choose-one", 3, 28),
        ("judge-rig", 3, 3),
        ("space-droppers", 3, 1),
    ),
)
OFFICER = (
    {
        "slug": "judging-raised-footrope-gear",
        "title": "Judging raised footrope gear",
        "track": Requirements.Track.OFFICER,
        "summary": "Judging a rig at the dock under each of the rule sets.",
        "rulebooks": ["no-sweep", "chain-sweep", "grate"],
        "must_pass": ["dropper_spacing", "sweep_stock"],
        "must_asked": 5,
        "must_slips": 2,
        "pass_percent": 88,
        "minutes": 60,
        "months_valid": 36,
    },
    (
        ("one-reading", 3, 44),
        ("choose-one", 3, 34),
        ("judge-rig", 3, 5),
        ("space-droppers", 3, 1),
    ),
)
# What was asked of crews before, and why two of the staff changed it.
BEFORE = {"pass_percent": 80}
BECAUSE = "Some passed who did not know a third of the limits. The lessons teach them all."
PROPOSED = timedelta(weeks=3)
DECIDED = timedelta(days=2)


def load(users, logins, season_ends, rng):
    """
    Make the requirements of the demo's certificates, and take exams in the last weeks of a season.

    ``users`` are the demo's people by role; the trainee and the officer among ``logins``,
    people to sign in as, know it all.
    """
    first_day = season_ends - SITTING_WEEKS
    fisherman, officer = (_make(fields, parts) for fields, parts in (CREW, OFFICER))
    _change(fisherman, users[Role.STAFF], first_day, rng)
    trainees = [each for each in users[Role.TRAINEE] if each not in logins]
    for user in rng.sample(trainees, min(CANDIDATES, len(trainees))):
        _sit(user, fisherman, rng.betavariate(9, 2), first_day, rng)
    for user in users[Role.OFFICER]:
        skill = 1 if user in logins else rng.betavariate(12, 2)
        _sit(user, officer, skill, first_day, rng)
    # From a seed of its own, so that all others are asked and answer what they did.
    own = random.Random(f"{scenario.SEED} certificate")
    for user in [each for each in users[Role.TRAINEE] if each in logins]:
        _sit(user, fisherman, 1, first_day, own)
    fair.load(fisherman, users[Role.STAFF], rng)
    Judgement.objects.bulk_create(
        Judgement(part=part, judge=judge, share=round(rng.uniform(0.55, 0.85), 2))
        for requirements in (fisherman, officer)
        for part in requirements.parts.all()
        for judge in users[Role.STAFF]
    )


def _make(fields, parts):
    requirements = Requirements.objects.create(**fields, is_demo=True)
    RequirementsPart.objects.bulk_create(
        RequirementsPart(requirements=requirements, kind=kind, difficulty=difficulty, count=count)
        for kind, difficulty, count in parts
    )
    return requirements


def _change(requirements, staff, first_day, rng):
    """Have two of ``staff``, if there are two, make of what was asked what is asked now."""
    if len(staff) < 2:
        return
    wanted = terms.of_requirements(requirements)
    Requirements.objects.filter(pk=requirements.pk).update(**BEFORE)
    moment = evening(first_day - PROPOSED, rng)
    key = uuid.UUID(int=rng.getrandbits(128))
    change = changes.propose(requirements, wanted, Motion(staff[1], BECAUSE, key), moment)
    changes.approve(change, staff[0], moment + DECIDED)


def _sit(user, requirements, skill, first_day, rng):
    """Have ``user`` sit until it works or enough has been tried."""
    moment = evening(first_day + timedelta(days=rng.randint(0, SPREAD)), rng)
    for _ in range(MOST_SITTINGS):
        key = uuid.UUID(int=rng.getrandbits(128))
        exam = exams.begin(user, requirements, key, Opening(moment, rng.randrange(SEEDS)))
        tasks = list(exam.tasks.all())
        taken = timedelta(minutes=requirements.minutes) * rng.uniform(0.6, 0.95)
        for task in tasks:
            mind = people.of_skill(user.email, skill)
            task.answer = answer(task.kind, exams.task_of(task), mind, rng)
            task.saved, task.revision = moment + taken * task.number / len(tasks), 1
        ExamTask.objects.bulk_update(tasks, ["answer", "saved", "revision"])
        if exams.hand_in(exam, moment + taken).passed:
            return
        skill += LEARNT_BETWEEN * (1 - skill)
        moment += BETWEEN
