"""Extra time and reading aloud: granted with a reason, noted on the exam, private."""

from datetime import timedelta

import pytest
from django.urls import reverse

from tests.certification.candidates import answer, begin
from training.certification import exams, open_badge
from training.certification.fair import conditions
from training.certification.models import Grant
from training.people.models import Reach

REASON = "A letter from the doctor, seen in March."


def grant(user, requirements, by, **fields):
    return Grant.objects.create(
        user=user, requirements=requirements, by=by, reason=REASON, **fields
    )


@pytest.mark.parametrize(("percent", "minutes"), [(0, 30), (50, 45), (25, 38), (100, 60)])
def test_the_deadline_follows(user, staff, requirements, now, percent, minutes):
    grant(user, requirements, staff, extra_percent=percent)
    assert begin(user, requirements, now).deadline == now + timedelta(minutes=minutes)


def test_an_exam_without_limit_has_none_with_more_time(user, staff, requirements):
    requirements.minutes = None
    requirements.save()
    grant(user, requirements, staff, extra_percent=50)
    assert begin(user, requirements).deadline is None


def test_the_exam_keeps_what_was_granted_when_it_began(user, staff, requirements):
    grant(user, requirements, staff, extra_percent=50, read_aloud=True)
    exam = begin(user, requirements)
    grant(user, requirements, staff)
    exam.refresh_from_db()
    assert (exam.conditions.extra_percent, exam.conditions.read_aloud) == (50, True)
    assert not conditions.granted(user, requirements).is_something


def test_it_is_for_one_person_and_one_certificate(user, officer, staff, requirements):
    grant(officer, requirements, staff, extra_percent=50)
    assert not conditions.granted(user, requirements).is_something


def test_the_result_notes_it_and_the_certificate_does_not(
    as_user, client, user, staff, requirements
):
    grant(user, requirements, staff, extra_percent=50, read_aloud=True)
    exam = begin(user, requirements)
    answer(exam)
    exams.hand_in(exam)
    page = as_user.get(f"/exams/{exam.pk}/").content.decode()
    assert "50 percent extra time" in page
    assert "reading aloud" in page
    code = exam.certificate.code
    for path in (f"/verify/{code}/", f"/certificates/{code}/"):
        text = as_user.get(path).content.decode()
        assert "extra time" not in text
        assert "aloud" not in text
        assert REASON not in text
    badge = str(open_badge.credential(exam.certificate, "https://training.example"))
    assert "extra time" not in badge
    assert "aloud" not in badge


def test_the_person_reads_it_before_starting(as_user, user, staff, requirements):
    before = reverse("certification:begin", args=[requirements.slug])
    assert "Granted to you" not in as_user.get(before).content.decode()
    grant(user, requirements, staff, extra_percent=50)
    page = as_user.get(before).content.decode()
    assert "Granted to you for this exam: 50 percent more time, 45 minutes in all." in page
    assert REASON in page


class TestGranting:
    PATH = "/exams/granted/"

    def form(self, requirements, **changes):
        return {
            "email": "Wren@example.com",
            "requirements": requirements.pk,
            "extra_percent": "50",
            "reason": REASON,
        } | changes

    def test_twice_the_same_is_kept_once(self, as_staff, user, staff, requirements):
        for _ in range(2):
            assert as_staff.post(self.PATH, self.form(requirements)).status_code == 302
        found = Grant.objects.get()
        assert (found.user, found.by, found.extra_percent, found.read_aloud) == (
            user,
            staff,
            50,
            False,
        )
        assert REASON in as_staff.get(self.PATH).content.decode()

    @pytest.mark.parametrize(
        ("changes", "said"),
        [
            ({"email": "nobody@example.com"}, "No person of yours has this email."),
            ({"email": "robin@example.com"}, "Nobody grants this to themselves."),
            ({"extra_percent": "201"}, "200"),
            ({"extra_percent": "-5"}, "0"),
            ({"reason": "n/a"}, "Say why in a few words"),
        ],
    )
    def test_what_cannot_be(self, as_staff, user, requirements, changes, said):
        page = as_staff.post(self.PATH, self.form(requirements, **changes))
        assert page.status_code == 422
        assert said in page.content.decode()
        assert not Grant.objects.exists()

    def test_only_for_people_one_looks_after(self, as_staff, staff, user, requirements):
        Reach.objects.create(user=staff, harbor="Gannet Cove")
        page = as_staff.post(self.PATH, self.form(requirements))
        assert "No person of yours has this email." in page.content.decode()

    def test_the_reason_is_not_for_others(
        self, as_second, second, staff, user, as_officer, requirements
    ):
        grant(user, requirements, staff, extra_percent=50)
        assert as_officer.get(self.PATH).status_code == 403
        assert REASON in as_second.get(self.PATH).content.decode()
        Reach.objects.create(user=second, harbor="Gannet Cove")
        assert REASON not in as_second.get(self.PATH).content.decode()


def test_reading_aloud_shows_in_the_exam_only_where_granted(as_user, user, staff, requirements):
    exam = begin(user, requirements)
    path = reverse("certification:task", args=[exam.pk, 1])
    assert "data-read-aloud" not in as_user.get(path).content.decode()
    exams.hand_in(exam)
    grant(user, requirements, staff, read_aloud=True)
    exam = begin(user, requirements)
    path = reverse("certification:task", args=[exam.pk, 1])
    assert "data-read-aloud" in as_user.get(path).content.decode()
