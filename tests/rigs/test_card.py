"""A net's card for sea: what changes do to it in flight, kept as plain data."""

import json
from functools import lru_cache

import pytest

from rigs.physics.flight import POINTS, compare, draw
from rigs.rules import rulebook
from rigs.rules.judge import judge
from rigs.tuning import card
from rigs.tuning.flights.mends import Mend
from rigs.words.gear import PORT
from tests.rigs.flying import beliefs, net

pytestmark = pytest.mark.usefixtures("few_cases")

KEPT = judge(net(), rulebook.load("no-sweep", "1"))
MORE = Mend("floats", 2)


@lru_cache(maxsize=4)
def row(mend):
    """Return the row of ``mend`` as it comes back from where it was kept."""
    return json.loads(json.dumps(card.of_change(mend, net(), draw(beliefs(), net()))))


def test_a_row_is_what_the_change_does_in_flight():
    found = compare(beliefs(), net(), MORE.on(net()))
    assert row(MORE)["likely"] == pytest.approx([each.change for each in found])
    spreads = draw(beliefs(), net()).after(MORE.on(net()))
    for kept, spread in zip(row(MORE)["spreads"], spreads, strict=True):
        assert card._spread(spread.name, kept) == spread


def test_a_kept_row_says_what_is_done_what_it_does_and_how_sure_that_is():
    said = card.words(row(MORE), net(), KEPT)
    assert said.change == MORE.words(net())
    assert [each.name for each in said.places] == list(POINTS)
    assert all(each.change.startswith("up ") for each in said.places)
    assert "4 of 4 nets that may be yours go up" in said.sure
    assert said.trouble == ""


def with_counts(row, **counts):
    """Return ``row`` with other ``counts`` at each place."""
    spreads = [card._spread("", kept)._replace(**counts)[1:] for kept in row["spreads"]]
    return row | {"spreads": spreads}


def test_a_way_that_too_few_nets_go_is_not_sure_and_all_nets_are_counted():
    unsure = with_counts(row(MORE), rises=2, sinks=0)
    assert "2 go up, 0 go down, 2 hardly move" in card.words(unsure, net(), KEPT).sure


def test_how_sure_is_told_of_the_place_that_moves_most():
    likely = [0.01, 0.02, 0.03, 0.02, 0.09]
    assert POINTS[-1] in card.words(row(MORE) | {"likely": likely}, net(), KEPT).sure
    level = row(MORE) | {"likely": [0.05] * 5}
    assert "at the center" in card.words(level, net(), KEPT).sure


def test_a_rule_that_only_the_changed_net_breaks_is_named_and_without_rules_none():
    longer = Mend("top-leg", 3, PORT)
    kept = row(MORE) | {"change": longer.key}
    assert card.words(kept, net(), KEPT).breaks
    assert card.words(kept, net(), None).breaks == ()
    assert card.words(row(MORE), net(), KEPT).breaks == ()


def test_what_cannot_be_made_says_why_and_nothing_else():
    bare = net().with_(floats=None)
    told = card.of_change(MORE, bare, draw(beliefs(), net()))
    said = card.words(told, net(), KEPT)
    assert "not measured" in said.trouble
    assert said.places == ()


def test_every_change_of_a_card_can_be_made_of_a_net():
    for mend in card.CHANGES:
        assert mend.on(net()) != net(), mend
