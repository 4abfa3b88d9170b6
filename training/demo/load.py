"""Makes the demo's people and records, once."""

import random
from datetime import date, datetime, time, timedelta
from itertools import islice

from django.contrib.auth.hashers import make_password
from django.db import transaction
from django.utils import timezone

from rigs.words.units import FOOT
from training.desk import sums
from training.exercises.models import Assignment, Attempt
from training.lessons.loader import all_lessons
from training.lessons.models import LessonRead
from training.people.models import Group, Membership, Role, User
from training.register.models import Vessel

from . import adoption, checks, contacts, drafts, letters, meetings, nets, scenario, tows
from . import calibration as calibration
from . import certification as certification
from . import recall as recall
from .course import Learner, Records, refresh, take_lessons

# When people in the demo train: before and during the months in which they fish.
SEASON_BEGINS, SEASON_ENDS = (7, 1), (11, 20)
EVERY = 30  # people between two lines of progress


class RealPeople(Exception):
    """The database holds people who are not the demo's."""


def is_loaded():
    """Return whether the demo's data are in the database."""
    return Group.objects.filter(is_demo=True).exists()


def seasons(today):
    """Return the first and last days of the two latest seasons that were over by ``today``."""
    latest = today.year if today > date(today.year, *SEASON_ENDS) else today.year - 1
    return [(date(year, *SEASON_BEGINS), date(year, *SEASON_ENDS)) for year in (latest - 1, latest)]


@transaction.atomic
def load(today=None, say=lambda line: None):
    """
    Make the demo's data; return whether there was anything to do.

    The same seed makes the same people, tasks and answers each time, in the two seasons
    before ``today``. ``say`` is called with a line of progress now and then. Raise
    RealPeople rather than put logins with a known password beside anybody else's.
    """
    if is_loaded():
        return False
    if User.objects.exists():
        raise RealPeople
    rng = random.Random(scenario.SEED)
    before, latest = seasons(today or timezone.localdate())
    _make_vessels(rng, before[0])
    users = _make_people(rng, before[0])
    trained = users[Role.TRAINEE] + users[Role.OFFICER]
    records = Records()
    for number, user in enumerate(trained, 1):
        _train(user, before, latest, rng, records)
        if number % EVERY == 0:
            say(f"  {number} of {len(trained)} people have done their exercises.")
    _join_before_training(trained, records)
    LessonRead.objects.bulk_create(records.readings, batch_size=500)
    Assignment.objects.bulk_create(records.assignments, batch_size=500)
    Attempt.objects.bulk_create(records.attempts, batch_size=500)
    say("  Now they sit for their certificates.")
    logins = [each for group in users.values() for each in group[:1]]
    certification.load(users, logins, latest[1], rng)
    adoption.load(users, (before, latest))
    tows.load(users[Role.TRAINEE], latest)
    nets.load(users[Role.TRAINEE][0], latest[1])
    calibration.load(users[Role.OFFICER], latest[1])
    aboard = list(Vessel.objects.values_list("name", "harbor"))
    checks.load(users[Role.OFFICER], aboard, latest[1], random.Random(scenario.SEED))
    recall.load(trained, users[Role.TRAINEE][0], today or timezone.localdate())
    contacts.load(users)
    meetings.load(latest, today or timezone.localdate())
    drafts.load(users[Role.STAFF])
    # Most of it was put in by bulk, which no sum has noticed.
    sums.rebuild()
    contacts.call(users[Role.STAFF])
    letters.load(users[Role.TRAINEE], users[Role.STAFF][0])
    return True


def _make_vessels(rng, first_day):
    each = len(scenario.VESSELS) // len(scenario.HARBOURS)
    Vessel.objects.bulk_create(
        Vessel(
            name=name,
            harbor=scenario.HARBOURS[index // each],
            length=rng.randint(*scenario.VESSEL_FEET) * FOOT,
            added=_morning(first_day),
            is_demo=True,
        )
        for index, name in enumerate(scenario.VESSELS)
    )


def _morning(day):
    return timezone.make_aware(datetime.combine(day, time(9)))


def _make_groups():
    """Return the groups of trainees, that of officers and that of staff, by role."""
    harbors = [
        Group.objects.create(
            name=scenario.group_name(harbor),
            code=scenario.group_code(harbor),
            harbor=harbor,
            is_demo=True,
        )
        for harbor in scenario.HARBOURS
    ]
    officers = Group.objects.create(
        name=scenario.OFFICERS_GROUP, code=scenario.OFFICERS_CODE, role=Role.OFFICER, is_demo=True
    )
    # Nobody joins it by a code; it is there to mark its members as invented.
    staff = Group.objects.create(name=scenario.STAFF_GROUP, is_open=False, is_demo=True)
    return {Role.TRAINEE: harbors, Role.OFFICER: [officers], Role.STAFF: [staff]}


def _make_people(rng, first_day):
    """Make everyone, in their groups, and return them by role; the login comes first."""
    numbers = {
        Role.TRAINEE: scenario.TRAINEES,
        Role.OFFICER: scenario.OFFICERS,
        Role.STAFF: scenario.STAFF,
    }
    names = iter(scenario.names(rng, sum(numbers.values())))
    joined = _morning(first_day)
    # One hash for all: making one takes as long as hashing well should.
    password = make_password(scenario.PASSWORD)
    groups, users, memberships = _make_groups(), {}, []
    for role, number in numbers.items():
        login = scenario.LOGINS[role]
        told = [(login.name, login.email)]
        told += [(name, scenario.email(name)) for name in islice(names, number - 1)]
        users[role] = User.objects.bulk_create(
            User(
                name=name,
                email=email,
                role=role,
                whole_fleet=role == Role.STAFF,
                password=password,
                joined=joined,
            )
            for name, email in told
        )
        memberships += [
            Membership(group=groups[role][index % len(groups[role])], user=user, joined=joined)
            for index, user in enumerate(users[role])
        ]
    Membership.objects.bulk_create(memberships)
    return users


def _train(user, before, latest, rng, records):
    """Send one person through one season or both; some never come at all."""
    lessons = [lesson for lesson in all_lessons() if lesson.is_for(user.role)]
    everything, some = len(lessons), rng.randint(1, len(lessons))
    learner = Learner(
        user,
        skill=rng.betavariate(4, 3) if user.role == Role.TRAINEE else rng.betavariate(8, 2),
        reach=everything if rng.random() < 0.5 else some,
    )
    if user.email == scenario.LOGINS[Role.TRAINEE].email:
        # Half way, so that whoever signs in has something done and something to do.
        learner.reach = everything // 2
        take_lessons(learner, lessons, *_span(latest, rng), rng, records)
        return
    started_before = rng.random() < 0.55
    if started_before:
        take_lessons(learner, lessons, *_span(before, rng), rng, records)
    comes_back = rng.random() < (0.6 if started_before else 0.92)
    if comes_back:
        first, last = _span(latest, rng)
        if started_before:
            refresh(learner, first, last, rng, records)
            learner.reach = max(learner.reach, rng.randint(1, everything))
        take_lessons(learner, lessons, first, last, rng, records)


def _span(season, rng):
    """Return the days between which one person trains in ``season``."""
    first, last = season
    return first + timedelta(days=rng.randint(0, (last - first).days * 2 // 3)), last


def _join_before_training(users, records):
    """Have each person join some minutes before the first thing on their record."""
    first = {}
    moments = [(each.user, each.read_at) for each in records.readings]
    moments += [(each.assignment.user, each.assignment.created) for each in records.attempts]
    for user, moment in moments:
        first[user.pk] = min(moment, first.get(user.pk, moment))
    for user in users:
        if user.pk in first:
            user.joined = first[user.pk] - timedelta(minutes=20)
    User.objects.bulk_update(users, ["joined"], batch_size=100)
    memberships = Membership.objects.filter(user__in=users).select_related("user")
    for membership in memberships:
        membership.joined = membership.user.joined
    Membership.objects.bulk_update(memberships, ["joined"], batch_size=100)
