"""
Learning events as xAPI statements (IEEE 9274.1.1), which other systems read.

A statement is made of one row of the database and always comes out the same, its name
(``id``) included. People are named by their number here, never by name or e-mail: who
the number is, this site alone knows. Verbs and sorts of activity are those published
for the standard by ADL, from memory; what they do not have is named under this site's
own address.
"""

import uuid
from collections.abc import Callable
from typing import NamedTuple

from django.db.models import Count, Model, Q
from django.urls import reverse

from training.certification.models import Certificate, Exam, Revocation
from training.exercises import kinds
from training.exercises.models import Attempt
from training.lessons.loader import all_lessons
from training.lessons.models import LessonRead
from training.recall.models import ReadingSet

VERSION = "2.0.0"
ADL_VERBS = "http://adlnet.gov/expapi/verbs/"
ADL_ACTIVITIES = "http://adlnet.gov/expapi/activities/"
LANGUAGE = "en-US"
PURPOSES = dict(ReadingSet.Purpose.choices)


class Event(NamedTuple):
    """
    One sort of learning event.

    ``rows`` gives a queryset of ``model``, ``statement`` turns (row, site's address) into
    a statement without its name; ``moment`` is the field that says when.
    """

    key: str
    model: type[Model]
    rows: Callable
    moment: str
    statement: Callable


def _verb(name):
    return {"id": ADL_VERBS + name, "display": {LANGUAGE: name}}


def _activity(address, path, sort, title, **extensions):
    definition = {"type": ADL_ACTIVITIES + sort, "name": {LANGUAGE: title}}
    if extensions:
        definition["extensions"] = {
            f"{address}/xapi/{name}": value for name, value in extensions.items()
        }
    return {"objectType": "Activity", "id": address + path, "definition": definition}


def _agent(user_pk, address):
    return {"objectType": "Agent", "account": {"homePage": address, "name": str(user_pk)}}


def _result(marks, out_of, passed):
    """Return marks as the standard has them; ``scaled`` lies between 0 and 1."""
    score = {"raw": marks, "min": 0, "max": out_of}
    if out_of:
        score["scaled"] = round(marks / out_of, 4)
    return {"score": score, "success": passed, "completion": True}


def _base(user_pk, verb, thing, moment, address):
    return {
        "version": VERSION,
        "actor": _agent(user_pk, address),
        "verb": verb,
        "object": thing,
        "timestamp": moment.isoformat(),
    }


def _lesson_read(row, address):
    titles = {lesson.slug: lesson.title for lesson in all_lessons()}
    path = reverse("lessons:detail", args=[row.slug])
    # A lesson that has been taken out of the course keeps its slug for a title.
    thing = _activity(address, path, "lesson", titles.get(row.slug, row.slug))
    return _base(row.user_id, _verb("experienced"), thing, row.read_at, address)


def _attempt(row, address):
    assignment = row.assignment
    try:
        title = kinds.get(assignment.kind).title
    except KeyError:
        title = assignment.kind
    thing = _activity(
        address, reverse("exercises:do", args=[assignment.kind]), "interaction", title
    )
    verb = _verb("passed" if row.passed else "failed")
    statement = _base(assignment.user_id, verb, thing, row.handed_in, address)
    statement["result"] = _result(row.marks, row.out_of, row.passed)
    statement["context"] = {
        "extensions": {
            f"{address}/xapi/rule-set": assignment.rulebook_name,
            f"{address}/xapi/rule-set-version": assignment.rulebook_version,
            f"{address}/xapi/difficulty": assignment.difficulty,
        }
    }
    return statement


def _requirements(row, address):
    path = reverse("certification:mine") + f"#{row.slug}"
    return _activity(address, path, "assessment", row.title)


def _exam(row, address):
    verb = _verb("passed" if row.passed else "failed")
    thing = _requirements(row.requirements, address)
    statement = _base(row.user_id, verb, thing, row.handed_in, address)
    statement["result"] = _result(row.marks, row.out_of, row.passed)
    return statement


def _certificate(row, address):
    verb = {"id": f"{address}/xapi/certified", "display": {LANGUAGE: "was certified"}}
    thing = _requirements(row.exam.requirements, address)
    statement = _base(row.exam.user_id, verb, thing, row.issued, address)
    statement["context"] = {
        "extensions": {
            f"{address}/xapi/certificate": address
            + reverse("certificates:verify_code", args=[row.code]),
            f"{address}/xapi/valid-until": row.expires.isoformat(),
        }
    }
    return statement


def _taken_back(row, address):
    verb = {"id": f"{address}/xapi/certificate-taken-back", "display": {LANGUAGE: "lost"}}
    thing = _requirements(row.certificate.exam.requirements, address)
    statement = _base(row.certificate.exam.user_id, verb, thing, row.made, address)
    statement["context"] = {
        "extensions": {
            f"{address}/xapi/certificate": address
            + reverse("certificates:verify_code", args=[row.certificate.code])
        }
    }
    return statement


def _reading_set(row, address):
    thing = _activity(
        address,
        reverse("recall:review") + f"#{row.purpose}",
        "interaction",
        str(PURPOSES[row.purpose]),
    )
    statement = _base(row.user_id, _verb("completed"), thing, row.finished, address)
    scaled = round(row.right / row.asked, 4)
    score = {"raw": row.right, "min": 0, "max": row.asked, "scaled": scaled}
    statement["result"] = {"score": score, "completion": True}
    return statement


EVENTS = (
    Event("lesson-read", LessonRead, LessonRead.objects.all, "read_at", _lesson_read),
    Event(
        "attempt",
        Attempt,
        lambda: Attempt.objects.select_related("assignment"),
        "handed_in",
        _attempt,
    ),
    Event(
        "reading-set",
        ReadingSet,
        lambda: (
            ReadingSet.objects.filter(finished__isnull=False)
            .annotate(
                asked=Count("readings"), right=Count("readings", filter=Q(readings__passed=True))
            )
            .filter(asked__gt=0)
        ),
        "finished",
        _reading_set,
    ),
    Event(
        "exam",
        Exam,
        lambda: Exam.objects.filter(handed_in__isnull=False).select_related("requirements"),
        "handed_in",
        _exam,
    ),
    Event(
        "certificate",
        Certificate,
        lambda: Certificate.objects.select_related("exam__requirements"),
        "issued",
        _certificate,
    ),
    Event(
        "certificate-taken-back",
        Revocation,
        lambda: Revocation.objects.select_related("certificate__exam__requirements"),
        "made",
        _taken_back,
    ),
)


def statement(event, row, address):
    """
    Return the statement of one ``row`` of an Event, named so that it is made only once.

    ``address`` is the site's, such as ``https://training.example``.
    """
    name = uuid.uuid5(uuid.NAMESPACE_URL, f"{address}/xapi/{event.key}/{row.pk}")
    return {"id": str(name), **event.statement(row, address)}


def every(address, chunk=500):
    """Yield every statement there is, without holding more than ``chunk`` rows at once."""
    for event in EVENTS:
        last = 0
        # No query is left open, however long whoever takes them is at it.
        while some := event.rows().filter(pk__gt=last).order_by("pk")[:chunk]:
            for row in some:
                yield statement(event, row, address)
            last = row.pk


def number():
    """Return how many statements there are."""
    return sum(event.rows().count() for event in EVENTS)
