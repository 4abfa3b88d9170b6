"""A net's card for sea: what changes do to it in flight, kept as plain data."""

import json
from functools import lru_cache

import pytest

from rigs.physics.flight import POINTS, cases, compare, draw
from rigs.rules import rulebook
from rigs.tuning import card
from rigs.tuning.flights.mends import Mend
from rigs.words.gear import PORT
from tests.rigs.flying import beliefs, net

BOOK = rulebook.load("no-sweep", "1")
MORE = Mend("floats", 2)


@pytest.fixture(autouse=True)
def few_cases(monkeypatch):
    monkeypatch.setattr(cases, "COUNT", 4)


@lru_cache(maxsize=4)
def row(mend):
    """Return the row of ``mend`` as it comes back from where it was kept."""
    return json.loads(json.dumps(card.of_change(mend, net(), draw(beliefs(), net()))))


def test_a_row_is_what_the_change_does_in_flight():
    found = compare(beliefs(), net(), MORE.on(net()))
    assert row(MORE)["likely"] == pytest.approx([each.change for each in found], abs=1e-4)
    assert row(MORE)["of"] == 4


def test_a_kept_row_says_what_is_done_what_it_does_and_how_sure_that_is():
    said = card.words(row(MORE), net(), BOOK)
    assert said.change == MORE.words(net())
    assert [each.name for each in said.places] == list(POINTS)
    assert all(each.change.startswith("up ") for each in said.places)
    assert "4 of 4 go that way" in said.sure
    assert said.trouble == ""


def test_a_way_that_too_few_nets_go_is_not_sure():
    unsure = row(MORE) | {"rises": [3] * 5, "sinks": [1] * 5}
    assert card.words(unsure, net(), BOOK).sure.startswith("Not sure:")


def test_a_rule_that_only_the_changed_net_breaks_is_named_and_without_rules_none():
    longer = Mend("top-leg", 3, PORT)
    kept = row(MORE) | {"change": longer.key}
    assert card.words(kept, net(), BOOK).breaks
    assert card.words(kept, net(), None).breaks == ()
    assert card.words(row(MORE), net(), BOOK).breaks == ()


def test_what_cannot_be_made_says_why_and_nothing_else():
    bare = net().with_(floats=None)
    told = card.of_change(MORE, bare, draw(beliefs(), net()))
    said = card.words(told, net(), BOOK)
    assert "not measured" in said.trouble
    assert said.places == ()


def test_every_change_of_a_card_can_be_made_of_a_net():
    for mend in card.CHANGES:
        assert mend.on(net()) != net(), mend
