"""What is said to open without signal is what people take along, and the other way round."""

import pytest
from django.urls import resolve
from django.utils import timezone

from tests.calibration.round_factory import make_round
from tests.nets.conftest import make_net, make_tow
from tests.people.roles import patterns
from tests.sea import pages
from training.deck import along
from training.exercises.sea import setting
from training.nets.models import SeaCard

pytestmark = pytest.mark.django_db


def test_the_table_is_what_the_site_says():
    kept, now = pages.FILE.read_text().splitlines(), pages.text().splitlines()
    parted = [f"- {each}" for each in kept if each not in now]
    parted += [f"+ {each}" for each in now if each not in kept]
    assert not parted, "Run python -m tests.sea.pages and read what changed:\n" + "\n".join(parted)


def addresses(user):
    """Return all that ``user`` takes along, each once, in order."""
    parts = along.parts_for(user, timezone.localdate())
    found = [each for part in parts for each in (part.address, *part.more)]
    assert len(found) == len(set(found))
    return found


@pytest.fixture
def gear(user, officer):
    """A net with tow and card, tasks for sea of ``user``, and a round that ``officer`` judges."""
    net = make_net(user)
    make_tow(net)
    SeaCard.objects.create(net=net, rests_on="another net")
    setting.top_up(user)
    make_round([officer], count=10)


def test_all_that_is_taken_along_is_there_and_said_to_open(
    gear, user, as_user, officer, as_officer
):
    for person, client in ((user, as_user), (officer, as_officer)):
        for address in addresses(person):
            view = resolve(address.partition("?")[0]).func
            assert getattr(view, "opens_without_signal", False), (
                f"{address} is marked as a page that opens"
            )
            assert client.get(address).status_code == 200, address


def test_all_that_is_said_to_open_is_taken_along_by_somebody(gear, user, officer, staff):
    taken = {
        resolve(each.partition("?")[0]).view_name
        for person in (user, officer, staff)
        for each in addresses(person)
    }
    said = {
        name
        for name, _, pattern in patterns()
        if getattr(pattern.callback, "opens_without_signal", False)
    }
    assert said == taken


def test_nobody_takes_along_what_is_of_others(gear, user, officer, staff, as_officer):
    theirs = set(addresses(user)) - set(addresses(officer))
    # Lessons of another track are nobody's own.
    theirs = {each for each in theirs if not each.startswith("/lessons/")}
    assert theirs
    assert {as_officer.get(each).status_code for each in theirs} == {404}
    # Staff take along what they learn by, and nothing that tells of other people.
    assert "/" not in addresses(staff)
    assert "/checks/" not in addresses(staff)
