"""Who counts as certified, as time goes by and as certificates are taken back."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from tests.certification.certificate_factory import make_exam, make_requirements
from tests.register.events_factory import happen, make_vessel
from training.certification import certificates, holders
from training.certification.models import Certificate, Correction
from training.desk import sums
from training.desk.calls.listing import to_call
from training.desk.calls.reasons import reason_called
from training.desk.models import PersonTally
from training.desk.stops import stops
from training.desk.trainees import certified, people
from training.desk.way import BEGUN, CERTIFIED, EARNED
from training.people.models import Role
from training.register.models import Crew
from training.register.stages import Known, Stage

pytestmark = pytest.mark.django_db

DAY = timedelta(days=1)


def certificate_of(person, days=400, slug="deck"):
    """Return a certificate of ``person`` that counts for so many ``days`` more, or no longer."""
    exam = make_exam(person, make_requirements(slug=slug))
    certificate = certificates.issue(exam)
    certificate.expires = timezone.now() + days * DAY
    certificate.save()
    return certificate


def is_certified(person):
    """Ask in each of the ways there are, which have to agree with a plain look at each row."""
    rows = certificates.for_standing(Certificate.objects.filter(exam__user=person))
    plain = any(certificates.standing(each).counts for each in rows)
    by_sums = people().filter(certified()).filter(pk=person.pk).exists()
    by_rows = certificates.holding().filter(exam__user=person).exists()
    state = holders.certificate_states([person.pk])[person.pk].state
    step = next(stop for stop in stops(people(), Role.TRAINEE) if stop.step.key == CERTIFIED)
    assert plain == by_sums == by_rows == (state == holders.CERTIFIED) == bool(step.here)
    assert list(sums.differences()) == []
    return plain


def state(person):
    return holders.certificate_states([person.pk])[person.pk]


class TestCertified:
    def test_for_as_long_as_it_lasts(self, user):
        assert not is_certified(user)
        certificate = certificate_of(user, 1)
        assert is_certified(user)
        later = certificate.expires
        # Nothing is saved: time alone takes it away.
        assert not people().filter(certified(later)).exists()
        assert not certificates.holding(later).exists()
        assert holders.certificate_states([user.pk], later)[user.pk].state == holders.RAN_OUT

    def test_one_that_ran_out(self, user):
        certificate = certificate_of(user, -1)
        assert not is_certified(user)
        assert user.tally.step == EARNED
        day = timezone.localdate(certificate.expires)
        assert state(user) == (holders.RAN_OUT, day)
        assert f"ran out on {day:%B} {day.day}, {day.year}" in state(user).words

    def test_one_renewed_counts_again(self, user):
        certificate = certificate_of(user, -1)
        certificate.expires = timezone.now() + 30 * DAY
        certificate.save(update_fields=["expires"])
        assert is_certified(user)

    def test_one_taken_back(self, user, staff):
        certificates.revoke(certificate_of(user), "Somebody else sat for it.", staff)
        assert not is_certified(user)
        assert state(user) == (holders.TAKEN_BACK, timezone.localdate())

    def test_it_counted_until_that_day(self, user, staff):
        certificate = certificate_of(user)
        before = timezone.now()
        certificates.revoke(certificate, "Somebody else sat for it.", staff)
        assert certificates.holding(before).exists()
        assert not certificates.holding().exists()

    def test_an_exam_corrected_to_not_passed_was_never_earned(self, user, staff):
        exam = certificate_of(user).exam
        Correction.objects.create(exam=exam, passed=False, reason="A slip", by=staff)
        assert not is_certified(user)
        assert PersonTally.objects.get(user=user).step == BEGUN
        Correction.objects.create(exam=exam, passed=True, reason="It was right.", by=staff)
        assert is_certified(user)

    @pytest.mark.parametrize("last", ["first", "second"])
    def test_of_two_one_is_enough(self, user, staff, last):
        found = {"first": certificate_of(user, 20), "second": certificate_of(user, 400, "other")}
        kept = found.pop(last)
        (other,) = found.values()
        certificates.revoke(other, "Somebody else sat for it.", staff)
        assert is_certified(user)
        assert state(user).day == timezone.localdate(kept.expires)

    def test_staff_read_it_beside_the_name(self, as_staff, user):
        certificate_of(user, -1)
        for page in (reverse("desk:trainees"), reverse("desk:trainee", args=[user.pk])):
            assert "certificate ran out on" in as_staff.get(page).content.decode()
        table = b"".join(as_staff.get(reverse("desk:trainees_csv")).streaming_content).decode()
        assert "certificate ran out" in table


class TestVessel:
    @pytest.fixture
    def vessel(self, user):
        vessel = make_vessel()
        Crew.objects.create(vessel=vessel, user=user, since=timezone.localdate() - 200 * DAY)
        return vessel

    def calls(self, staff):
        later = timezone.now() + 100 * DAY
        return list(to_call(reason_called("no-plan"), staff, later))

    def test_nobody_is_called_about_a_certificate_that_ran_out(self, vessel, user, staff):
        certificate = certificate_of(user)
        assert vessel.standing.stage == Stage.CREWED
        assert self.calls(staff) == [vessel]
        certificate.expires = timezone.now() + DAY
        certificate.save()
        assert self.calls(staff) == []

    def test_of_one_that_staff_were_told_of_nothing_is_known(self, staff):
        vessel = make_vessel()
        happen(vessel, Stage.CREWED, timezone.localdate(), known=Known.HAND)
        assert self.calls(staff) == [vessel]

    def test_the_page_says_who_is_certified_today(self, as_staff, vessel, user):
        certificate_of(user, -1)
        page = as_staff.get(reverse("register:vessel", args=[vessel.pk])).content.decode()
        assert "certificate ran out on" in page
        assert "It may have run out since." in page
