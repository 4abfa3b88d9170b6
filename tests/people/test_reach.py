"""Staff held to a harbor see and maintain that harbor's people and groups alone."""

import uuid

import pytest
from django.urls import reverse

from tests.certification.certificate_factory import make_exam, make_requirements
from training.certification import certificates
from training.people import sight
from training.people.models import Group, Membership, Reach, Role, User
from training.register.models import Crew, Vessel

pytestmark = pytest.mark.django_db


@pytest.fixture
def elsewhere(db):
    group = Group.objects.create(name="Eastlight crews", code="EAST22", harbor="Eastlight")
    person = User.objects.create_user("kit@example.com", name="Kit Larkham")
    Membership.objects.create(group=group, user=person)
    return person


@pytest.fixture
def held(staff):
    """The member of staff, held to Marrow Point."""
    Reach.objects.create(user=staff, harbor="Marrow Point")
    return User.objects.get(pk=staff.pk)


def test_the_whole_fleet_is_a_yes_on_the_account(staff, user, elsewhere):
    assert sight.harbors_of(staff) is None
    assert {user, elsewhere} <= set(sight.rows(User.objects.all(), staff))
    new = User.objects.create_user("new@example.com", name="New", role=Role.STAFF)
    assert sight.harbors_of(new) == set()
    assert not sight.rows(User.objects.all(), new).exists()


def test_who_loses_the_last_harbor_sees_nobody(held, user):
    assert user in sight.rows(User.objects.all(), held)
    held.reaches.all().delete()
    held = User.objects.get(pk=held.pk)
    assert not held.sees_whole_fleet
    assert not sight.rows(User.objects.all(), held).exists()


def test_an_administrator_is_held_to_nothing(held):
    User.objects.filter(pk=held.pk).update(is_superuser=True)
    assert User.objects.get(pk=held.pk).sees_whole_fleet


def test_people_are_those_of_the_harbors_groups_and_vessels(held, user, elsewhere):
    assert set(sight.rows(User.objects.all(), held)) == {user}
    vessel = Vessel.objects.create(name="Plover", harbor="Marrow Point", length=15)
    berth = Crew.objects.create(vessel=vessel, user=elsewhere)
    assert set(sight.rows(User.objects.all(), held)) == {user, elsewhere}
    berth.until = berth.since
    berth.save()
    assert set(sight.rows(User.objects.all(), held)) == {user}
    assert [group.harbor for group in sight.rows(Group.objects.all(), held)] == ["Marrow Point"]


def test_pages_show_the_harbors_people_and_groups_alone(as_staff, held, user, elsewhere):
    html = as_staff.get(reverse("accounts:accounts")).content.decode()
    assert user.name in html
    assert elsewhere.name not in html
    url = reverse("accounts:account", args=[elsewhere.pk])
    assert as_staff.get(url).status_code == 404
    groups = as_staff.get(reverse("desk:groups")).content.decode()
    assert "Eastlight crews" not in groups


def test_who_is_held_cannot_hold_on_to_more(as_staff, held, user):
    """Neither by a helper on the staff, nor by a change of the own reach or another's."""
    group = user.memberships.get().group
    more = {"whole_fleet": "on", "harbors": ["Eastlight"]}
    form = {"key": uuid.uuid4(), "name": "Helper", "email": "helper@example.com", "role": "staff"}
    invite = reverse("accounts:invite")
    as_staff.post(invite, form | more | {"group": group.pk})
    assert not User.objects.filter(email="helper@example.com").exists()
    assert not User.objects.filter(email="helper@example.com").exists()
    Membership.objects.create(user=held, group=group)
    change = {"name": held.name, "email": held.email, "role": "staff", "is_active": "on"}
    own = reverse("accounts:account", args=[held.pk])
    assert as_staff.post(own, change | more).status_code == 403
    theirs = reverse("accounts:account", args=[user.pk])
    change = {"name": user.name, "email": user.email, "role": "trainee", "is_active": "on"}
    as_staff.post(theirs, change | more)
    as_staff.post(theirs, change | more | {"role": "staff"})
    assert Reach.objects.count() == 1
    assert not User.objects.filter(whole_fleet=True).exists()


def test_a_group_is_made_in_ones_own_harbor(as_staff, held):
    url = reverse("desk:new_group")
    form = {"name": "New crews", "code": "NEW22222", "role": Role.TRAINEE, "is_open": "on"}
    as_staff.post(url, form | {"harbor": "Eastlight"})
    assert not Group.objects.filter(code="NEW22222").exists()
    as_staff.post(url, form | {"harbor": "Marrow Point"})
    assert Group.objects.filter(code="NEW22222").exists()


def test_exams_and_certificates_of_other_harbors_are_not_shown(as_staff, held, user, elsewhere):
    requirements = make_requirements()
    ours, theirs = make_exam(user, requirements), make_exam(elsewhere, requirements)
    codes = [certificates.issue(each).code for each in (ours, theirs)]
    issued = as_staff.get(reverse("certificates:issued")).content.decode()
    assert user.name in issued
    assert elsewhere.name not in issued
    page = as_staff.get(
        reverse("certification:requirements", args=[requirements.slug])
    ).content.decode()
    assert user.name in page
    assert elsewhere.name not in page
    pages = [reverse("certificates:certificate", args=[code]) for code in codes]
    assert [as_staff.get(page).status_code for page in pages] == [200, 404]
    assert as_staff.get(reverse("certification:exam", args=[theirs.pk])).status_code == 404
