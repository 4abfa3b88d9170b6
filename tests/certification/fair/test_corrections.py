"""Corrections take a reason that says something, and two people, neither of them the person's."""

import uuid

import pytest
from django.db import IntegrityError, transaction
from django.test import Client

from tests.certification.candidates import begin
from tests.certification.certificate_factory import make_exam
from tests.moments import BEFORE
from training.certification import certificates, exams
from training.certification.fair import corrections
from training.certification.models import Certificate, Correction, Exam, Proposal
from training.certification.motion import Motion
from training.people import second as people
from training.people.models import AccountDeed, Reach, Role, User

REASON = "The drawing did not print."


@pytest.fixture
def failed(user, db):
    exam = make_exam(user, marks=(2, 2))
    exam.tasks.all().delete()
    return exam


def propose(exam, by, passed=True, reason=REASON, key=None):
    return corrections.propose(exam, passed, Motion(by, reason, key or uuid.uuid4()))


class TestTwoPeople:
    def test_before_approval_it_does_not_count(self, failed, staff):
        propose(failed, staff)
        assert exams.outcome(Exam.objects.get()) is False
        assert not Correction.objects.exists()
        assert not Certificate.objects.exists()

    def test_then_it_does_and_the_certificate_is_issued(self, failed, staff, second):
        correction = corrections.approve(propose(failed, staff), second)
        assert exams.outcome(Exam.objects.get()) is True
        assert (correction.by, correction.proposal.decided_by) == (staff, second)
        assert Certificate.objects.get().issued == correction.made
        failed.refresh_from_db()
        assert (failed.marks, failed.passed) == (4, False)

    def test_approved_twice_is_once(self, failed, staff, second):
        proposal = propose(failed, staff)
        first = corrections.approve(proposal, second)
        assert corrections.approve(proposal, second) == first
        assert Correction.objects.count() == 1

    def test_one_person_is_never_two(self, failed, staff):
        proposal = propose(failed, staff)
        with pytest.raises(corrections.MayNotCorrect, match="second person"):
            corrections.approve(proposal, staff)
        with pytest.raises(IntegrityError), transaction.atomic():
            Proposal.objects.update(decided_by=staff)
        assert not Correction.objects.exists()

    def test_nobody_has_a_hand_in_their_own(self, staff, second, db):
        own = make_exam(staff, marks=(2, 2))
        with pytest.raises(corrections.MayNotCorrect, match="your own exam"):
            propose(own, staff)
        proposal = propose(own, second)
        with pytest.raises(corrections.MayNotCorrect, match="your own exam"):
            corrections.approve(proposal, staff)

    def test_a_second_account_of_the_first_is_no_second_person(self, failed, staff, second):
        proposal = propose(failed, staff)
        people.note(second, AccountDeed.What.MADE, staff)
        with pytest.raises(corrections.MayNotCorrect, match=staff.name):
            corrections.approve(proposal, second)
        assert not Correction.objects.exists()

    def test_whose_exam_it_is_acts_by_no_other_account(self, staff, second):
        own = make_exam(staff, marks=(2, 2))
        proposal = propose(own, second)
        for name in ("made", "alike"):
            third = User.objects.create_user(
                f"{name}@example.com", name=name, role=Role.STAFF, whole_fleet=True, joined=BEFORE
            )
            if name == "made":
                people.note(third, AccountDeed.What.MADE, staff)
            else:
                third.email = staff.email.replace("@", "+b@")
                third.save()
            with pytest.raises(corrections.MayNotCorrect, match=staff.name):
                propose(own, third, key=uuid.uuid4())
            with pytest.raises(corrections.MayNotCorrect, match=staff.name):
                corrections.approve(proposal, third)
        assert not Correction.objects.exists()

    def test_turned_down_it_never_counts(self, failed, staff, second):
        proposal = propose(failed, staff)
        corrections.turn_down(proposal, "The print log shows a page.", second)
        with pytest.raises(corrections.MayNotCorrect, match="turned down"):
            corrections.approve(proposal, second)
        assert propose(failed, staff) != proposal

    def test_an_approved_one_is_not_turned_down(self, failed, staff, second):
        proposal = propose(failed, staff)
        corrections.approve(proposal, second)
        with pytest.raises(corrections.MayNotCorrect, match="approved already"):
            corrections.turn_down(proposal, "The print log shows a page.", second)

    def test_to_not_passed_takes_the_certificate_back(self, user, staff, second):
        certificate = certificates.issue(make_exam(user))
        proposal = propose(certificate.exam, staff, passed=False)
        assert certificates.taken_back(Certificate.objects.get()) is None
        corrections.approve(proposal, second)
        assert certificates.taken_back(Certificate.objects.get()).reason == REASON


class TestProposing:
    def test_one_key_one_proposal(self, failed, staff):
        key = uuid.uuid4()
        assert propose(failed, staff, key=key) == propose(failed, staff, key=key)

    def test_one_at_a_time(self, failed, staff, second):
        propose(failed, staff)
        with pytest.raises(corrections.MayNotCorrect, match="waits for a second person"):
            propose(failed, second)

    def test_the_outcome_must_change(self, failed, staff):
        with pytest.raises(corrections.MayNotCorrect, match="counts as not passed already"):
            propose(failed, staff, passed=False)

    @pytest.mark.parametrize("reason", ["", "  ", "n/a", "xxxxxxxxxxxxxxx"])
    def test_the_reason_says_something(self, failed, staff, reason):
        with pytest.raises(corrections.MayNotCorrect, match="Say why in a few words"):
            propose(failed, staff, reason=reason)

    def test_not_before_it_is_turned_in(self, user, staff, requirements):
        with pytest.raises(corrections.MayNotCorrect, match="not been turned in"):
            propose(begin(user, requirements), staff)


class TestPages:
    def data(self, **changes):
        return {"key": str(uuid.uuid4()), "passed": "yes", "reason": REASON} | changes

    def test_from_one_to_the_other(self, as_staff, as_second, as_user, failed):
        path = f"/exams/{failed.pk}/"
        as_staff.post(f"{path}correct/", self.data())
        proposal = Proposal.objects.get()
        page = as_staff.get(path).content.decode()
        assert "You proposed it." in page
        assert "These people can agree: " in page
        assert "These people can agree" not in as_second.get(path).content.decode()
        assert REASON not in as_user.get(path).content.decode()
        assert failed.user.name in as_second.get("/exams/corrections/").content.decode()
        as_staff.post(f"/exams/corrections/{proposal.pk}/decide/", {"approve": "yes"})
        assert not Correction.objects.exists()
        as_second.post(f"/exams/corrections/{proposal.pk}/decide/", {"approve": "yes"})
        assert Correction.objects.get().passed
        page = as_user.get(path).content.decode()
        assert REASON in page
        assert "Two people decided" in page

    def test_a_reason_that_says_nothing_is_refused(self, as_staff, failed):
        page = as_staff.post(f"/exams/{failed.pk}/correct/", self.data(reason="n/a"))
        assert page.status_code == 422
        assert "Say why in a few words" in page.content.decode()
        assert not Proposal.objects.exists()

    def test_turning_down_needs_a_reason_too(self, as_staff, as_second, failed):
        as_staff.post(f"/exams/{failed.pk}/correct/", self.data())
        path = f"/exams/corrections/{Proposal.objects.get().pk}/decide/"
        assert as_second.post(path, {"reason": "no"}).status_code == 422
        assert Proposal.objects.get().decided is None
        as_second.post(path, {"reason": "The print log shows a page."})
        assert Proposal.objects.get().refusal == "The print log shows a page."

    def test_others_may_not(self, as_user, as_officer, second, as_second, failed, staff):
        proposal = propose(failed, staff)
        Reach.objects.create(user=second, harbor="Gannet Cove")
        for other, status in ((as_user, 403), (as_officer, 403), (as_second, 404)):
            for path in (
                f"/exams/{failed.pk}/correct/",
                f"/exams/corrections/{proposal.pk}/decide/",
            ):
                data = self.data() | {"approve": "yes"}
                assert other.post(path, data).status_code == status
        assert not Correction.objects.exists()

    def test_one_from_before_says_that_one_person_made_it(self, as_user, failed, staff):
        Correction.objects.create(exam=failed, passed=True, reason=REASON, by=staff)
        page = as_user.get(f"/exams/{failed.pk}/").content.decode()
        assert "One person decided" in page
        assert "before two were asked for" in page


def test_a_certificate_of_ones_own_is_not_withdrawn_by_oneself(db):
    chief = User.objects.create_user(
        "chief@example.com", "x", name="Chief", role=Role.STAFF, is_superuser=True
    )
    certificate = certificates.issue(make_exam(chief))
    client = Client()
    client.force_login(chief)
    path = f"/certificates/{certificate.code}/revoke/"
    assert client.post(path, {"reason": "I took it with help."}).status_code == 422
    assert certificates.taken_back(Certificate.objects.get()) is None
