"""What stays of rules once right, by group: counted once a question, told of enough people only."""

from datetime import UTC, datetime, timedelta

import pytest
from django.urls import reverse
from django.utils.html import strip_tags

from training.desk.remembered import kept
from training.people.models import Group, Membership, Role, User
from training.recall import memory
from training.recall.models import AskedAgain

pytestmark = pytest.mark.django_db

BOOK, RULE = "no-sweep", "dropper_spacing"
FIRST = datetime(2026, 1, 5, 15, tzinfo=UTC)


def asked(person, *answers):
    """Have ``person`` asked about RULE on days, (day, right) each, counted from FIRST."""
    for day, right in answers:
        memory.note(person, BOOK, RULE, right, FIRST + timedelta(days=day))


def people(count, group=None):
    made = []
    for number in range(count):
        person = User.objects.create_user(
            f"p{number}@example.com", name=f"Person {number}", role=Role.TRAINEE
        )
        if group:
            Membership.objects.create(group=group, user=person)
        made.append(person)
    return made


def rows(found):
    return [(each.asked, each.right, each.people) for each in found]


@pytest.mark.parametrize(
    ("gap", "expected"),
    [
        (29, [(0, 0, 0)] * 3),
        (30, [(1, 1, 1), (0, 0, 0), (0, 0, 0)]),
        (89, [(1, 1, 1), (0, 0, 0), (0, 0, 0)]),
        (90, [(0, 0, 0), (1, 1, 1), (0, 0, 0)]),
        (365, [(0, 0, 0), (0, 0, 0), (1, 1, 1)]),
    ],
)
def test_the_gap_is_since_it_was_last_asked(staff, user, gap, expected):
    asked(user, (0, True), (gap, True))
    assert rows(kept(staff)[None]) == expected


def test_what_was_wrong_before_says_nothing_of_what_stays(staff, user):
    asked(user, (0, False), (40, True), (80, False))
    assert rows(kept(staff)[None])[0] == (1, 0, 1)


def test_rule_sets_that_ask_the_same_count_an_answer_once(staff, user):
    memory.note(user, "no-sweep", RULE, True, FIRST)
    memory.note(user, "grate", RULE, True, FIRST + timedelta(days=40))
    assert AskedAgain.objects.count() <= 1


def test_one_group_is_told_from_the_rest(staff, user):
    group = Group.objects.create(name="Evening")
    for person in people(5, group):
        asked(person, (0, True), (40, False))
    asked(user, (0, True), (40, True))
    assert rows(kept(staff, [group])[group.pk])[0] == (5, 0, 5)
    assert rows(kept(staff)[None])[0] == (6, 1, 6)


def test_the_page_says_too_few_before_it_tells_on_anybody(as_staff, group):
    members = people(5, group)
    for person in members[:4]:
        asked(person, (0, True), (40, True))
    page = as_staff.get("/desk/remembered/").content.decode()
    assert "too few people" in page
    assert "right again:" not in page
    asked(members[4], (0, True), (40, False))
    page = strip_tags(as_staff.get("/desk/remembered/").content.decode())
    assert "80% right again: 4 of 5, 5 people" in page


@pytest.mark.parametrize("query", [{"after": "9" * 5000}, {"group": "9" * 5000}, {"after": "½"}])
def test_a_number_that_no_row_has_is_no_list(as_staff, query):
    address = reverse("desk:remembered_questions_xlsx")
    assert as_staff.get(address, query).status_code == 404


def test_staff_only(as_user, as_officer, client):
    for someone in (as_user, as_officer):
        assert someone.get("/desk/remembered/").status_code == 403
    assert client.get("/desk/remembered/").status_code == 302
