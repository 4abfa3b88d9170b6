"""What outsiders read: figures are the requirements's, and what would mislead is said."""

import uuid

import pytest
from django.utils import timezone

from rigs.rules import rulebook
from tests.certification.candidates import answer, begin, make_requirements
from tests.certification.certificate_factory import make_exam
from training.certification import (
    blueprints,
    certificates,
    changes,
    exams,
    expected,
    open_badge,
    terms,
)
from training.certification.fair import corrections, questions, recheck, wording
from training.certification.motion import Motion

PARTS = (("one-reading", 3, 17), ("judge-rig", 3, 2))
WHY = "Some passed who did not know the spacing."


@pytest.fixture
def requirements(db):
    return make_requirements(
        PARTS,
        must_pass=["dropper_spacing"],
        must_asked=5,
        must_slips=2,
        pass_percent=83,
        minutes=37,
        attempts_allowed=4,
        waiting_days=6,
        months_valid=19,
    )


def read(client, requirements):
    return " ".join(client.get(f"/what-it-means/{requirements.slug}/").text.split())


def test_the_figures_are_those_of_the_requirements(client, requirements):
    page = read(client, requirements)
    title = rulebook.load("no-sweep", "1").requirement("dropper_spacing").title
    for words in (
        "19 questions.",
        "83 percent of the points are needed.",
        f"each is asked 5 times by “Met or broken?”: {title}.",
        "At most 2 of those answers on each rule may be wrong.",
        "37 minutes are allowed.",
        "4 attempts, at least 6 days apart.",
        "valid for 19 months",
        f"ask about a result for {questions.ASK_DAYS} days",
        f"from {recheck.WEEKS} weeks before",
    ):
        assert words in page
    requirements.must_slips, requirements.minutes, requirements.waiting_days = 0, None, 0
    requirements.save()
    page = read(client, requirements)
    for words in ("None of those answers may be wrong.", "There is no time limit.", "4 attempts."):
        assert words in page


def test_every_rule_is_listed_with_how_often_it_is_asked(client, requirements):
    page = client.get(f"/what-it-means/{requirements.slug}/")
    assert sum(row.total for row in page.context["rows"]) == 19
    for row in page.context["rows"]:
        assert row.title in page.text


def test_what_is_expected_is_not_taken_for_what_was_seen(client, requirements):
    page = read(client, requirements)
    for line in expected.told(
        requirements, blueprints.of_requirements(requirements), timezone.localdate()
    )["lines"]:
        assert line.text in page
    assert "These figures do not come from people who took the exam." in page


def test_it_says_what_the_certificate_is_not(client, requirements):
    page = read(client, requirements)
    for words in ("not a license", "not legal advice", "not an accreditation", "pass by luck"):
        assert words in page


def test_who_issues_it_is_the_programs_name(client, requirements, settings):
    settings.OFFICE_NAME = "Tern Sound Fisheries Extension"
    assert "Issued by Tern Sound Fisheries Extension." in read(client, requirements)


def test_earlier_requirements_are_not_hidden(client, requirements, staff, second):
    assert "other requirements held" not in read(client, requirements)
    wanted = terms.of_requirements(requirements) | {"pass_percent": 90}
    change = changes.propose(requirements, wanted, Motion(staff, WHY, uuid.uuid4()))
    assert "83 percent" in read(client, requirements)
    changes.approve(change, second)
    page = read(client, requirements)
    assert "90 percent" in page
    assert "other requirements held" in page


def test_a_certificate_leads_to_it_and_tells_of_its_own_exam(client, user, requirements):
    exam = begin(user, requirements)
    answer(exam)
    certificate = exams.hand_in(exam).certificate
    requirements.pass_percent = 50
    requirements.save()
    page = client.get(f"/verify/{certificate.code}/").text
    assert f"/what-it-means/{requirements.slug}/" in page
    said = "An exam of 19 points, 83 percent to pass, at most 2 slips in each rule"
    assert said in page
    badge = open_badge.credential(certificate, "https://training.example")
    criteria = badge["credentialSubject"]["achievement"]["criteria"]
    assert said in criteria["narrative"]
    assert criteria["id"] == f"https://training.example/what-it-means/{requirements.slug}/"


def test_one_that_a_correction_passed_does_not_claim_the_score(client, user, staff, second):
    exam = make_exam(user, marks=(2, 2))
    corrections.approve(corrections.propose(exam, True, Motion(staff, WHY, uuid.uuid4())), second)
    said = "It counts as passed by a correction of the staff."
    assert said in client.get(f"/verify/{exam.certificate.code}/").text
    assert WHY not in client.get(f"/verify/{exam.certificate.code}/").text
    badge = open_badge.credential(exam.certificate, "https://training.example")
    assert said in badge["credentialSubject"]["achievement"]["criteria"]["narrative"]
    passed = certificates.issue(make_exam(user))
    assert "correction" not in wording.exam(passed.exam)


def test_all_are_listed(client, requirements):
    assert f"/what-it-means/{requirements.slug}/" in client.get("/what-it-means/").text
    assert "/what-it-means/" in client.get("/verify/").text
