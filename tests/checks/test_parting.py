"""A phone and the site never part in silence."""

import uuid

import pytest
from django.urls import reverse

from rigs.rules import rulebook
from tests.checks.conftest import entry, typed_rig
from tests.checks.test_sending import envelope, send
from training.checks.head_form import head_words
from training.checks.models import CheckRevision, CheckSheet, CheckThrown

pytestmark = pytest.mark.django_db


def said(sheet_or_counts, version="1", **more):
    outside, within, not_measured = sheet_or_counts
    tally = {"outside": outside, "within": within, "not_measured": not_measured}
    return {"rulebook_version": version, "fishery_version": "", "tally": tally, "page": "3"} | more


@pytest.fixture
def counts(as_officer, officer):
    """How the site counts a legal rig."""
    found = send(as_officer, envelope(officer, key=str(uuid.uuid4()))).json()["counts"]
    return found["outside"], found["within"], found["not_measured"]


def test_alike_they_say_nothing(as_officer, officer, counts):
    held = send(as_officer, envelope(officer, said=said(counts))).json()
    assert held["parted"] == ""
    assert held["versions"] == {"no-sweep": "1"}
    assert CheckRevision.objects.get(sheet__key=held["key"]).said["page"] == "3"


def test_a_phone_that_says_nothing_is_compared_with_nothing(as_officer, officer):
    assert send(as_officer, envelope(officer)).json()["parted"] == ""


def test_another_count_is_told_and_stays_told(as_officer, officer, counts):
    typed = typed_rig(sweep="yes")
    sent = envelope(officer, typed=typed, hands_in=True, said=said(counts))
    first, again = (send(as_officer, sent).json() for _ in range(2))
    assert first == again
    assert "This phone showed 0 outside" in first["parted"]
    assert "The site counts 1 outside" in first["parted"]
    assert CheckRevision.objects.get(sheet__key=first["key"]).parted == first["parted"]
    assert as_officer.get(reverse("checks:check_held", args=[first["key"]])).json() == first


def test_another_version_is_told_even_if_the_count_is_the_same(as_officer, officer, counts):
    held = send(as_officer, envelope(officer, said=said(counts, version="0"))).json()
    title = rulebook.load("no-sweep").title
    assert f"version 0 of “{title}”, the site goes by version 1." in held["parted"]
    assert "Both count the same" in held["parted"]


def test_a_phone_without_rules_for_the_day_showed_nothing(as_officer, officer):
    none = {"rulebook_version": "", "tally": None, "page": "3"}
    held = send(as_officer, envelope(officer, said=none)).json()
    assert "showed no result" in held["parted"]


def test_the_reply_says_when_readings_arrived(as_officer, officer):
    one = entry("bosom", "16 ft")
    sent = envelope(officer, typed={"bosom": "16 ft"}, readings=[one])
    held = send(as_officer, sent).json()
    assert list(held["arrived"]) == [one["id"]]
    assert held["content"]["readings"] == [one]


def test_a_whole_head_comes_back_as_sent(as_officer, officer):
    head = {"vessel_number": "KH 117", "skipper": "A. Skipper", "started": "07:45", "wet": "wet"}
    more = {
        "head": head,
        "at_sea": True,
        "harbor": "",
        "position": "42 14.05 N 70 08.80 W",
        "boarding": str(uuid.UUID(int=9)),
        "reasons": {"bosom": "full"},
        "photo_lines": {},
        "signatures": [
            {
                "role": "skipper",
                "name": "A. Skipper",
                "at": "2026-11-24T08:10:00-05:00",
                "strokes": [[[0, 0], [2000, 12.6]]],
                "refused": False,
            }
        ],
        "fishery_name": "whiting",
        "code": "ABCDEFGHJKMN",
        "readings": [],
        "typed": {},
    }
    held = send(as_officer, envelope(officer, **more)).json()
    found = held["content"]
    assert found["signatures"][0]["strokes"] == [[[0, 0], [1000, 13]]]
    for name in set(more) - {"signatures"}:
        assert found[name] == more[name], name
    assert held["versions"] == {"no-sweep": "1", "whiting": "1"}


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"at_sea": True, "harbor": "Kettle Harbor", "position": ""}, "position"),
        ({"at_sea": True, "harbor": "", "position": "off the point"}, "position"),
        ({"harbor": ""}, "harbor"),
        ({"rulebook_name": ""}, "rulebook_name"),
        ({"fishery_name": "chain-sweep"}, "fishery_name"),
        ({"rulebook_name": "grate", "fishery_name": "whiting"}, "fishery_name"),
        ({"head": {"started": "25:00"}}, "started"),
        ({"readings": [{"id": "1"}]}, "readings"),
        ({"readings": "all"}, "readings"),
        ({"signatures": [{"role": "nobody"}]}, "signatures"),
        ({"signatures": [{"role": "skipper", "strokes": [[["x", 0]]]}]}, "signatures"),
        ({"reasons": {"bosom": 3}}, "reasons"),
    ],
)
def test_what_is_refused_names_its_field(as_officer, officer, changes, field):
    response = send(as_officer, envelope(officer, **changes))
    assert response.status_code == 422
    assert response.json()["fields"][field]
    assert response.json()["again_from"] == ""
    assert not CheckSheet.objects.exists()


def test_a_day_to_come_says_from_when_it_can_be_sent_again(as_officer, officer):
    told = send(as_officer, envelope(officer, day="2999-01-01")).json()
    assert told["again_from"] == "2999-01-01"
    assert "day" in told["fields"]


class TestThrown:
    def throw(self, client, officer, key, **changes):
        told = {"user": officer.pk, "key": str(key), "reason": "Wrong vessel.", "at": ""}
        told |= {"content": {"vessel_name": "Eider", "typed": {"bosom": "16 ft"}}} | changes
        address = reverse("checks:check_thrown")
        return client.post(address, told, content_type="application/json")

    def test_is_kept_once(self, as_officer, officer):
        key = uuid.uuid4()
        for _ in range(2):
            assert self.throw(as_officer, officer, key).status_code == 204
        thrown = CheckThrown.objects.get()
        assert (thrown.officer, thrown.reason) == (officer, "Wrong vessel.")
        assert thrown.content["typed"] == {"bosom": "16 ft"}

    def test_needs_a_reason_and_its_own_account(self, as_officer, officer, as_staff):
        assert self.throw(as_officer, officer, uuid.uuid4(), reason=" ").status_code == 422
        assert self.throw(as_officer, officer, uuid.uuid4(), content="x").status_code == 422
        assert self.throw(as_staff, officer, uuid.uuid4()).status_code == 409
        assert not CheckThrown.objects.exists()

    def test_is_never_one_that_was_turned_in(self, as_officer, officer):
        held = send(as_officer, envelope(officer, hands_in=True)).json()
        assert self.throw(as_officer, officer, held["key"]).status_code == 409


@pytest.mark.parametrize(
    ("written", "said"),
    [("07:45", "7:45 a.m."), ("12:05", "12:05 p.m."), ("00:10", "12:10 a.m."), ("later", "later")],
)
def test_times_of_a_head_are_said_as_people_say_them(written, said):
    assert head_words({"started": written}) == [("Started", said)]
