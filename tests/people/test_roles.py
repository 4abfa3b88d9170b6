"""Each address answers everybody as ``roles.txt`` says, and has a line there."""

import os
import re

import pytest
from django.db import transaction

from tests.people import roles
from tests.site import make_group, make_officer, make_staff, make_trainee
from tests.test_no_version import World

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def lines(django_db_setup, django_db_blocker):
    """The table as the site makes it, in a World that is rolled back."""
    with django_db_blocker.unblock(), transaction.atomic():
        group = make_group()
        world = World(group, make_trainee(group), make_officer(), make_staff())
        yield roles.table(world)
        transaction.set_rollback(True)


def test_the_table_of_roles_is_what_the_site_does(lines):
    made = roles.text(lines)
    if os.environ.get(roles.WRITE):
        roles.FILE.write_text(made)
    kept, now = roles.FILE.read_text().splitlines(), made.splitlines()
    parted = [f"- {each}" for each in kept if each not in now]
    parted += [f"+ {each}" for each in now if each not in kept]
    assert not parted, "Run python -m tests.people.roles and read what changed:\n" + "\n".join(
        parted
    )


def told(line):
    """Return {who: word} of a line."""
    rest = re.split(r" (?:GET|POST) +", line)[1]
    words = re.split(r" {2,}", rest)[: len(roles.WHO)]
    return dict(zip(roles.WHO, words, strict=True))


def test_no_address_is_broken_by_an_empty_form(lines):
    assert [line for line in lines if "broken" in told(line).values()] == []


def test_nobody_gets_more_than_who_looks_after_more(lines):
    """What staff of other harbors may open, those of these may; and so on up to all of it."""
    for line in lines:
        found = told(line)
        for less, more in (("far", "near"), ("near", "fleet"), ("fleet", "admin")):
            assert found[less] != "yes" or found[more] == "yes", line


def test_what_is_of_a_harbor_is_not_there_for_staff_of_another(lines):
    hidden = [line for line in lines if told(line)["near"] == "yes" != told(line)["far"]]
    assert len(hidden) > 50
    assert {told(line)["far"] for line in hidden} == {"none"}
