"""Where two have to agree, one person is not two."""

from datetime import timedelta
from importlib import import_module

import pytest
from django.apps import apps
from django.contrib.admin.models import ADDITION, CHANGE, LogEntry
from django.contrib.contenttypes.models import ContentType
from django.utils import timezone

from tests.moments import BEFORE
from training.people import second
from training.people.models import AccountDeed, Reach, Role, User

pytestmark = pytest.mark.django_db
What = AccountDeed.What


def colleague(name, **changes):
    """Return a new member of the staff who looks after the whole fleet."""
    fields = {"name": name.title(), "role": Role.STAFF, "whole_fleet": True, "joined": BEFORE}
    fields |= changes
    return User.objects.create_user(f"{name}@example.com", **fields)


def again(person):
    """Return ``person`` as the next request finds them."""
    return User.objects.get(pk=person.pk)


def why(by, first, begun=None):
    return second.why_not(again(by), first, begun or timezone.now())


def test_another_of_the_staff_with_an_account_from_before_can(staff):
    other = colleague("perrin")
    assert why(other, staff) == ""
    assert "yourself" in why(staff, staff)


def test_not_with_an_account_or_a_role_from_after_it_was_asked(staff):
    asked = timezone.now() - timedelta(days=1)
    assert "before your account" in why(colleague("new", joined=asked), staff, asked)
    promoted = colleague("old")
    assert why(promoted, staff, asked) == ""
    second.note(promoted, What.ROLE, colleague("chief"))
    assert "before your account" in why(promoted, staff, asked)
    assert why(promoted, staff) == ""
    # What was changed otherwise is no later beginning.
    third = colleague("third")
    second.note(third, What.EMAIL, colleague("fourth"))
    assert why(third, staff, asked) == ""


@pytest.mark.parametrize("what", What.values)
def test_not_with_an_account_that_the_first_had_in_hand(staff, what):
    other = colleague("perrin")
    second.note(other, what, staff, agreed_by=colleague("chief"))
    assert staff.name in why(other, staff)
    # The other way round it can: the first is not held by the second.
    assert why(staff, other) == ""


def test_nor_by_way_of_others_and_a_ring_ends(staff):
    middle, last = colleague("middle"), colleague("last")
    second.note(middle, What.MADE, staff)
    second.note(last, What.MADE, middle)
    assert staff.name in why(last, staff)
    second.note(staff, What.EMAIL, last)
    assert staff.name in why(last, staff)
    assert why(colleague("apart"), staff) == ""


def test_what_was_done_on_the_machine_holds_nobody(staff):
    founder = colleague("founder")
    second.note(founder, What.MADE, None)
    assert why(founder, staff) == ""
    assert why(staff, founder, timezone.now()) == ""


@pytest.mark.parametrize(
    ("email", "same"),
    [
        ("robin+two@example.com", True),
        ("robin@example.org", False),
        ("robinson@example.com", False),
        ("robin.two@example.com", False),
    ],
)
def test_one_mailbox_is_one_person(staff, email, same):
    other = colleague("perrin")
    User.objects.filter(pk=other.pk).update(email=email)
    assert ("one mailbox" in why(other, staff)) is same
    assert ("one mailbox" in why(staff, other)) is same


def test_only_staff_of_the_whole_fleet_who_may_sign_in(staff, user, officer):
    held = colleague("held")
    Reach.objects.create(user=held, harbor="Eastlight")
    closed = colleague("closed", is_active=False)
    for other in (held, closed, user, officer):
        assert "whole fleet" in why(other, staff)


def test_asked_of_many_things_it_looks_up_once(staff, django_assert_num_queries):
    beside, firsts = second.Beside(colleague("perrin")), [colleague(f"p{n}") for n in range(5)]
    beside.why_not(staff, timezone.now())
    with django_assert_num_queries(0):
        assert not any(beside.why_not(each, timezone.now()) for each in firsts)


def test_who_made_accounts_before_this_was_kept_is_taken_from_the_log(staff):
    made, promoted, renamed = colleague("made"), colleague("promoted"), colleague("renamed")
    kind = ContentType.objects.get_for_model(User)
    for person, flag, words in (
        (made, ADDITION, "Account made."),
        (promoted, CHANGE, "name: a → b; role: trainee → staff"),
        (renamed, CHANGE, "name: a → b"),
        (staff, ADDITION, "Account made."),
    ):
        LogEntry.objects.create(
            user=staff,
            content_type=kind,
            object_id=str(person.pk),
            object_repr=str(person),
            action_flag=flag,
            change_message=words,
        )
    import_module("training.people.migrations.0006_account_deeds").from_the_log(apps, None)
    found = {(each.person, each.what, each.by) for each in AccountDeed.objects.all()}
    assert found == {(made, What.MADE, staff), (promoted, What.ROLE, staff)}
