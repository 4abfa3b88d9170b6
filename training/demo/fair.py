"""Some of the demo's exams, taken at a meeting under supervision; a question and its answer."""

import uuid
from collections import defaultdict
from datetime import timedelta

from django.utils import timezone

from training.certification.codes import SUPERVISION_LENGTH
from training.certification.models import (
    Conditions,
    Exam,
    ResultQuestion,
    Signature,
    Supervision,
)
from training.deck.codes import ALPHABET

MEETINGS = 3
FEWEST = 2  # exams on one evening that make a meeting
PLACES = ("Net shed, Kettle Harbor", "Fish house, Marrow Point", "School gym, Gannet Cove")
ASKED = "I missed three readings on floats. Where can I read about them?"
ANSWERED = "The rule-by-rule table on your result leads to the place in the lesson. Look there."


def load(requirements, staff, rng):
    """Have exams on the busiest evenings be supervised by the first of ``staff``."""
    evenings = defaultdict(dict)
    exams = Exam.objects.filter(requirements=requirements, handed_in__isnull=False).order_by(
        "begun", "pk"
    )
    for exam in exams:
        evenings[timezone.localdate(exam.begun)].setdefault(exam.user_id, exam)
    busiest = sorted(evenings.items(), key=lambda each: (-len(each[1]), each[0]))
    for place, (_, found) in zip(PLACES[:MEETINGS], busiest, strict=False):
        if len(found) >= FEWEST:
            _supervise(requirements, place, list(found.values()), staff[0], rng)
    failed = exams.filter(passed=False).last()
    if failed:
        _ask(failed, staff[-1], rng)


def _supervise(requirements, place, exams, supervisor, rng):
    starts = min(exam.begun for exam in exams) - timedelta(minutes=10)
    supervision = Supervision.objects.create(
        requirements=requirements,
        place=place,
        starts=starts,
        ends=max(exam.deadline or exam.handed_in for exam in exams) + timedelta(minutes=10),
        code="".join(rng.choice(ALPHABET) for _ in range(SUPERVISION_LENGTH)),
        key=uuid.UUID(int=rng.getrandbits(128)),
        by=supervisor,
        made=starts - timedelta(days=1),
    )
    Conditions.objects.filter(exam__in=exams).update(supervision=supervision)
    # One went home with the identity paper in the truck.
    Signature.objects.bulk_create(
        Signature(
            conditions_id=exam.pk,
            how=rng.choice((Signature.How.DOCUMENT, Signature.How.KNOWN)),
            by=supervisor,
            made=supervision.ends + timedelta(minutes=number),
        )
        for number, exam in enumerate(exams[1:], 1)
    )


def _ask(exam, by, rng):
    ResultQuestion.objects.create(
        exam=exam,
        key=uuid.UUID(int=rng.getrandbits(128)),
        text=ASKED,
        asked=exam.handed_in + timedelta(days=1),
        answer=ANSWERED,
        answered=exam.handed_in + timedelta(days=3),
        answered_by=by,
    )
