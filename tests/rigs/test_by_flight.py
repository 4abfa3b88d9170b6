"""
What would put a net right by the whole of it in flight, and what makes its sides differ.

The nets are invented. That a longer leg on one side lets the net fly otherwise there is common
practice, no source; here flight is asked to find again what was done to a net.
"""

from dataclasses import replace
from functools import lru_cache

import pytest

from rigs.physics import flight
from rigs.physics.flight import NOTHING, cases
from rigs.rules import rulebook
from rigs.rules.judge import judge
from rigs.tuning import borne_out, by_flight, causes, heights, in_flight, offer_words, tune
from rigs.tuning.by_flight import Offered, can_offer, offered
from rigs.tuning.flights import table
from rigs.tuning.flights.mends import Mend, named
from rigs.tuning.log import PLACES, Tow
from rigs.tuning.proposals import LOOK
from rigs.tuning.window import EVEN, TOO_LOW
from rigs.words.gear import PORT, STARBOARD, Leg
from rigs.words.units import INCH

BOOK = rulebook.load("no-sweep", "1")


class Net:
    """A net of the table of flights as its owner has it: ``rig`` as entered, and its shine."""

    def __init__(self, key, entered=None):
        told = table.found(key)
        self.rig = told.ailing.rig if entered is None else entered
        shine = dict(zip(PLACES, told.shine, strict=True))
        self.tow = Tow(told.ailing.speed, shine, rig=self.rig)
        self.read = heights(self.tow, self.rig)
        self.told = flight.Told(told.ailing.speed)
        self.tuned = tune(self.rig, [self.tow], BOOK)
        self.beliefs = in_flight.beliefs(self.rig, self.told, in_flight.seen([self.read]))

    @property
    def offered(self):
        return offered(self.tuned, self.rig, self.beliefs, BOOK)

    @property
    def picture(self):
        return causes.picture(self.rig, self.beliefs, self.tuned.run)


@lru_cache(maxsize=8)
def net(key, blind=False):
    """Return the Net ``key``; ``blind`` if its owner entered it as if nothing were wrong."""
    return Net(key, table.found(key).ailing.net.sound if blind else None)


def test_a_low_net_is_offered_what_lifts_it_and_meets_the_rules():
    low = net("foot-76 low")
    found = low.offered.offers
    assert low.tuned.status == TOO_LOW
    assert found[0].mend.sort == "floats"
    assert found[0].mend.amount > 0
    present = judge(low.rig, BOOK)
    for offer in found:
        assert offer.after > offer.before + NOTHING, offer.mend
        assert not judge(offer.rig, BOOK).missed_keys - present.missed_keys, offer.mend


def test_the_first_offer_is_within_the_custom_and_the_next_is_no_nearer():
    found = net("foot-76 low").offered.offers
    assert found[0].good
    assert net("foot-76 low").tuned.window.holds(found[0].after)
    order = [(not each.good, round(each.misses / NOTHING)) for each in found]
    assert order == sorted(order)


def test_what_is_offered_is_what_the_net_then_does_in_flight():
    low = net("foot-76 low")
    offer = low.offered.offers[0]
    again = flight.compare(low.beliefs, low.rig, offer.mend.on(low.rig))
    assert [each.change for each in offer.moved] == [each.change for each in again]


def test_what_would_break_a_rule_is_not_offered_and_said():
    low = net("foot-76 low")
    found = low.offered
    assert found.forbidden
    present = judge(low.rig, BOOK).missed_keys
    for mend in found.forbidden:
        assert judge(mend.on(low.rig), BOOK).missed_keys - present, mend
        assert mend.sort not in {each.mend.sort for each in found.offers}
    said = " ".join(offer_words.left_out(found, low.rig))
    assert "break a rule" in said


def test_one_dropper_alone_promises_more_of_floats_than_flight_does():
    offer = net("foot-76 low").offered.offers[0]
    assert offer.simple.change > offer.after - offer.before
    assert "one dropper alone" in offer_words.simple(offer)


def test_nothing_is_offered_where_the_reading_leaves_it_open():
    unsure = net("foot-60 low")
    assert unsure.tuned.doubts
    assert not can_offer(unsure.tuned)
    assert unsure.offered == Offered()


def test_sides_that_differ_are_looked_into_though_the_height_is_in_doubt():
    lopsided = net("foot-60 lopsided")
    doubted = replace(lopsided.tuned, doubts=("The range is wide.",))
    assert can_offer(doubted)
    assert not can_offer(replace(net("foot-76 low").tuned, doubts=("The range is wide.",)))


def test_nothing_is_offered_while_something_has_to_be_looked_for_first():
    low = net("foot-76 low")
    look = replace(low.tuned.advice[0], kind=LOOK, pieces=0)
    assert not can_offer(replace(low.tuned, advice=(look,)))


def test_a_leg_that_was_entered_longer_is_the_picture_and_cutting_it_comes_first():
    lopsided = net("foot-50 lopsided")
    assert lopsided.picture.is_entered
    assert not lopsided.picture.causes
    first = lopsided.offered.offers[0]
    assert (first.mend.sort, first.mend.side) == (
        "equal-legs",
        table.found("foot-50 lopsided").ailing.net.off,
    )
    assert abs(first.apart_after) <= EVEN


@pytest.mark.parametrize("key", ["foot-50 lopsided", "foot-82 lopsided"])
def test_a_leg_longer_than_was_entered_is_found_as_a_cause(key):
    ailing = table.found(key).ailing
    picture = net(key, blind=True).picture
    assert not picture.is_entered
    leg = f"The {ailing.net.off} top leg may be about "
    found = next(each.text for each in picture.causes if each.text.startswith(leg))
    size = float(found.removeprefix(leg).split(" in")[0])
    assert size == pytest.approx(ailing.net.leg_off, abs=2)
    offs = [each.off for each in picture.causes]
    assert offs == sorted(offs)


def test_floats_on_the_wrong_side_are_found_as_a_cause():
    ailing = table.found("foot-60 lopsided").ailing
    texts = [each.text for each in net("foot-60 lopsided", blind=True).picture.causes]
    assert any(f"may hang on the {ailing.net.off} side" in text for text in texts)


def test_what_nobody_entered_stays_in_the_sides_after_a_change():
    blind = net("foot-60 lopsided", blind=True)
    flown = blind.beliefs.flown(blind.rig)
    assert abs(table.apart([each.up for each in flown.points])) < NOTHING
    for offer in blind.offered.offers:
        assert abs(offer.apart_before) > EVEN, offer.mend
        assert offer.evens


def test_a_place_without_shine_tells_nothing_of_the_sides():
    blind = net("foot-60 lopsided", blind=True)
    none = dict.fromkeys(PLACES[:2], 0.0)
    tow = replace(blind.tow, shine=blind.tow.shine | none)
    assert causes.picture(blind.rig, blind.beliefs, [heights(tow, blind.rig)]) is None


def test_floats_that_only_move_are_nothing_to_one_dropper():
    found = net("foot-60 lopsided").offered.offers
    moved = [each for each in found if each.mend.sort == "shift" or not each.mend.amount]
    assert moved
    assert all(each.simple is None for each in moved)


def test_only_what_could_be_offered_is_looked_at_by_its_name():
    low = net("foot-76 low")
    args = (low.tuned, low.rig, low.beliefs, BOOK)
    assert by_flight.offer(named("floats +6"), *args).mend == Mend("floats", 6)
    assert by_flight.offer(named("floats -6"), *args) is None
    assert by_flight.offer(named("nothing +1"), *args) is None


def test_a_net_whose_legs_were_not_measured_is_offered_what_needs_no_leg():
    bare = tuple(replace(leg, top_length=None) for leg in net("foot-76 low").rig.legs)
    low = Net("foot-76 low", net("foot-76 low").rig.with_(legs=bare))
    found = low.offered
    assert "floats" in {each.mend.sort for each in found.offers}
    every = [*(each.mend for each in found.offers), *found.forbidden, *found.contested]
    assert "top-leg" not in {mend.sort for mend in every}


@pytest.mark.usefixtures("few_cases")
def test_how_sure_counts_the_nets_that_go_its_way():
    low = net("foot-76 low")
    offer = low.offered.offers[0]
    sure = by_flight.sure(offer, cases.draw(low.beliefs, low.rig))
    assert sure.of == 4
    assert 0 < sure.agree <= sure.of - sure.lost
    assert sure.low <= sure.high
    assert sure.low < offer.after - offer.before < sure.high * 1.5
    assert f"In {sure.agree} of 4 nets" in offer_words.how_sure(sure, offer)


@pytest.mark.parametrize(
    ("agree", "first"), [(20, "In 20 of 20"), (18, "In 18 of 20"), (17, "Not sure."), (0, "Not")]
)
def test_what_too_few_nets_do_is_not_sure(agree, first):
    offer = net("foot-76 low").offered.offers[0]
    sure = by_flight.Sure(agree, 20, 0, -INCH, 5 * INCH)
    said = offer_words.how_sure(sure, offer)
    assert said.startswith(first)
    assert "down 1 in to up 5 in" in said


def test_nets_that_no_longer_fly_are_said():
    offer = net("foot-76 low").offered.offers[0]
    said = offer_words.how_sure(by_flight.Sure(18, 20, 2, INCH, 5 * INCH), offer)
    assert "2 find no steady flight." in said


# How the last change came true ------------------------------------------------------------------


def changed(seen, mend="floats +6"):
    """Return what is said of a change after which a net flies ``seen`` inches higher by shine."""
    low = net("foot-76 low")
    rig = named(mend).on(low.rig)
    shine = {place: max(0.0, each - seen * INCH) for place, each in low.tow.shine.items()}
    after = heights(Tow(low.tow.speed, shine, rig=rig), rig)
    return borne_out.last_change(low.rig, low.told, [low.read, after])


def test_a_change_that_came_as_foretold_fits():
    said = changed(9)
    assert "flight would have said up" in said
    assert "The two fit, as finely as shine can show." in said


def test_a_change_that_came_far_less_than_foretold_does_not_fit():
    assert "The two do not fit." in changed(3)


def test_a_change_that_went_the_other_way_is_said():
    assert "That is the other way." in changed(-5)


def test_a_change_too_small_to_be_read_proves_nothing():
    assert "so would no change" in changed(0, "headrope +1")


def test_without_a_change_nothing_is_said():
    low = net("foot-76 low")
    assert borne_out.last_change(low.rig, low.told, [low.read, low.read]) == ""


def test_after_a_change_without_shine_nothing_is_said():
    assert changed(60) == ""


def test_what_was_read_after_a_change_foretells_nothing_of_it():
    said = {changed(seen).split(", your shine")[0] for seen in (2, 5, 9)}
    assert len(said) == 1


def test_a_leg_entered_on_one_side_alone_can_be_looked_at():
    low = net("foot-60 lopsided", blind=True)
    rig = low.rig.with_(legs=(Leg(STARBOARD, *[20.0] * 2, *[0.0127] * 2),))
    with pytest.raises(ValueError, match="legs were not measured"):
        causes._longer(rig, "top", 3 * INCH)
    assert causes._longer(rig, "top", -3 * INCH) != rig
    assert PORT not in {leg.side for leg in rig.legs}
