"""
No entry of any form, and no address, takes the site down; and no page of a person is stored.

All forms are found by asking: see ``hostile``. What is sent is of two sorts: the same rubbish in
all entries at once, and a page's own form with a few entries spoiled.
"""

import pytest
from django.db import transaction
from django.test import override_settings
from django.urls import get_resolver, reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.deck.hostile import VALUES, addresses, everybody, forms, send
from tests.people.doors import views
from tests.site import make_group, make_officer, make_staff, make_trainee
from tests.test_no_version import World
from training.people.sight import Door

pytestmark = pytest.mark.django_db

SPOILED = st.lists(
    st.tuples(st.integers(0, 999), st.sampled_from(VALUES) | st.binary(max_size=20)),
    min_size=1,
    max_size=4,
)
NOWHERE = {
    "IntConverter": [10**17, 10**40],
    "SlugConverter": ["x" * 2000, "-"],
    "StringConverter": ["x" * 2000, "\N{FISHING POLE AND FISH}", "%s", "..", "\N{SUPERSCRIPT TWO}"],
    "UUIDConverter": ["00000000-0000-4000-8000-000000000000"],
}
# What tells of nobody: signatures to check by, and what the rules alone or a calendar say.
MAY_BE_STORED = {
    "words",
    "trying:all_heights",
    "lessons:flight_figure",
    "lessons:flight_table",
    "lessons:live_figure",
    "lessons:live_table",
    "sea:manifest",
    "sea:worker",
    "people:session_calendar",
    "certificates:issuer",
    "certificates:key",
    "certificates:keys",
    "certificates:revoked",
}
# Read by an expression of their own.
SPELLED = {"certification:decide"}


def answered(form, entries):
    """Send ``entries``; return what went wrong, "" for nothing."""
    try:
        status = send(form, entries).status_code
    except Exception as error:  # noqa: BLE001
        return f"{form.method} {form.view}: {error!r}"[:300]
    return f"{form.method} {form.view}: {status}" if status >= 500 else ""


class TestEveryForm:
    @pytest.fixture(scope="class")
    def made(self, django_db_setup, django_db_blocker, tmp_path_factory):
        """All forms in a World made once for the tests here, and then rolled back."""
        folder = tmp_path_factory.mktemp("media")
        with (
            django_db_blocker.unblock(),
            override_settings(MEDIA_ROOT=folder),
            transaction.atomic(),
        ):
            group = make_group()
            world = World(group, make_trainee(group), make_officer(), make_staff())
            clients = everybody(world)
            yield forms(world, clients), clients, list(addresses(world))
            transaction.set_rollback(True)

    @pytest.fixture
    def found(self, made, db):
        return made[0]

    def test_forms_are_found(self, found):
        assert len({form.view for form in found if form.method == "post"}) > 45
        assert len({form.view for form in found if form.method == "get"}) > 20
        assert sum(len(form.entries) for form in found) > 700

    def test_the_same_rubbish_in_all_entries(self, found):
        """Each form is sent one sort of rubbish, and each sort is sent to a good many."""
        sent = [(form, VALUES[n % len(VALUES)]) for n, form in enumerate(found)]
        wrong = [answered(form, dict.fromkeys(form.entries, value)) for form, value in sent]
        assert not list(filter(None, wrong))

    @given(which=st.integers(0, 999), spoiled=SPOILED)
    @settings(max_examples=100, suppress_health_check=[HealthCheck.function_scoped_fixture])
    def test_a_form_with_some_entries_spoiled(self, found, which, spoiled):
        form = found[which % len(found)]
        names = list(form.entries)
        changes = {names[place % len(names)]: value for place, value in spoiled}
        assert not answered(form, form.entries | changes)

    def test_pages_of_who_is_signed_in_are_not_to_be_stored(self, made, db):
        shown, stored = 0, set()
        for view, door, address in made[2]:
            client = next(iter(made[1][Door.SIGNED_IN if door == Door.ANYONE else door]))
            response = client.get(address)
            if response.status_code == 200:
                shown += 1
                if "no-store" not in response.get("Cache-Control", ""):
                    stored.add(view)
        assert shown > 150
        assert stored <= MAY_BE_STORED

    def test_an_address_that_leads_nowhere(self, made, db):
        wrong = []
        for name, view in views():
            for arguments in _nowhere(name):
                client = made[1][view.seen_by][0]
                wrong.append(_asked(client, reverse(name, kwargs=arguments)))
        assert len(wrong) > 150
        assert not list(filter(None, wrong))


def _nowhere(name):
    """Return the arguments of the address ``name`` with which it leads nowhere."""
    *spaces, last = name.split(":")
    resolver = get_resolver()
    for space in spaces:
        resolver = resolver.namespace_dict[space][1]
    ((_, _, _, converters), *_) = resolver.reverse_dict.getlist(last)
    if not converters or name in SPELLED:
        return []
    sorts = {key: NOWHERE[type(each).__name__] for key, each in converters.items()}
    most = max(map(len, sorts.values()))
    return [{key: of[n % len(of)] for key, of in sorts.items()} for n in range(most)]


def _asked(client, address):
    with transaction.atomic():
        try:
            response = client.get(address)
            if response.status_code == 405:
                response = client.post(address)
            return address[:80] if response.status_code >= 500 else ""
        except Exception as error:  # noqa: BLE001
            return f"{address[:80]}: {error!r}"[:300]
        finally:
            transaction.set_rollback(True)
