"""Some of the demo's exams, taken at a meeting under supervision; a question and its answer."""

import uuid
from collections import defaultdict
from datetime import timedelta

from django.utils import timezone

from training.certification.codes import SUPERVISION_LENGTH
from training.certification.models import (
    Conditions,
    Paper,
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


def load(scheme, staff, rng):
    """Have exams of ``scheme`` on the busiest evenings be supervised by the first of ``staff``."""
    evenings = defaultdict(dict)
    exams = Paper.objects.filter(scheme=scheme, handed_in__isnull=False).order_by("begun", "pk")
    for paper in exams:
        evenings[timezone.localdate(paper.begun)].setdefault(paper.user_id, paper)
    busiest = sorted(evenings.items(), key=lambda each: (-len(each[1]), each[0]))
    for place, (_, found) in zip(PLACES[:MEETINGS], busiest, strict=False):
        if len(found) >= FEWEST:
            _supervise(scheme, place, list(found.values()), staff[0], rng)
    failed = exams.filter(passed=False).last()
    if failed:
        _ask(failed, staff[-1], rng)


def _supervise(scheme, place, exams, supervisor, rng):
    starts = min(paper.begun for paper in exams) - timedelta(minutes=10)
    supervision = Supervision.objects.create(
        scheme=scheme,
        place=place,
        starts=starts,
        ends=max(paper.deadline or paper.handed_in for paper in exams) + timedelta(minutes=10),
        code="".join(rng.choice(ALPHABET) for _ in range(SUPERVISION_LENGTH)),
        key=uuid.UUID(int=rng.getrandbits(128)),
        by=supervisor,
        made=starts - timedelta(days=1),
    )
    Conditions.objects.filter(paper__in=exams).update(supervision=supervision)
    # One went home with the identity paper in the truck.
    Signature.objects.bulk_create(
        Signature(
            conditions_id=paper.pk,
            how=rng.choice((Signature.How.DOCUMENT, Signature.How.KNOWN)),
            by=supervisor,
            made=supervision.ends + timedelta(minutes=number),
        )
        for number, paper in enumerate(exams[1:], 1)
    )


def _ask(paper, by, rng):
    ResultQuestion.objects.create(
        paper=paper,
        key=uuid.UUID(int=rng.getrandbits(128)),
        text=ASKED,
        asked=paper.handed_in + timedelta(days=1),
        answer=ANSWERED,
        answered=paper.handed_in + timedelta(days=3),
        answered_by=by,
    )
