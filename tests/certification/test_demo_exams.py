"""The demo's exams: sat for real, and marked for real."""

import random
from datetime import UTC, date, datetime, timedelta
from io import StringIO

import pytest
from django.core.management import call_command
from django.db import transaction

from tests.certification.candidates import begin, make_requirements
from tests.site import make_group, make_officer, make_staff, make_trainee
from training.certification import exams
from training.certification.fair import signing, supervision
from training.certification.models import (
    Certificate,
    Exam,
    Requirements,
    ResultQuestion,
    Supervision,
)
from training.demo import certification
from training.demo import fair as fair
from training.people.models import Role, User

SEASON_ENDS = date(2026, 11, 20)


def hands():
    """Return four more people of a crew."""
    return [
        User.objects.create_user(f"hand{number}@example.com", name=f"Hand {number}")
        for number in range(4)
    ]


@pytest.fixture
def users(user, officer, staff):
    return {Role.TRAINEE: [user, *hands()], Role.OFFICER: [officer], Role.STAFF: [staff]}


def sit(users):
    """Have ``users`` take the demo's exams; the first of each role is who signs in."""
    first = [group[0] for group in users.values()]
    certification.load(users, first, SEASON_ENDS, random.Random(3))


class TestExams:
    @pytest.fixture(scope="class")
    def sat(self, django_db_setup, django_db_blocker):
        """The people of whom all have taken what they take, once for all tests here."""
        with django_db_blocker.unblock(), transaction.atomic():
            crew = [make_trainee(make_group()), *hands()]
            users = {
                Role.TRAINEE: crew,
                Role.OFFICER: [make_officer()],
                Role.STAFF: [make_staff()],
            }
            sit(users)
            yield users
            transaction.set_rollback(True)

    def test_everything_is_marked_as_demo_data(self, sat, db):
        assert [requirements.is_demo for requirements in Requirements.objects.all()] == [True, True]

    def test_who_signs_in_has_something_to_show(self, sat, db):
        for user in sat[Role.TRAINEE][0], sat[Role.OFFICER][0]:
            assert not exams.hindrance(user, exams.open_to(user).get())
            assert Certificate.objects.filter(exam__user=user).exists()

    def test_all_have_sat_within_the_season(self, sat, db):
        handed_in = Exam.objects.filter(handed_in__isnull=False)
        assert handed_in.values("user").distinct().count() == 6
        assert all(exam.handed_in.date() <= SEASON_ENDS for exam in handed_in)
        assert not Exam.objects.filter(handed_in__isnull=True).exists()

    def test_the_marks_come_out_the_same_again(self, sat, db):
        out = StringIO()
        call_command("remark", stdout=out)
        assert "come out as they were given" in out.getvalue()


def test_the_same_seed_sits_the_same_exams(users):
    told = []
    for _ in range(2):
        with transaction.atomic():
            sit(users)
            told.append(list(Exam.objects.order_by("pk").values_list("key", "seed", "marks")))
            transaction.set_rollback(True)
    assert told[0] == told[1] != []


def test_evenings_on_which_several_took_it_are_meetings(users, staff):
    requirements = make_requirements(minutes=30)
    moment = datetime(2026, 11, 3, 23, tzinfo=UTC)
    for minute, user in enumerate(users[Role.TRAINEE]):
        exams.hand_in(
            begin(user, requirements, moment + timedelta(minutes=minute)),
            moment + timedelta(minutes=25),
        )
    fair.load(requirements, [staff], random.Random(3))
    found = Supervision.objects.get()
    entries = supervision.entries(found, staff)
    assert len(entries) == 5
    assert sum(map(signing.is_signed, entries)) == 4
    assert ResultQuestion.objects.get().answered_by == staff
