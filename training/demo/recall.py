"""Sets answered by the demo's invented people, and what they remember."""

import random
import uuid
from datetime import datetime, time, timedelta

from django.utils import timezone

from training.exercises import kinds
from training.exercises.handing import SEEDS
from training.exercises.hands import answer, people
from training.exercises.models import Attempt
from training.recall import course, memory
from training.recall.days import KIND, LEVEL, RulesOn
from training.recall.models import ReadingSet, SetReading
from training.recall.spacing import INTERVALS

SHARE = 0.4  # of the trained who answer sets at all
AT_ONCE = 6  # readings in a set of what comes back
SKILL = 0.7  # of the one to sign in as
SECONDS = 25  # between two answers
SEED = 1903


def load(users, login, today):
    """
    Have some of ``users`` see what they know and practice what comes back, up to ``today``.

    ``login`` is one of them to sign in as, to whom some rules come back. What everybody
    remembers is worked out at the end from all that was answered, by bulk or not.
    """
    rng = random.Random(SEED)
    first = dict(
        Attempt.objects.order_by("-handed_in").values_list("assignment__user", "handed_in")
    )
    readings = []
    for user in users:
        if user == login:
            readings += _of_login(user, today, rng)
        elif user.pk in first and rng.random() < SHARE:
            readings += _of_another(user, timezone.localdate(first[user.pk]), today, rng)
    SetReading.objects.bulk_create(readings, batch_size=500)
    memory.rebuild_all()


def _of_login(user, today, rng):
    """Return the readings, not saved, of a person to whom AT_ONCE rules come back today."""
    begun, after = today - timedelta(days=9), today - timedelta(days=1)
    rules = course.rules_of(user, begun)
    again = rng.sample(rules, len(rules) - AT_ONCE)
    return [
        *_answered(user, ReadingSet.Purpose.START, rules, begun, SKILL, rng),
        *_answered(user, ReadingSet.Purpose.REVIEW, again, after, SKILL, rng),
    ]


def _of_another(user, day, today, rng):
    """Return the readings, not saved, of ``user`` who begins on ``day`` and goes on for a while."""
    skill, found = rng.betavariate(4, 3), []
    rules, purpose = course.rules_of(user, day), ReadingSet.Purpose.START
    for gap in (0, *INTERVALS)[: rng.randint(1, len(INTERVALS))]:
        # Some come late; whoever is asked again has learned.
        day += timedelta(days=gap + rng.choice((0, 0, 1, 3)))
        if day > today:
            break
        found += _answered(user, purpose, rules, day, skill, rng)
        skill += (1 - skill) / 2
        purpose = ReadingSet.Purpose.REVIEW
        rules = rng.sample(rules, min(AT_ONCE, len(rules)))
    return found


def _answered(user, purpose, rules, day, skill, rng):
    """Return the readings of one finished set, graded for real, not saved; the set is."""
    on, kind = RulesOn(day), kinds.get(KIND)
    moment = timezone.make_aware(
        datetime.combine(day, time(rng.randint(18, 21), rng.randint(0, 59)))
    )
    made = ReadingSet.objects.create(
        user=user,
        purpose=purpose,
        key=uuid.UUID(int=rng.getrandbits(128)),
        made=moment,
        finished=moment + timedelta(seconds=SECONDS * len(rules)),
    )
    mind, found = people.of_skill(user.email, skill), []
    for number, (name, key) in enumerate(rng.sample(rules, len(rules)), 1):
        book = on.books[name]
        reading = SetReading(
            set=made,
            number=number,
            kind_version=kind.version,
            seed=rng.randrange(SEEDS),
            difficulty=LEVEL,
            rulebook_name=name,
            rulebook_version=book.version,
            focus=key,
            answered=moment + timedelta(seconds=SECONDS * number),
        )
        task = kind.generate(reading.seed, book, LEVEL, (key,))
        reading.answer = answer(KIND, task, mind, rng)
        marked = kind.grade(task, reading.answer)
        reading.passed = marked.passed
        reading.findings = [line.as_record() for line in marked.lines]
        found.append(reading)
    return found
