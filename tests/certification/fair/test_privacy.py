"""What of supervision, grants, questions and checks a person takes out and has erased."""

import uuid
from datetime import timedelta

import pytest
from django.utils import timezone

from tests.certification.candidates import answer
from tests.recall.conftest import answer_all
from training.certification import exams
from training.certification.fair import corrections, questions, recheck, signing, supervision
from training.certification.models import (
    Certificate,
    CodeTry,
    Conditions,
    Grant,
    Proposal,
    ResultQuestion,
    SeasonCheck,
    Signature,
    Supervision,
)
from training.certification.motion import Motion
from training.privacy import erasure
from training.privacy.takeout import collect
from training.recall import sets
from training.recall.models import ReadingSet

pytestmark = pytest.mark.django_db
REASON = "A letter from the doctor, seen in March."
TEXT = "In question 1 the drawing was cut off."


@pytest.fixture
def certificate(user, staff, second, opened):
    """A supervised one, renewed by a check, with a question, a proposal and a grant."""
    Grant.objects.create(
        user=user, requirements=opened.requirements, extra_percent=50, reason=REASON, by=staff
    )
    CodeTry.objects.create(user=user)
    exam = supervision.begin(user, opened.requirements, uuid.uuid4(), opened.code)
    answer(exam)
    exams.hand_in(exam)
    signing.sign(exam.conditions, Signature.How.DOCUMENT, staff)
    question = questions.ask(exam, uuid.uuid4(), TEXT)
    proposal = corrections.propose(exam, False, Motion(staff, TEXT, uuid.uuid4()), question)
    corrections.turn_down(proposal, "The drawing was all there.", second)
    found = exam.certificate
    found.expires = timezone.now() + timedelta(days=30)
    found.save()
    answer_all(recheck.begin(found, uuid.uuid4()).set)
    answer_all(sets.open_set(user, ReadingSet.Purpose.START, [("no-sweep", "float_spacing")]))
    return Certificate.objects.get()


def test_all_of_it_is_taken_out(user, staff, certificate):
    tables, _ = collect(user)
    for name in (
        "conditions of exams",
        "signatures for identity",
        "grants for exams",
        "questions about results",
        "proposed corrections",
        "checks of certificates",
        "wrong codes",
    ):
        assert len(tables[name]) == 1, name
    assert tables["grants for exams"][0]["reason"] == REASON
    assert staff.name not in str(tables)


def test_what_a_certificate_rests_on_stays_and_the_rest_goes(user, certificate):
    expires = certificate.expires
    erasure.erase(user)
    certificate.refresh_from_db()
    assert (certificate.holder_name, certificate.expires) == (erasure.NAME, expires)
    assert Conditions.objects.get().supervision == Supervision.objects.get()
    assert Signature.objects.get().confirms
    check = SeasonCheck.objects.get()
    assert check.passed
    assert ReadingSet.objects.get() == check.set
    assert check.set.readings.count() == check.asked
    for model in (Grant, CodeTry, ResultQuestion):
        assert not model.objects.exists()
    assert Proposal.objects.get().question is None


def test_without_a_certificate_nothing_stays(user, certificate, staff):
    SeasonCheck.objects.all().delete()
    certificate.delete()
    erasure.erase(user)
    for model in (Conditions, Signature, Grant, ResultQuestion, Proposal, ReadingSet):
        assert not model.objects.exists(), model
    assert Supervision.objects.get().by == staff
