"""The other forms that phones note: pairs of tows, calls by staff, an officer's calls of rigs."""

import uuid

import pytest
from django.utils import timezone

from tests.calibration.round_factory import make_round
from tests.evidence.tows_factory import entries
from tests.inbox.noting import send
from training.calibration.models import Call
from training.desk.models import CallNote
from training.evidence.models import PairedTows
from training.inbox.beside import stamp
from training.inbox.models import Arrival
from training.privacy.erasure import erase

pytestmark = pytest.mark.django_db

PAIRS = "/evidence/tows/new/"


def test_a_pair_is_made_once_and_one_form_used_for_two_makes_none_vanish(as_user, user):
    told = entries(note="Mud")
    for _ in range(2):
        assert send(as_user, user, PAIRS, told).json()["outcome"] == "taken"
    assert PairedTows.objects.get().catches.count() == 2
    assert send(as_user, user, PAIRS, told | {"note": "Sand"}).json()["outcome"] == "beside"
    as_user.post(PAIRS, dict(Arrival.objects.get(outcome="beside").again))
    assert sorted(pair.note for pair in PairedTows.objects.all()) == ["Mud", "Sand"]


def test_a_pair_that_changed_meanwhile_stands_beside(as_user, user):
    as_user.post(PAIRS, entries(note="As it was"))
    pair = PairedTows.objects.get()
    address = f"/evidence/tows/{pair.pk}/"
    told = entries(key=str(pair.key), seen=stamp(pair.changed))
    as_user.post(address, told | {"note": "From the desk"})
    answer = send(as_user, user, address, told | {"note": "From the boat"}).json()
    assert answer["outcome"] == "beside"
    assert PairedTows.objects.get().note == "From the desk"
    arrival = Arrival.objects.get()
    assert [each[1:3] for each in arrival.sides if each[3]] == [["From the desk", "From the boat"]]
    as_user.post(arrival.instead, dict(arrival.in_its_place))
    assert PairedTows.objects.get().note == "From the boat"


def test_a_call_is_noted_once_and_a_form_used_for_two_is_not_taken_for_one(as_staff, staff, user):
    address = f"/desk/calls/person/{user.pk}/called/"
    told = {"key": str(uuid.uuid4()), "outcome": "spoke", "note": "Will come Friday."}
    for _ in range(2):
        assert send(as_staff, staff, address, told).json()["outcome"] == "taken"
    assert CallNote.objects.get().note == "Will come Friday."
    answer = send(as_staff, staff, address, told | {"note": "Came."}).json()
    assert answer["outcome"] == "refused"
    as_staff.post(address, dict(Arrival.objects.get(outcome="refused").again))
    assert CallNote.objects.count() == 2


def test_what_was_written_about_somebody_goes_with_their_account(as_staff, staff, user):
    address = f"/desk/calls/person/{user.pk}/called/"
    told = {"outcome": "spoke", "note": "His knee hurts."}
    send(as_staff, staff, address, told | {"key": str(uuid.uuid4())})
    erase(user)
    assert not Arrival.objects.exists()
    late = send(as_staff, staff, address, told | {"key": str(uuid.uuid4())}, label="Call to Wren")
    assert late.json()["outcome"] == "gone"
    page = as_staff.get(late.json()["page"]).content.decode()
    assert "What you wrote is not kept." in page
    assert "knee" not in page
    assert "Wren" not in page


def test_ones_own_go_with_ones_own_account(as_user, user):
    send(as_user, user, PAIRS, entries(hake_with="?"))
    assert Arrival.objects.filter(person=user).exists()
    erase(user)
    assert not Arrival.objects.exists()


def test_a_call_of_a_rig_is_taken_once_and_refused_if_judged_elsewhere_since(as_officer, officer):
    turn = make_round([officer], count=4).turns.get()
    address = f"/calibration/turn/{turn.pk}/rig/1/"
    told = {"revision": "0", "verdict": "unsure"}
    for _ in range(2):
        assert send(as_officer, officer, address, told).json()["outcome"] == "taken"
    other = send(as_officer, officer, address, told | {"verdict": "passes"}).json()
    assert other["outcome"] == "refused"
    assert "judged from another place" in other["words"]
    assert Call.objects.get().verdict == "unsure"


def test_a_call_of_a_rig_in_a_round_that_was_closed_is_not_said_to_be_saved(as_officer, officer):
    made = make_round([officer], count=4)
    turn = made.turns.get()
    made.closed = timezone.now()
    made.save()
    told = {"revision": "0", "verdict": "unsure"}
    address = f"/calibration/turn/{turn.pk}/rig/1/"
    answer = send(as_officer, officer, address, told).json()
    assert answer["outcome"] == "refused"
    assert not Call.objects.exists()
