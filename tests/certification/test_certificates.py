"""Certificates: issued once, counting for so long, taken back, refreshed."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest
from django.db import connection
from django.utils import timezone

from rigs.rules import rulebook, shelf
from rigs.rules.changes import changed_rules
from tests.certification.certificate_factory import HANDED_IN, make_exam, make_requirements, move_on
from tests.recall.conftest import answer_all
from training.certification import certificates
from training.certification.certificates import (
    EXPIRED,
    NEEDS_REFRESHER,
    REVOKED,
    VALID,
    CertificateError,
)
from training.certification.models import Certificate, Correction, Refresher, Revocation

LATER = HANDED_IN + timedelta(days=100)
LONG_AFTER = HANDED_IN + timedelta(days=1000)


@pytest.fixture
def certificate(user):
    return certificates.issue(make_exam(user))


class TestIssuing:
    def test_a_pass_gets_one(self, user):
        exam = make_exam(user, make_requirements(months_valid=12))
        certificate = certificates.issue(exam)
        assert certificate.holder_name == user.name
        assert certificate.issued == HANDED_IN
        assert certificate.expires == HANDED_IN.replace(year=2027)
        assert certificate.rulebooks == {"no-sweep": "1"}
        assert not certificate.show_name

    def test_asking_again_gives_the_same(self, user):
        exam = make_exam(user)
        assert certificates.issue(exam) == certificates.issue(exam)
        assert Certificate.objects.count() == 1

    @pytest.mark.django_db(transaction=True)
    def test_asking_at_once_gives_the_same(self, user):
        exam = make_exam(user)

        def ask(_):
            try:
                return certificates.issue(exam).code
            finally:
                connection.close()

        with ThreadPoolExecutor(8) as pool:
            assert len(set(pool.map(ask, range(16)))) == 1
        assert Certificate.objects.count() == 1

    def test_a_fail_gets_none(self, user):
        with pytest.raises(CertificateError, match="not passed"):
            certificates.issue(make_exam(user, marks=(3, 4)))

    def test_an_open_exam_gets_none(self, user):
        exam = make_exam(user, handed_in=None, marks=(), passed=None)
        with pytest.raises(CertificateError, match="not been turned in"):
            certificates.issue(exam)

    def test_a_correction_to_a_pass_counts_from_its_day(self, user, staff):
        exam = make_exam(user, marks=(3, 4))
        correction = Correction.objects.create(
            exam=exam, passed=True, reason="A task was unfair.", by=staff
        )
        assert certificates.issue(exam).issued == correction.made

    def test_a_correction_to_a_fail_stops_it(self, user, staff):
        exam = make_exam(user)
        Correction.objects.create(exam=exam, passed=False, reason="Two hands.", by=staff)
        with pytest.raises(CertificateError):
            certificates.issue(exam)

    @pytest.mark.parametrize(
        ("begin", "months", "end"),
        [
            (datetime(2026, 1, 31, 17, tzinfo=UTC), 1, datetime(2026, 2, 28, 17, tzinfo=UTC)),
            (datetime(2026, 12, 5, 17, tzinfo=UTC), 24, datetime(2028, 12, 5, 17, tzinfo=UTC)),
            (datetime(2028, 2, 29, 17, tzinfo=UTC), 12, datetime(2029, 2, 28, 17, tzinfo=UTC)),
            # The clocks go forward in between: the same hour on the wall.
            (datetime(2026, 1, 10, 17, tzinfo=UTC), 6, datetime(2026, 7, 10, 16, tzinfo=UTC)),
        ],
    )
    def test_months(self, begin, months, end, settings):
        settings.TIME_ZONE = "America/New_York"
        assert certificates.months_later(begin, months) == end


class TestStanding:
    def test_counts_until_it_expires(self, certificate):
        last = certificate.expires - timedelta(seconds=1)
        assert certificates.standing(certificate, last).state == VALID
        assert certificates.standing(certificate, certificate.expires).state == EXPIRED

    def test_taken_back(self, certificate, staff):
        certificates.revoke(certificate, " Two hands on one phone. ", staff)
        found = certificates.standing(certificate, LATER)
        assert found.state == REVOKED
        assert not found.counts
        assert found.taken_back.reason == "Two hands on one phone."

    def test_taking_back_again_keeps_the_first_reason(self, certificate, staff):
        certificates.revoke(certificate, "The first reason counts.", staff)
        certificates.revoke(certificate, "The second reason does not.", staff)
        assert Revocation.objects.get().reason == "The first reason counts."

    def test_taking_back_needs_a_reason(self, certificate, staff):
        with pytest.raises(CertificateError, match="why"):
            certificates.revoke(certificate, "  ", staff)
        assert not Revocation.objects.exists()

    def test_taken_back_with_its_exam(self, certificate, staff):
        Correction.objects.create(
            exam=certificate.exam, passed=False, reason="The exam had a wrong key.", by=staff
        )
        assert certificates.standing(certificate, LATER).state == REVOKED

    def test_a_list_takes_few_queries(self, certificate, user, django_assert_num_queries):
        certificates.issue(make_exam(user))
        # Certificates, corrections, memberships with their groups, refreshers with their sets.
        with django_assert_num_queries(4):
            found = list(certificates.for_standing(Certificate.objects.all()))
            assert [certificates.standing(each, LATER).state for each in found] == [VALID, VALID]
            assert not any(map(certificates.is_demo, found))


class TestMovedRules:
    """The later versions are made up, to see what a change does."""

    def test_a_new_limit_asks_for_a_refresher(self, certificate, monkeypatch):
        old = rulebook.load("no-sweep", "1").requirement("dropper_spacing")
        move_on(monkeypatch, date(2026, 5, 1), limits={"dropper_spacing": old.limit / 2})
        before = certificates.standing(certificate, datetime(2026, 4, 30, 12, tzinfo=UTC))
        after = certificates.standing(certificate, datetime(2026, 5, 2, 12, tzinfo=UTC))
        assert before.state == VALID
        assert after.state == NEEDS_REFRESHER
        assert after.counts
        ((book,),) = [after.changed]
        assert [rule.key for rule in book.rules] == ["dropper_spacing"]
        assert book.rules[0].old.limit == 2 * book.rules[0].new.limit

    def test_a_dropped_rule_and_a_new_one(self, certificate, monkeypatch):
        move_on(monkeypatch, date(2026, 5, 1), drop=("legs_equal",))
        (book,) = certificates.standing(certificate, LATER).changed
        ((key, old, new),) = book.rules
        assert (key, new) == ("legs_equal", None)
        assert old.title == book.rules[0].title
        ((key, old, new),) = changed_rules(book.new, book.old)
        assert (key, old) == ("legs_equal", None)

    def test_words_alone_change_nothing(self, certificate, monkeypatch):
        move_on(monkeypatch, date(2026, 5, 1))
        assert certificates.standing(certificate, LATER).state == VALID
        old = rulebook.load("no-sweep", "1")
        reworded = replace(
            old, requirements=tuple(replace(rule, why="Because.") for rule in old.requirements)
        )
        assert changed_rules(old, reworded) == ()

    def test_going_through_it_makes_it_valid(self, certificate, monkeypatch):
        move_on(monkeypatch, date(2026, 5, 1), drop=("legs_equal",))
        refresher = certificates.refresh(certificate, LATER)
        assert refresher.rulebooks == {"no-sweep": "2"}
        # No reading can be asked of a rule that is gone.
        assert refresher.set is None
        assert certificates.standing(certificate, LATER).state == VALID
        assert certificates.refresh(certificate, LATER) is None
        assert Refresher.objects.count() == 1

    def test_the_readings_of_what_changed_are_part_of_it(self, certificate, monkeypatch):
        old = rulebook.load("no-sweep", "1").requirement("dropper_spacing")
        move_on(monkeypatch, date(2026, 5, 1), limits={old.key: old.limit / 2})
        answers = {old.key: "something"}
        refresher = certificates.refresh(certificate, LATER, answers)
        assert refresher.answers == answers
        assert certificates.refresh(certificate, LATER) == refresher
        (reading,) = refresher.set.readings.all()
        assert (reading.focus, reading.rulebook_version) == (old.key, "2")
        certificate = Certificate.objects.get()
        assert certificates.standing(certificate, LATER).state == NEEDS_REFRESHER
        assert certificates.going_through(certificate) == refresher
        answer_all(refresher.set, right=False, now=LATER)
        certificate = Certificate.objects.get()
        assert certificates.standing(certificate, LATER).state == VALID
        assert certificates.going_through(certificate) is None
        reading.refresh_from_db()
        assert (reading.answer is None, reading.passed) == (False, False)

    def test_another_change_before_it_is_finished_has_readings_of_its_own(
        self, certificate, monkeypatch
    ):
        old = rulebook.load("no-sweep", "1").requirement("dropper_spacing")
        found = []
        for day, version, share in ((1, "2", 0.5), (3, "3", 0.4)):
            move_on(
                monkeypatch,
                date(2026, 5, day),
                limits={old.key: old.limit * share},
                version=version,
            )
            now = datetime(2026, 5, day + 1, tzinfo=UTC)
            found.append(certificates.refresh(Certificate.objects.get(), now))
        assert found[0].set != found[1].set
        answer_all(found[1].set, now=now)
        assert certificates.standing(Certificate.objects.get(), now).state == VALID

    def test_a_further_change_covers_only_what_changed_since(self, certificate, monkeypatch):
        move_on(monkeypatch, date(2026, 5, 1), drop=("legs_equal",))
        certificates.refresh(certificate, datetime(2026, 5, 2, tzinfo=UTC))
        move_on(monkeypatch, date(2026, 5, 3), drop=("float_spacing",), version="3")
        (book,) = certificates.standing(certificate, LATER).changed
        assert [rule.key for rule in book.rules] == ["float_spacing"]

    def test_an_expired_one_asks_for_no_refresher(self, certificate, monkeypatch):
        move_on(monkeypatch, date(2026, 5, 1), drop=("legs_equal",))
        assert certificates.standing(certificate, LONG_AFTER).state == EXPIRED
        assert certificates.refresh(certificate, LONG_AFTER) is None

    def test_a_rule_set_no_longer_in_force_asks_nothing(self, certificate, monkeypatch):
        closed = replace(rulebook.load("no-sweep", "1"), effective_to=date(2026, 3, 1))
        monkeypatch.setattr(shelf, "_books", lambda: {"no-sweep": [closed]})
        assert certificates.standing(certificate, LATER).state == VALID
        assert timezone.localdate(LATER) > date(2026, 3, 1)
