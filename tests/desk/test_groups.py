"""Groups made, changed and closed on the site, and people moved between them."""

import random

import pytest
from django.urls import reverse

from training.exercises import handing, kinds
from training.exercises.hands import answer, people
from training.people.models import Group, Membership, Reach, Role, User

pytestmark = pytest.mark.django_db

NEW = reverse("desk:new_group")


def entries(**changes):
    return {
        "name": "Gannet crews",
        "harbor": "Gannet Cove",
        "role": "trainee",
        "code": "",
        **changes,
    }


def text_of(response):
    return " ".join(response.content.decode().split())


def test_a_group_is_made_with_a_code_of_its_own_and_changed(as_staff):
    made = as_staff.post(NEW, entries())
    group = Group.objects.get(name="Gannet crews")
    assert made["Location"] == reverse("desk:group", args=[group.pk])
    assert len(group.code) == 8
    change = reverse("desk:change_group", args=[group.pk])
    as_staff.post(change, entries(name="Cove crews", code="cove-2614"))
    group.refresh_from_db()
    assert (group.name, group.code) == ("Cove crews", "COVE2614")


@pytest.mark.parametrize("code", ["cove-26", "2222 2222", "Gannet Cove", "gannetcrew"])
def test_a_code_that_others_guess_is_refused(as_staff, code):
    page = as_staff.post(NEW, entries(code=code))
    assert page.status_code == 422
    assert list(page.context["form"].errors) == ["code"]


def test_a_short_code_from_before_goes_on_and_is_told(as_staff, group):
    """Posters have it; nobody has to change it to change the group's name."""
    assert len(group.code) == 6
    change = reverse("desk:change_group", args=[group.pk])
    as_staff.post(change, entries(name="Marrow crews", harbor="Marrow Point", code=group.code))
    group.refresh_from_db()
    assert (group.name, group.code) == ("Marrow crews", "TERN42")
    page = reverse("desk:group", args=[group.pk])
    assert "others may guess it" in text_of(as_staff.get(page))
    as_staff.post(change, entries(harbor="Marrow Point"))
    assert "others may guess it" not in text_of(as_staff.get(page))


def test_what_another_group_has_is_refused_with_a_word(as_staff, group):
    page = text_of(as_staff.post(NEW, entries(name=group.name, code=group.code.lower())))
    assert "There is a group of this name" in page
    assert "Another group has this code" in page
    assert Group.objects.count() == 1


def test_a_closed_group_takes_nobody_and_is_opened_again(as_staff, group, user):
    close = reverse("desk:close_group", args=[group.pk])
    for _ in range(2):
        as_staff.post(close, {"open": "no"})
    assert Group.objects.with_code(group.code) is None
    assert user.memberships.filter(group=group).exists()
    as_staff.post(close, {"open": "yes"})
    assert Group.objects.with_code(group.code) == group


def test_staff_held_to_a_harbor_make_groups_of_it_alone(as_staff, staff, group):
    Reach.objects.create(user=staff, harbor="Eastlight")
    assert as_staff.post(NEW, entries()).status_code == 422
    assert as_staff.post(NEW, entries(harbor="Eastlight")).status_code == 302
    for name in ("change_group", "group_members", "group_code"):
        assert as_staff.get(reverse(f"desk:{name}", args=[group.pk])).status_code == 404
    assert as_staff.post(reverse("desk:close_group", args=[group.pk])).status_code == 404


@pytest.fixture
def other():
    return Group.objects.create(name="Eastlight officers", harbor="Eastlight", role=Role.OFFICER)


def groups_of(user):
    return {membership.group.name for membership in user.memberships.all()}


@pytest.mark.parametrize(
    ("deed", "after"),
    [
        ("add", {"Marrow Point crews", "Eastlight officers"}),
        ("move", {"Eastlight officers"}),
        ("out", set()),
    ],
)
def test_people_are_moved_once_staff_are_sure(as_staff, group, other, user, deed, after):
    url = reverse("desk:group_members", args=[group.pk])
    form = {"people": [user.pk], "to": other.pk, "deed": deed}
    asked = text_of(as_staff.post(url, form))
    assert user.name in asked
    assert groups_of(user) == {group.name}  # asked first
    for _ in range(2):
        as_staff.post(url, form | {"sure": "yes"})
    assert groups_of(user) == after
    user.refresh_from_db()
    assert user.role == Role.TRAINEE
    assert User.objects.filter(pk=user.pk, is_active=True).exists()


def test_what_is_counted_by_group_goes_along(as_staff, group, other, user):
    slug = "space-droppers"
    assignment = handing.open_assignment(user, kinds.get(slug))
    given = answer(slug, handing.task_of(assignment), people.of_skill(1, 0.2), random.Random(1))
    handing.hand_in(assignment, given)
    tries = sum(tally.asked for tally in user.rule_tallies.all())
    assert tries
    Membership.objects.create(group=other, user=user)  # who is there already is moved all the same
    url = reverse("desk:group_members", args=[group.pk])
    form = {"people": [user.pk], "to": other.pk, "deed": "move", "sure": "yes"}
    page = as_staff.post(url, form, follow=True)
    assert "1 person is moved to Eastlight officers." in text_of(page)
    assert sum(tally.asked for tally in other.rule_tallies.all()) == tries
    assert sum(tally.asked for tally in group.rule_tallies.all()) == 0


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"people": []}, "Check at least one name."),
        ({"to": ""}, "Choose the other group."),
        ({"to": "999999"}, "Select a valid choice"),
    ],
)
def test_a_mistake_is_told_and_moves_nobody(as_staff, group, other, user, changes, says):
    url = reverse("desk:group_members", args=[group.pk])
    form = {"people": [user.pk], "to": other.pk, "deed": "move", "sure": "yes"} | changes
    page = as_staff.post(url, form)
    assert page.status_code == 422
    assert says in text_of(page)
    assert groups_of(user) == {group.name}


def test_nobody_is_moved_into_a_group_out_of_reach(as_staff, staff, group, other, user):
    Reach.objects.create(user=staff, harbor=group.harbor)
    form = {"people": [user.pk], "to": other.pk, "deed": "move", "sure": "yes"}
    url = reverse("desk:group_members", args=[group.pk])
    assert as_staff.post(url, form).status_code == 422
    assert groups_of(user) == {group.name}
