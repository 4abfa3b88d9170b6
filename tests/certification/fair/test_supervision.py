"""An exam opened at a meeting, begun with its code, signed for by who was there."""

import uuid
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from tests.certification.candidates import answer, begin
from tests.certification.certificate_factory import make_exam
from training.certification import certificate_print, certificates, exams, open_badge
from training.certification.fair import conditions, signing, supervision, wording
from training.certification.models import (
    Certificate,
    CodeTry,
    Exam,
    Grant,
    Signature,
    Supervision,
)
from training.people.models import Group, Membership, Reach, User

How = Signature.How


def enter(user, opened, code=None, now=None):
    key = uuid.uuid4()
    return supervision.begin(user, opened.requirements, key, code or opened.code, now)


@pytest.fixture
def passed(user, opened):
    """An exam passed under supervision, not signed for yet."""
    exam = enter(user, opened)
    answer(exam)
    return exams.hand_in(exam)


class TestTheCode:
    def test_it_begins_a_supervised_exam(self, user, opened):
        exam = enter(user, opened, f" {opened.code[:3].lower()}-{opened.code[3:]} ")
        assert exam.conditions.supervision == opened

    def test_an_exam_without_code_is_unsupervised(self, user, opened):
        assert begin(user, opened.requirements).conditions.supervision is None

    @pytest.mark.parametrize("minutes", [-61, 120, 300])
    def test_it_holds_only_during_its_hours(self, user, opened, now, minutes):
        with pytest.raises(exams.MayNotBegin, match="No supervised exam has this code now"):
            enter(user, opened, now=now + timedelta(minutes=minutes))
        assert not Exam.objects.exists()

    def test_a_closed_code_opens_nothing(self, user, opened):
        supervision.close(opened)
        with pytest.raises(exams.MayNotBegin, match="No supervised exam"):
            enter(user, opened)

    def test_it_is_for_one_certificate(self, user, opened):
        other = opened.requirements
        other.pk, other.slug = None, "other"
        other.save()
        with pytest.raises(exams.MayNotBegin, match="another exam"):
            supervision.begin(user, other, uuid.uuid4(), opened.code)

    def test_with_a_group_it_is_for_its_members(self, user, group, opened):
        opened.group = Group.objects.create(name="Others", code="OTHERS42")
        opened.save()
        with pytest.raises(exams.MayNotBegin, match="for the group Others"):
            enter(user, opened)
        Membership.objects.create(group=opened.group, user=user)
        assert enter(user, opened).conditions.supervision == opened

    def test_nobody_takes_the_exam_they_supervise(self, user, opened):
        opened.by = user
        opened.save()
        with pytest.raises(exams.MayNotBegin, match="You supervise"):
            enter(user, opened)

    def test_guessing_is_limited(self, user, opened, now):
        for number in range(supervision.MOST_TRIES):
            with pytest.raises(exams.MayNotBegin, match="No supervised exam"):
                enter(user, opened, f"WRONG{number}", now)
        with pytest.raises(exams.MayNotBegin, match="Too many wrong codes"):
            enter(user, opened, now=now)
        later = now + supervision.TRIES_WITHIN
        assert enter(user, opened, now=later).conditions.supervision == opened

    def test_one_who_guesses_holds_up_nobody_else(self, user, opened, now):
        other = User.objects.create_user("other@example.com", name="Other")
        CodeTry.objects.bulk_create(CodeTry(user=other, made=now) for _ in range(20))
        assert enter(user, opened, now=now).conditions.supervision == opened

    def test_a_right_code_that_does_not_fit_is_no_guess(self, user, opened):
        opened.group = Group.objects.create(name="Others", code="OTHERS42")
        opened.save()
        with pytest.raises(exams.MayNotBegin):
            enter(user, opened)
        assert not CodeTry.objects.exists()


class TestOneEach:
    def test_a_double_tap_begins_one(self, user, opened):
        key = uuid.uuid4()
        first = supervision.begin(user, opened.requirements, key, opened.code)
        assert supervision.begin(user, opened.requirements, key, opened.code) == first

    def test_coming_back_goes_on_with_the_same_exam(self, user, opened):
        assert enter(user, opened) == enter(user, opened)

    def test_one_exam_a_person(self, user, opened):
        exams.hand_in(enter(user, opened))
        with pytest.raises(exams.MayNotBegin, match="One each"):
            enter(user, opened)

    def test_an_exam_begun_at_home_is_not_taken_in(self, user, opened):
        home = begin(user, opened.requirements)
        with pytest.raises(exams.MayNotBegin, match="without this code"):
            enter(user, opened)
        home.refresh_from_db()
        assert home.conditions.supervision is None

    def test_two_of_one_name_are_pointed_out(self, user, opened):
        other = User.objects.create_user("w2@example.com", name=user.name.upper())
        third = User.objects.create_user("w3@example.com", name="Brant Quill")
        for person in (user, other, third):
            enter(person, opened)
        names = supervision.same_names(supervision.entries(opened, opened.by))
        assert names == {user.name, other.name}


class TestTheEnd:
    def test_the_exam_ends_as_it_would(self, user, opened, now):
        assert enter(user, opened, now=now).deadline == now + timedelta(minutes=30)

    def test_without_a_limit_it_ends_with_the_supervision(self, user, opened):
        opened.requirements.minutes = None
        opened.requirements.save()
        assert enter(user, opened).deadline == opened.ends

    def test_nobody_starts_who_has_not_the_whole_time(self, user, opened):
        late = opened.ends - timedelta(minutes=29)
        with pytest.raises(exams.MayNotBegin, match="Too late to start: you have 30 minutes"):
            enter(user, opened, now=late)
        assert enter(user, opened, now=opened.ends - timedelta(minutes=30))

    def test_extra_time_counts_for_that(self, user, staff, opened):
        Grant.objects.create(
            user=user, requirements=opened.requirements, extra_percent=50, reason="x", by=staff
        )
        with pytest.raises(exams.MayNotBegin, match="you have 45 minutes"):
            enter(user, opened, now=opened.ends - timedelta(minutes=40))


class TestSigning:
    def test_it_counts_as_supervised_only_when_signed(self, passed, staff):
        how = conditions.how_taken(passed)
        assert how.supervised is False
        assert how.waits
        signing.sign(passed.conditions, How.DOCUMENT, staff)
        assert conditions.how_taken(Exam.objects.get()).supervised

    def test_nor_when_the_supervisor_cannot_say_who_it_was(self, passed, staff):
        signing.sign(passed.conditions, How.DOCUMENT, staff)
        signing.sign(passed.conditions, How.NOT, staff)
        how = conditions.how_taken(Exam.objects.get())
        assert how.supervised is False
        assert not how.waits
        assert Signature.objects.count() == 2

    def test_a_double_tap_signs_once(self, passed, staff):
        for _ in range(2):
            signing.sign(passed.conditions, How.KNOWN, staff)
        assert Signature.objects.count() == 1

    def test_only_the_supervisor_signs(self, passed, second, officer):
        for other in (second, officer):
            with pytest.raises(signing.MayNotSign, match="Only the supervisor"):
                signing.sign(passed.conditions, How.KNOWN, other)

    def test_nobody_signs_for_themselves(self, passed, user, opened):
        opened.by = user
        opened.save()
        passed.refresh_from_db()
        with pytest.raises(signing.MayNotSign, match="for themselves"):
            signing.sign(passed.conditions, How.KNOWN, user)

    def test_not_before_it_is_turned_in(self, user, staff, opened):
        exam = enter(user, opened)
        with pytest.raises(signing.MayNotSign, match="turned in"):
            signing.sign(exam.conditions, How.KNOWN, staff)

    def test_not_a_week_later(self, passed, staff, opened):
        late = opened.ends + timedelta(days=signing.SIGN_DAYS, minutes=1)
        with pytest.raises(signing.MayNotSign, match="Too late"):
            signing.sign(passed.conditions, How.KNOWN, staff, late)
        assert not conditions.how_taken(passed, late).waits

    def test_not_one_without_supervision(self, user, staff, requirements):
        exam = exams.hand_in(begin(user, requirements))
        with pytest.raises(signing.MayNotSign, match="not supervised"):
            signing.sign(exam.conditions, How.KNOWN, staff)


class TestWhatIsSaid:
    def pages(self, client, certificate):
        path = reverse("certificates:verify_code", args=[certificate.code])
        badge = open_badge.credential(certificate, "https://training.example")
        (evidence,) = badge["evidence"]
        return client.get(path).content.decode(), evidence["narrative"]

    def test_of_one_signed_for(self, client, passed, staff):
        before = self.pages(client, Certificate.objects.get())
        signing.sign(passed.conditions, How.DOCUMENT, staff)
        after = self.pages(client, Certificate.objects.get())
        said = f"Taken under supervision on {wording.day(passed.begun)}. "
        said += f"The program checked who took it (signed {wording.day(timezone.now())})."
        for text in before:
            assert "not signed yet" in text
            assert "Taken under supervision" not in text
        for text in after:
            assert said in text

    def test_of_one_without_supervision(self, client, user, requirements):
        exam = begin(user, requirements)
        answer(exam)
        certificate = exams.hand_in(exam).certificate
        for text in self.pages(client, certificate):
            assert wording.WITHOUT in text

    def test_of_one_from_before(self, client, user):
        certificate = certificates.issue(make_exam(user))
        for text in self.pages(client, certificate):
            assert wording.NOT_RECORDED in text

    def test_on_the_print(self, monkeypatch, as_user, passed, staff):
        drawn = []
        monkeypatch.setattr(
            certificate_print, "as_pdf", lambda printed: drawn.append(printed) or b""
        )
        signing.sign(passed.conditions, How.DOCUMENT, staff)
        as_user.get(reverse("certificates:pdf", args=[passed.certificate.code]))
        assert drawn[0].taken.startswith("Taken under supervision on")

    def test_the_badge_says_that_it_is_no_license(self, user):
        certificate = certificates.issue(make_exam(user))
        badge = open_badge.credential(certificate, "https://training.example")
        criteria = badge["credentialSubject"]["achievement"]["criteria"]["narrative"]
        assert "a training certificate, not a license" in criteria


class TestPages:
    def form(self, requirements, **changes):
        tomorrow = timezone.localdate() + timedelta(days=1)
        return {
            "key": str(uuid.uuid4()),
            "requirements": requirements.pk,
            "place": "Net shed",
            "day": f"{tomorrow.month}/{tomorrow.day}/{tomorrow.year}",
            "begins": "18:00",
            "finishes": "20:00",
        } | changes

    def test_staff_open_one_once(self, as_staff, staff, requirements):
        form = self.form(requirements)
        for _ in range(2):
            page = as_staff.post("/exams/supervised/new/", form, follow=True)
        found = Supervision.objects.get()
        assert (found.by, found.place) == (staff, "Net shed")
        assert found.code in page.content.decode()

    @pytest.mark.parametrize(
        ("changes", "said"),
        [
            ({"finishes": "17:00"}, "The end is before the start."),
            ({"finishes": "18:20"}, "The exam takes 30 minutes."),
            ({"day": "1/2/2020"}, "These hours are over."),
            ({"place": " "}, "Enter the place"),
        ],
    )
    def test_what_cannot_be(self, as_staff, requirements, changes, said):
        page = as_staff.post("/exams/supervised/new/", self.form(requirements, **changes))
        assert page.status_code == 422
        assert said in page.content.decode()
        assert not Supervision.objects.exists()

    def test_a_code_typed_on_the_page_of_exams(self, as_user, opened):
        data = {"key": str(uuid.uuid4()), "code": opened.code}
        as_user.post(reverse("certification:begin", args=[opened.requirements.slug]), data)
        assert Exam.objects.get().conditions.supervision == opened

    def test_a_wrong_code_begins_nothing(self, as_user, opened):
        data = {"key": str(uuid.uuid4()), "code": "NOTONE"}
        path = reverse("certification:begin", args=[opened.requirements.slug])
        page = as_user.post(path, data, follow=True)
        assert "No supervised exam has this code now." in page.content.decode()
        assert not Exam.objects.exists()
        assert CodeTry.objects.count() == 1

    def test_the_supervisor_signs(self, as_staff, passed, opened):
        path = f"/exams/supervised/{opened.pk}/"
        assert passed.user.name in as_staff.get(path).content.decode()
        refused = as_staff.post(f"{path}sign/{passed.pk}/", {})
        assert refused.status_code == 422
        page = as_staff.post(f"{path}sign/{passed.pk}/", {"how": "known"}, follow=True)
        assert "counts as supervised" in page.content.decode()
        assert Signature.objects.get().how == How.KNOWN

    def test_nobody_else_signs_or_sees_the_code(
        self, as_second, as_user, as_officer, passed, opened
    ):
        path = f"/exams/supervised/{opened.pk}/"
        assert opened.code not in as_second.get(path).content.decode()
        assert as_second.post(f"{path}sign/{passed.pk}/", {"how": "known"}).status_code == 404
        assert as_second.post(f"{path}close/").status_code == 404
        for other in (as_user, as_officer):
            assert other.get(path).status_code == 403
            assert other.get("/exams/supervised/").status_code == 403
            assert other.post(f"{path}sign/{passed.pk}/", {"how": "known"}).status_code == 403
        assert not Signature.objects.exists()

    def test_staff_of_another_harbor_do_not_see_it(self, as_second, second, passed, opened):
        Reach.objects.create(user=second, harbor="Gannet Cove")
        assert as_second.get(f"/exams/supervised/{opened.pk}/").status_code == 404
        assert "Net shed" not in as_second.get("/exams/supervised/").content.decode()

    def test_an_exam_of_another_meeting_is_not_signed_here(self, as_staff, staff, passed, opened):
        other = Supervision.objects.create(
            requirements=opened.requirements,
            place="Dock",
            starts=opened.starts,
            ends=opened.ends,
            by=staff,
        )
        path = f"/exams/supervised/{other.pk}/sign/{passed.pk}/"
        assert as_staff.post(path, {"how": "known"}).status_code == 404
