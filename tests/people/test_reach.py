"""Staff held to a harbor see and maintain that harbor's people and groups alone."""

import pytest
from django.urls import reverse

from tests.certification.certificate_factory import make_exam, make_requirements
from training.certification import certificates
from training.people import sight
from training.people.models import Group, Membership, Reach, Role, User
from training.register.models import Crew, Vessel

pytestmark = pytest.mark.django_db

PEOPLE = reverse("admin:people_user_changelist")


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


def test_the_admin_shows_the_harbors_people_alone(as_staff, held, user, elsewhere):
    html = as_staff.get(PEOPLE).content.decode()
    assert user.name in html
    assert elsewhere.name not in html
    url = reverse("admin:people_user_change", args=[elsewhere.pk])
    assert as_staff.get(url).status_code == 302  # "does not exist", as Django's admin says it
    groups = as_staff.get(reverse("admin:people_group_changelist")).content.decode()
    assert "Eastlight crews" not in groups


def test_nobodys_records_are_open_in_the_admin_to_staff_who_are_held(as_staff, held):
    for name in ("exercises_attempt", "exercises_assignment"):
        assert as_staff.get(reverse(f"admin:{name}_changelist")).status_code == 403


def test_who_is_held_cannot_hold_on_to_more(as_staff, held, user):
    """Neither by a helper on the staff, nor by a change of the own reach or another's."""
    add = reverse("admin:people_user_add")
    form = {"name": "Helper", "email": "helper@example.com", "role": "staff"}
    counts = {
        f"{name}-{what}_FORMS": "0"
        for name in ("memberships", "reaches")
        for what in ("TOTAL", "INITIAL")
    }
    assert as_staff.post(add, form | counts).status_code == 200
    assert not User.objects.filter(email="helper@example.com").exists()
    Membership.objects.create(user=held, group=user.memberships.get().group)
    own = reverse("admin:people_user_change", args=[held.pk])
    change = {"name": held.name, "email": held.email, "role": "staff", "is_active": "on"}
    reach = {
        "reaches-TOTAL_FORMS": "1",
        "reaches-INITIAL_FORMS": "0",
        "reaches-0-harbor": "Eastlight",
    }
    assert as_staff.post(own, change | counts | reach).status_code == 403
    theirs = reverse("admin:people_user_change", args=[user.pk])
    change = {"name": user.name, "email": user.email, "role": "trainee", "is_active": "on"}
    as_staff.post(theirs, change | counts | reach)
    assert Reach.objects.count() == 1


def test_a_group_is_made_in_ones_own_harbor(as_staff, held):
    url = reverse("admin:people_group_add")
    form = {"name": "New crews", "code": "NEW22222", "role": Role.TRAINEE, "is_open": "on"}
    assert as_staff.post(url, form | {"harbor": "Eastlight"}).status_code == 200
    assert not Group.objects.filter(code="NEW22222").exists()
    assert as_staff.post(url, form | {"harbor": "Marrow Point"}).status_code == 302


def test_staff_who_are_held_to_nothing_say_who_looks_after_what(as_staff, elsewhere):
    other = User.objects.create_user("sam@example.com", name="Sam Rudd", role=Role.STAFF)
    url = reverse("admin:people_user_change", args=[other.pk])
    form = {
        "name": other.name,
        "email": other.email,
        "role": "staff",
        "is_active": "on",
        "memberships-TOTAL_FORMS": "0",
        "memberships-INITIAL_FORMS": "0",
        "reaches-TOTAL_FORMS": "1",
        "reaches-INITIAL_FORMS": "0",
        "reaches-0-harbor": "Eastlight",
    }
    assert as_staff.post(url, form).status_code == 302
    assert sight.harbors_of(User.objects.get(pk=other.pk)) == {"Eastlight"}


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
