"""Renewing a certificate by a short check: when, how often, and what a miss takes away."""

import uuid
from datetime import date, datetime, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from rigs.rules import openings, rulebook
from tests.certification.certificate_factory import make_exam, make_requirements, move_on
from tests.recall.conftest import answer_all, said
from training.certification import certificates, open_badge, reminders
from training.certification.fair import recheck, wording
from training.certification.models import Certificate, SeasonCheck
from training.letters import about_certificates
from training.recall import sets
from training.recall.days import RulesOn
from training.recall.models import ReadingSet

MUST = ["dropper_spacing", "float_spacing"]


@pytest.fixture
def certificate(user):
    """One that ends in thirty days."""
    exam = make_exam(user, make_requirements(must_pass=MUST), must_pass=MUST)
    found = certificates.issue(exam)
    found.expires = timezone.now() + timedelta(days=30)
    found.save()
    return found


def begin(certificate, now=None, key=None):
    return recheck.begin(Certificate.objects.get(pk=certificate.pk), key or uuid.uuid4(), now)


def take(certificate, slips=0, now=None):
    """Begin a check and finish it with so many ``slips``; return the SeasonCheck."""
    check = begin(certificate, now)
    for number, reading in enumerate(check.set.readings.all()):
        sets.answer(reading, said(reading, number >= slips), now)
    check.refresh_from_db()
    certificate.refresh_from_db()
    return check


def pass_again(certificate, times):
    for _ in range(times):
        take(certificate, now=certificate.expires - timedelta(days=2))


class TestWhatIsAsked:
    def test_the_rules_that_must_be_right_and_others_to_make_enough(self, certificate):
        rules, readings, allowed = recheck.plan(certificate)
        assert {("no-sweep", key) for key in MUST} <= set(rules)
        assert len(rules) == len(set(rules)) == recheck.FEWEST_RULES
        assert (readings, allowed) == (12, 1)

    def test_rules_that_changed_since_the_exam(self, certificate, monkeypatch):
        drawn = recheck.plan(certificate).rules
        book = rulebook.load("no-sweep", "1")
        today = timezone.localdate()
        left = next(
            rule
            for rule in book.requirements
            if ("no-sweep", rule.key) not in drawn
            and RulesOn(today).can_ask("no-sweep", rule.key, recheck.LEVEL)
            and isinstance(rule.limit, float)
        )
        move_on(monkeypatch, today, limits={left.key: left.limit * 0.9})
        assert ("no-sweep", left.key) in recheck.plan(certificate).rules

    def test_the_hardest_readings(self, certificate):
        check = begin(certificate)
        assert {each.difficulty for each in check.set.readings.all()} == {recheck.LEVEL}
        assert (check.set.purpose, check.set.subject) == (
            ReadingSet.Purpose.SEASON,
            certificate.code,
        )

    def test_chance_seldom_passes(self):
        # Binomial: at most one slip in 12 readings of two answers each, own arithmetic.
        assert recheck.allowed_in(12) == 1
        assert (1 + 12) / 2**12 < 0.004


class TestPassing:
    @pytest.mark.parametrize("slips", [0, 1])
    def test_it_renews_by_a_year_from_the_old_end(self, certificate, slips):
        was = certificate.expires
        check = take(certificate, slips)
        assert check.passed
        assert (check.was, check.until) == (was, certificates.months_later(was, 12))
        assert certificate.expires == check.until
        assert (check.asked, check.slips, check.allowed) == (12, slips, 1)

    def test_what_was_answered_is_kept(self, certificate):
        check = take(certificate, 1)
        readings = check.set.readings.all()
        assert all(each.answer and each.findings for each in readings)
        assert [each.passed for each in readings].count(False) == 1

    def test_reminders_start_again(self, certificate):
        for due in reminders.due():
            about_certificates.send(due, "https://training.example")
        assert certificate.reminders.exists()
        take(certificate)
        assert not certificate.reminders.exists()
        assert reminders.due() == []
        soon = certificate.expires - timedelta(days=10)
        assert [each.certificate for each in reminders.due(now=soon)] == [certificate]

    def test_it_is_settled_once(self, certificate):
        check = take(certificate)
        recheck.settle(check.set)
        certificate.refresh_from_db()
        assert certificate.expires == check.until

    def test_only_so_often(self, certificate):
        pass_again(certificate, recheck.MOST_RENEWALS)
        with pytest.raises(recheck.MayNotCheck, match="renewed 2 times"):
            begin(certificate, certificate.expires - timedelta(days=2))


class TestNotPassing:
    def test_nothing_is_lost_and_one_may_try_again(self, certificate):
        was, now = certificate.expires, timezone.now()
        check = take(certificate, 2, now)
        assert check.passed is False
        assert certificate.expires == was
        again = check.settled + timedelta(days=recheck.WAIT_DAYS)
        with pytest.raises(recheck.MayNotCheck, match=wording.day(again)):
            begin(certificate, again - timedelta(minutes=1))
        assert take(certificate, 0, again).passed

    def test_three_tries(self, certificate):
        now = timezone.now()
        for number in range(recheck.MOST_TRIES):
            take(certificate, 12, now + number * timedelta(days=recheck.WAIT_DAYS))
        with pytest.raises(recheck.MayNotCheck, match="used 3 tries"):
            begin(certificate, now + timedelta(days=20))

    def test_a_renewal_gives_three_tries_again(self, certificate):
        take(certificate, 12)
        take(certificate, 0, timezone.now() + timedelta(days=recheck.WAIT_DAYS))
        assert recheck.failed(Certificate.objects.get()) == []

    def test_finished_after_the_end_it_renews_nothing(self, certificate):
        check = begin(certificate)
        answer_all(check.set, now=certificate.expires + timedelta(minutes=1))
        check.refresh_from_db()
        assert check.passed is False
        assert Certificate.objects.get().expires == certificate.expires

    def test_nor_does_it_for_one_taken_back_meanwhile(self, certificate, staff):
        check = begin(certificate)
        certificates.revoke(certificate, "Another person took this exam.", staff)
        answer_all(check.set)
        check.refresh_from_db()
        assert check.passed is False

    def test_nor_when_too_many_rules_went(self, certificate):
        check = begin(certificate)
        check.set.readings.filter(number__gt=3).delete()
        answer_all(check.set)
        check.refresh_from_db()
        assert (check.asked, check.passed) == (3, False)


class TestWhen:
    def test_a_double_tap_begins_one(self, certificate):
        key = uuid.uuid4()
        assert begin(certificate, key=key) == begin(certificate, key=key) == begin(certificate)
        assert ReadingSet.objects.count() == 1

    def test_not_before_its_weeks(self, certificate):
        early = recheck.opens(certificate) - timedelta(minutes=1)
        with pytest.raises(recheck.MayNotCheck, match="You can renew it from"):
            begin(certificate, early)
        assert begin(certificate, recheck.opens(certificate))

    def test_at_least_eight_weeks(self, certificate):
        weeks = timedelta(weeks=recheck.WEEKS)
        assert recheck.opens(certificate) <= certificate.expires - weeks

    def test_before_the_season_in_which_it_would_end(self, certificate):
        # Whiting, (a)(15): September 1 to November 20; grate, (a)(16): from July 1; small mesh
        # area 1, (a)(9)(i): July 15 to November 15. All are fished without a sweep.
        certificate.expires = timezone.make_aware(datetime(2027, 10, 10, 12))
        day = date(2027, 10, 10)
        first = openings.season_on("no-sweep", day, rulebook.everything(day))
        assert first < date(2027, 9, 2)
        opens = timezone.localdate(recheck.opens(certificate))
        assert opens == first - timedelta(weeks=recheck.WEEKS)

    def test_not_after_its_end(self, certificate):
        with pytest.raises(recheck.MayNotCheck, match="has ended"):
            begin(certificate, certificate.expires)

    def test_not_with_a_newer_certificate(self, user, certificate):
        certificates.issue(make_exam(user, certificate.exam.requirements, handed_in=timezone.now()))
        with pytest.raises(recheck.MayNotCheck, match="newer certificate"):
            begin(certificate)

    def test_changes_are_reviewed_first(self, certificate, monkeypatch):
        move_on(monkeypatch, timezone.localdate(), drop=("legs_equal",))
        with pytest.raises(recheck.MayNotCheck, match="Review what changed first"):
            begin(certificate)


class TestPages:
    def address(self, certificate):
        return reverse("certificates:check", args=[certificate.code])

    def test_from_the_certificate_to_its_renewal(self, as_user, client, certificate):
        path = self.address(certificate)
        assert path in as_user.get(f"/certificates/{certificate.code}/").text
        page = as_user.get(path).text
        assert "12 readings" in page
        assert "You may get 1 wrong." in page
        as_user.post(path, {"key": str(uuid.uuid4())})
        check = SeasonCheck.objects.get()
        assert reverse("recall:set", args=[check.set_id]) in as_user.get(path).text
        answer_all(check.set)
        check.refresh_from_db()
        said = wording.renewed(check)
        assert "12 of 12 right. Nobody supervised the check." in said
        for page in (
            client.get(f"/verify/{certificate.code}/").text,
            as_user.get(f"/certificates/{certificate.code}/").text,
        ):
            assert said in page
            assert f"valid until {wording.day(check.until)}" in page
        assert "Passed: 0 of 12 wrong" in as_user.get(path).text
        badge = open_badge.credential(Certificate.objects.get(), "https://training.example")
        assert badge["validUntil"].startswith(check.until.astimezone().strftime("%Y"))
        assert said in badge["evidence"][1]["narrative"]

    def test_answers_are_not_shown_before_the_end(self, as_user, certificate):
        as_user.post(self.address(certificate), {"key": str(uuid.uuid4())})
        found = ReadingSet.objects.get()
        first = found.readings.first()
        data = said(first) | {"drawn": first.drawn}
        place = reverse("recall:answer", args=[found.pk, first.number])
        page = as_user.post(place, data, follow=True)
        assert page.redirect_chain[-1][0] == reverse("recall:set", args=[found.pk])
        assert first.rulebook.requirement(first.focus).allowed_text not in page.text
        first.refresh_from_db()
        assert first.answered
        assert as_user.get(place).status_code == 302
        answer_all(found)
        assert as_user.get(place).status_code == 200

    def test_it_is_nobody_elses(self, as_officer, as_staff, certificate):
        for other in (as_officer, as_staff):
            assert other.get(self.address(certificate)).status_code == 404
            data = {"key": str(uuid.uuid4())}
            assert other.post(self.address(certificate), data).status_code == 404
        assert not SeasonCheck.objects.exists()
