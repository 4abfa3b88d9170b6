"""Sets of readings: opened, answered one by one, finished."""

import random
import secrets
import uuid
from itertools import count

from django.db import transaction
from django.utils import timezone

from training.exercises import kinds
from training.exercises.handing import SEEDS

from . import memory
from .days import KIND, LEVEL, RulesOn
from .models import ReadingSet, SetReading

MOST = 10
"""Readings in one set of what comes back, so that it stays short."""
A_MINUTE = 2
"""Readings in a minute, their feedback included; common practice, no source."""


QUIET = {ReadingSet.Purpose.SEASON}
"""Purposes whose answers are shown when all are given: each limit would answer the next."""


class NothingToAsk(ValueError):
    """None of the rules can be asked today: no rule set with a version for it asks them."""


def minutes(readings):
    """Return about how many minutes so many ``readings`` take, 1 at least."""
    return max(1, -(-readings // A_MINUTE))


# Opening ------------------------------------------------------------------------


def open_set(user, purpose, rules, subject="", difficulty=LEVEL, each=1, key=None, now=None):
    """
    Return the ReadingSet of ``user`` for this purpose and subject, opening one if need be.

    ``rules`` are (name of a rule set, key of a requirement); each is asked ``each`` times, in
    mixed order. The same ``key``, a UUID, gives the same set, and while one is open there is
    no other, however many ask at once: its readings stay, but those by rules that ended
    meanwhile are drawn again. Raise NothingToAsk if none of the rules can be asked today.
    """
    now = now or timezone.now()
    key = key or uuid.uuid4()
    if known := ReadingSet.objects.filter(key=key).first():
        if known.user_id == user.pk:
            return known
        key = uuid.uuid4()
    begun = ReadingSet.objects.filter(user=user, purpose=purpose, subject=subject, finished=None)
    if found := begun.first():
        freshen(found, now)
        if found.finished is None:
            return found
    on = RulesOn(timezone.localdate(now))
    asked = [rule for rule in dict.fromkeys(rules) if on.can_ask(*rule, difficulty)]
    if not asked:
        raise NothingToAsk(purpose)
    with transaction.atomic():
        made, is_new = begun.get_or_create(
            defaults={
                "user": user,
                "purpose": purpose,
                "subject": subject,
                "key": key,
                "made": now,
            }
        )
        if is_new:
            SetReading.objects.bulk_create(_readings(made, asked, difficulty, each, on))
    return made


def _readings(made, rules, difficulty, each, on):
    """Return the SetReadings of a new set, not saved: every rule once before any twice."""
    rng = random.Random(secrets.randbelow(SEEDS))
    numbers, readings = count(1), []
    for _ in range(each):
        rng.shuffle(rules)
        # The one just asked is not asked again at once.
        if readings and len(rules) > 1 and _rule(readings[-1]) == rules[0]:
            rules.append(rules.pop(0))
        for name, key in rules:
            reading = SetReading(set=made, number=next(numbers), difficulty=difficulty, focus=key)
            readings.append(_drawn(reading, on.books[name]))
    return readings


def _rule(reading):
    return reading.rulebook_name, reading.focus


def _drawn(reading, book):
    """Return ``reading`` with a task drawn by the Rulebook ``book``, not saved."""
    reading.kind_version = kinds.get(KIND).version
    reading.seed = secrets.randbelow(SEEDS)
    reading.rulebook_name, reading.rulebook_version = book.name, book.version
    return reading


@transaction.atomic
def freshen(reading_set, now=None):
    """
    Have what is not answered yet in ``reading_set`` go by the rules of today.

    A reading by a version that no longer holds is drawn again, or goes if its rule is gone.
    """
    now = now or timezone.now()
    on = RulesOn(timezone.localdate(now))
    held = ReadingSet.objects.select_for_update().get(pk=reading_set.pk)
    for reading in held.readings.filter(answered=None):
        name, key = _rule(reading)
        book = on.books.get(name)
        if book is not None and book.version == reading.rulebook_version:
            continue
        if on.can_ask(name, key, reading.difficulty):
            _drawn(reading, book).save()
        else:
            reading.delete()
    _finish(held, now)
    reading_set.refresh_from_db()


# Answering ----------------------------------------------------------------------


def keeps_quiet(reading_set):
    """Return whether ``reading_set`` does not tell yet which answers were right."""
    return reading_set.finished is None and reading_set.purpose in QUIET


def task_of(reading):
    """Return the Task of a SetReading, made anew from its seed."""
    kind = kinds.get(KIND, reading.kind_version)
    return kind.generate(reading.seed, reading.rulebook, reading.difficulty, (reading.focus,))


@transaction.atomic
def answer(reading, raw, now=None):
    """
    Grade ``raw``, a raw answer, and return the reading; the first answer stands.

    Safe to call twice, at once even. What it says of the person's memory is noted with it.
    Raise BadAnswer if it cannot be read; nothing is saved then.
    """
    now = now or timezone.now()
    # Held until it is saved, so that a second answer waits and then finds it.
    held = ReadingSet.objects.select_for_update().get(pk=reading.set_id)
    reading = SetReading.objects.get(pk=reading.pk)
    if reading.answered is not None:
        return reading
    kind = kinds.get(KIND, reading.kind_version)
    marked = kind.grade(task_of(reading), raw)
    reading.answer, reading.answered, reading.passed = raw, now, marked.passed
    reading.findings = [line.as_record() for line in marked.lines]
    reading.save(update_fields=["answer", "answered", "passed", "findings"])
    memory.take(_asked(reading, held.user_id))
    _finish(held, now)
    return reading


def _finish(held, now):
    """Finish the set ``held`` if nothing is left to answer."""
    if held.finished is None and not held.readings.filter(answered=None).exists():
        held.finished = now
        held.save(update_fields=["finished"])


def remark(reading):
    """Return ``reading`` as Marked once more, from its seed, rule set and raw answer alone."""
    return kinds.get(KIND, reading.kind_version).grade(task_of(reading), reading.answer)


def _asked(reading, user_pk):
    answers = memory.answers_in(reading.findings, reading.rulebook)
    return memory.Asked(user_pk, reading.answered, reading.rulebook_name, answers, reading.pk)


@memory.source
def answered(pks):
    """Yield what people were Asked in sets."""
    rows = SetReading.objects.filter(set__user__in=pks, answered__isnull=False)
    for reading in rows.select_related("set").order_by("pk").iterator():
        yield _asked(reading, reading.set.user_id)


# Coming back ------------------------------------------------------------------------


def bring_back(user, rules, when=None):
    """
    Have ``rules``, (rule set, key), come back to ``user`` as if missed at ``when``.

    For an officer's round: the memory of it is noted by the requirements. Whoever calls this
    registers a ``memory.source`` that yields the same.
    """
    when = when or timezone.now()
    for name in dict.fromkeys(name for name, _ in rules):
        keys = [key for each, key in rules if each == name]
        memory.take(memory.Asked(user.pk, when, name, dict.fromkeys(keys, False)))
