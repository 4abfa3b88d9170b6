"""Every view says who may open it, and nobody else can."""

import pytest
from django.urls import get_resolver, reverse

from tests.people.doors import views
from training.people.sight import Door

VIEWS = dict(views())
# A place in an address that leads nowhere, by the converter that reads it.
NOWHERE = {
    "IntConverter": 0,
    "SlugConverter": "nowhere",
    "StringConverter": "nowhere",
    "UUIDConverter": "00000000-0000-4000-8000-000000000000",
}
# Read by an expression of their own.
SPELLED = {"certification:decide": {"pk": 0, "action": "approve"}}


def behind(*doors):
    return [name for name, view in VIEWS.items() if getattr(view, "seen_by", None) in doors]


def path(name):
    """Return an address of the view ``name`` at which there is nothing of anybody's."""
    *spaces, last = name.split(":")
    resolver = get_resolver()
    for space in spaces:
        resolver = resolver.namespace_dict[space][1]
    ((_, _, _, converters), *_) = resolver.reverse_dict.getlist(last)
    found = {key: NOWHERE[type(each).__name__] for key, each in converters.items()}
    return reverse(name, kwargs=SPELLED.get(name, found))


def ask(client, name):
    """Return the answer to looking at ``name``, or to posting where that alone is done."""
    answer = client.get(path(name))
    return client.post(path(name)) if answer.status_code == 405 else answer


def test_each_view_says_who_may_open_it():
    silent = sorted(set(VIEWS) - set(behind(*Door)))
    assert not silent, "Say who may open these: put a decorator of training.people.sight on each."


@pytest.mark.django_db
def test_nobody_opens_a_page_for_people_with_an_account_without_one(client):
    sign_in = reverse("people:sign_in")
    closed = behind(*set(Door) - {Door.ANYONE})
    assert len(closed) > 100
    sent = {name: ask(client, name).get("Location", "") for name in closed}
    assert [name for name, where in sent.items() if not where.startswith(sign_in)] == []


@pytest.mark.django_db
def test_the_door_for_anyone_sends_nobody_to_sign_in(client):
    sign_in = reverse("people:sign_in")
    for name in behind(Door.ANYONE):
        assert not ask(client, name).get("Location", "").startswith(f"{sign_in}?"), name


def test_trainees_are_refused_what_is_for_officers_and_staff(as_user):
    closed = behind(Door.OFFICERS, Door.STAFF, Door.WHOLE_FLEET)
    assert [name for name in closed if ask(as_user, name).status_code != 403] == []


def test_officers_are_refused_what_is_for_staff(as_officer):
    closed = behind(Door.STAFF, Door.WHOLE_FLEET)
    assert [name for name in closed if ask(as_officer, name).status_code != 403] == []


def test_what_is_of_somebody_is_not_found_where_it_is_of_nobody(as_user):
    assert [name for name in behind(Door.OWNER) if ask(as_user, name).status_code != 404] == []
