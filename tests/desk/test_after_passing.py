"""What officers find on nets of vessels whose crew has passed, by how long ago that was."""

from datetime import UTC, date, datetime, timedelta

import pytest

from tests.certification.certificate_factory import make_exam
from tests.register.events_factory import make_vessel
from tests.register.test_deriving import hand_in_sheet
from training.certification import certificates
from training.desk.after_passing import NOBODY, SOONER, checks_after_passing
from training.desk.spans import span_of
from training.people.models import Role, User
from training.register.models import Crew

pytestmark = pytest.mark.django_db

PASSED = datetime(2026, 3, 2, 15, tzinfo=UTC)
DAY = date(2026, 3, 2)


@pytest.fixture
def vessel():
    return make_vessel(name="Sanderling")


@pytest.fixture
def berth(vessel, user):
    return Crew.objects.create(vessel=vessel, user=user, since=date(2026, 1, 1))


@pytest.fixture
def certificate(user):
    return certificates.issue(make_exam(user, handed_in=PASSED))


@pytest.fixture
def another_user(db):
    return User.objects.create_user("dovekie@example.com", name="Another", role=Role.TRAINEE)


def check(officer, days, outside=0, name="Sanderling"):
    sheet = hand_in_sheet(officer, name, day=DAY + timedelta(days=days))
    type(sheet).objects.filter(pk=sheet.pk).update(outside=outside)
    return sheet


def found_by(staff, people=None):
    return checks_after_passing(staff, {"team": people})["team"]


@pytest.mark.parametrize(
    ("days", "first"),
    [(0, None), (29, None), (30, 30), (89, 30), (90, 90), (364, 90), (365, 365), (2000, 365)],
)
def test_spans(days, first):
    found = span_of(days)
    assert (found.first if found else None) == first


def test_sheets_are_counted_by_how_long_ago_the_pass_was(staff, officer, berth, certificate):
    for days, outside in ((0, 0), (40, 0), (50, 2), (400, 1)):
        check(officer, days, outside)
    found = found_by(staff)
    assert found[SOONER] == (1, 1)
    assert found["30 to 89 days"] == (2, 1)
    assert found["90 to 364 days"] == (0, 0)
    assert found["a year or more"] == (1, 0)
    assert found[NOBODY] == (0, 0)


def test_a_sheet_from_before_the_pass_has_nobody(staff, officer, berth, certificate):
    check(officer, -1)
    assert found_by(staff)[NOBODY] == (1, 1)


def test_a_certificate_taken_back_does_not_count(staff, officer, berth, certificate):
    check(officer, 40)
    certificates.revoke(certificate, "The name on it was another's.", staff)
    found = found_by(staff)
    assert found["30 to 89 days"] == (0, 0)
    assert found[NOBODY] == (1, 1)


def test_somebody_who_had_left_the_vessel_does_not_count(staff, officer, berth, certificate):
    berth.until = DAY + timedelta(days=30)
    berth.save()
    check(officer, 40)
    assert found_by(staff)[NOBODY] == (1, 1)


def test_the_latest_pass_on_board_counts_and_a_sheet_once(
    staff, officer, vessel, berth, certificate, another_user
):
    Crew.objects.create(vessel=vessel, user=another_user, since=date(2026, 1, 1))
    later = make_exam(another_user, handed_in=PASSED + timedelta(days=80))
    certificates.issue(later)
    check(officer, 120)
    found = found_by(staff)
    assert found["30 to 89 days"] == (1, 1)
    assert sum(each.sheets for each in found.values()) == 1


def test_of_some_people_only_their_vessels_and_passes_count(
    staff, officer, berth, certificate, another_user
):
    make_vessel(name="Dovekie")
    check(officer, 40)
    check(officer, 40, name="Dovekie")
    assert found_by(staff, {berth.user_id})["30 to 89 days"] == (1, 1)
    assert sum(each.sheets for each in found_by(staff, {berth.user_id}).values()) == 1
    assert not any(each.sheets for each in found_by(staff, {another_user.pk}).values())
