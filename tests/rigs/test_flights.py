"""The table of flights: what is in it is what the model flies, and what is found in it."""

import pytest

from rigs.physics.flight import COUNT, draw
from rigs.rules import rulebook
from rigs.rules.judge import judge
from rigs.tuning.flights import mended, nets, table, told
from rigs.tuning.flights.mends import DOWN, UP, Mend, named
from rigs.tuning.flights.nets import HIGH, LOPSIDED, LOW
from rigs.tuning.window import EVEN
from rigs.words.gear import PORT, STARBOARD
from rigs.words.units import INCH
from tests import flights as made

CLOSE = 0.25  # inches by which a row may differ from the same flown again
FLOWN_AGAIN = ("foot-60 low", "foot-82 high", "foot-60 lopsided")
REMEDY = "fly it again by python -m tests.flights, and read what changed"

BOOK = rulebook.load("no-sweep", "1")


@pytest.mark.parametrize("key", FLOWN_AGAIN)
def test_a_row_is_what_the_model_flies(key):
    kept = table.found(key)
    beliefs = made.beliefs_of(kept.ailing)
    again = made.likely(beliefs, kept.ailing.rig)
    assert again == pytest.approx([up / INCH for up in kept.before], abs=CLOSE), REMEDY
    for flight in kept.tried[:2]:
        again = made.likely(beliefs, flight.mend.on(kept.ailing.rig))
        assert again == pytest.approx([up / INCH for up in flight.after], abs=CLOSE), REMEDY


def test_how_sure_a_row_is_is_what_the_model_flies():
    kept = table.found("foot-60 low")
    beliefs = made.beliefs_of(kept.ailing)
    cases = draw(beliefs, kept.ailing.rig)
    flight = kept.tried[0]
    again = made.flown(beliefs, cases, flight.mend.on(kept.ailing.rig))
    assert again["low"] == pytest.approx([low / INCH for low in flight.low], abs=CLOSE), REMEDY
    assert again["high"] == pytest.approx([high / INCH for high in flight.high], abs=CLOSE), REMEDY
    assert again["of"] == flight.of, REMEDY
    assert again["height"] == [flight.lifted, flight.lowered], REMEDY


def test_every_file_says_that_its_net_is_invented():
    files = {path.name: path.read_text() for path in table.FOLDER.glob("*.json")}
    assert set(files) == {f"{net.key}.json" for net in nets.NETS}
    assert all(made.ABOUT in text for text in files.values())
    assert made.ABOUT.startswith("Invented nets")


@pytest.mark.parametrize("each", table.flights(), ids=lambda each: each.ailing.key)
class TestEachNet:
    def test_it_ails_as_it_is_said_to(self, each):
        window = mended.Mended(each, each.tried[0], BOOK).window
        height, apart = table.height(each.before), abs(table.apart(each.before))
        if each.ailing.ails == LOPSIDED:
            assert apart > EVEN
            assert window.holds(height)
        else:
            assert height < window.low if each.ailing.ails == LOW else height > window.high
            assert apart < INCH / 4

    def test_it_is_sound_but_for_what_ails_it(self, each):
        assert judge(each.ailing.net.sound, BOOK).missed_keys == frozenset()
        fault = {"legs_equal"} if each.ailing.net.leg_off is not None else set()
        expected = fault if each.ailing.ails == LOPSIDED else set()
        assert judge(each.ailing.rig, BOOK).missed_keys == expected

    def test_shine_is_read_at_every_place(self, each):
        assert all(shine > 0 for shine in each.shine)

    def test_not_every_change_mends_it(self, each):
        assert not all(one.mends for one in mended.all_of(each, BOOK))

    def test_a_mend_is_known_by_its_name_alone(self, each):
        for flight in each.tried:
            assert named(flight.mend.key) == flight.mend


class TestMended:
    """By rows of nets that stand for all: what is read off them was read off the file by hand."""

    def of(self, net, key, book=BOOK):
        return mended.of(table.found(net), key, book)

    def test_floats_off_a_net_that_is_too_low_go_the_wrong_way(self):
        each = self.of("foot-50 low", "floats -2")
        assert each.fault == mended.WRONG_WAY
        assert not each.mends
        assert "wrong way" in told.verdict(each)

    def test_a_little_is_not_enough_and_a_lot_is_too_much(self):
        assert self.of("foot-50 low", "headrope +4").fault == mended.STILL_LOW
        assert self.of("foot-50 low", "floats +4").mends
        assert self.of("foot-50 low", "floats +8").fault == mended.STILL_HIGH

    def test_what_flies_right_and_breaks_a_rule_is_no_mend(self):
        each = self.of("foot-50 high", "floats -4")
        assert each.fault is None
        assert [finding.key for finding in each.broken] == ["float_spacing"]
        assert not each.mends
        assert each.broken[0].allowed_text in told.rules(each)

    def test_a_leg_that_stays_too_long_is_no_mend_though_the_sides_are_even(self):
        each = self.of("foot-50 lopsided", "droppers +2 port")
        assert each.fault is None
        assert [finding.key for finding in each.broken] == ["legs_equal"]
        assert self.of("foot-50 lopsided", "equal-legs +0 port").mends

    def test_what_goes_the_right_way_in_too_few_nets_is_no_mend(self):
        each = self.of("foot-82 high", "bottom-leg +3")
        assert each.fault == mended.UNSURE
        assert f"{each.agree} of {COUNT}" in told.verdict(each)

    def test_what_is_seen_to_miss_is_said_before_how_sure_it_is(self):
        each = self.of("foot-50 lopsided", "floats +4 starboard")
        assert not each.is_sure
        assert each.fault == mended.STILL_UNEVEN
        assert told.verdict(each) == "that is 1 1/2 in too much"

    def test_nets_whose_mouth_closes_do_not_speak_for_a_change(self):
        for each in table.flights():
            for flight in each.tried:
                one = mended.Mended(each, flight, BOOK)
                if one.agree < 0.9 * COUNT:
                    assert not one.mends

    def test_custom_in_one_rule_set_is_law_in_another(self):
        grate = rulebook.load("grate", "1")
        each = self.of("foot-50 high", "droppers +2", grate)
        assert each.mends, "a grate that no net of the table has is no fault of the change"


class TestTold:
    def elsewhere(self, net, key):
        return told.elsewhere(mended.of(table.found(net), key, BOOK))

    def test_what_a_change_did_elsewhere_is_said_once_where_it_goes_one_way(self):
        said = self.elsewhere("foot-50 lopsided", "floats +2 port")
        assert said == "1 to 2 in farther apart"
        said = self.elsewhere("foot-60 lopsided", "shift +2 starboard")
        assert said == "4 to 8 in nearer to each other"

    def test_and_both_ends_where_it_goes_either_way(self):
        said = self.elsewhere("foot-60 lopsided", "shift +4 starboard")
        assert said == "from 4 in farther apart to 11 in nearer to each other"

    def test_what_is_asked_is_said_as_a_span(self):
        each = mended.of(table.found("foot-50 low"), "floats +2", BOOK)
        assert told.asked(each) == "12 to 24 in up"
        each = mended.of(table.found("foot-50 lopsided"), "floats +2 port", BOOK)
        assert told.asked(each) == "sides no more than 3 in apart, and 12 to 24 in up"


class TestMends:
    def test_each_side_and_sort_is_said(self):
        rig = table.found("foot-50 lopsided").ailing.rig
        for key in ("floats +2 port", "droppers +4 starboard", "top-leg +3 port"):
            assert named(key).words(rig).count(key.split()[2]) == 1

    def test_the_trade_has_more_floats_lift_and_fewer_lower(self):
        assert Mend("floats", 2).thumb == UP
        assert Mend("floats", -2).thumb == DOWN
        assert Mend("floats", 0).thumb == 0
        assert Mend("doubled").thumb == DOWN

    def test_legs_made_equal_are_the_sound_net_again(self):
        ailing = table.found("foot-50 lopsided").ailing
        assert Mend("equal-legs", 0, PORT).on(ailing.rig) == ailing.net.sound

    def test_a_longer_headrope_has_the_floats_it_had(self):
        rig = table.found("foot-50 low").ailing.rig
        longer = named("headrope +12").on(rig)
        assert len(longer.floats) == len(rig.floats)
        assert longer.headrope.length - rig.headrope.length == pytest.approx(12 * INCH)


@pytest.mark.parametrize("ails", [LOW, HIGH, LOPSIDED])
def test_nearly_every_net_can_be_mended(ails):
    """A net that needs more than was tried is met as well: then none of the changes will do."""
    alike = [each for each in table.flights() if each.ailing.ails == ails]
    mendable = [each for each in alike if any(one.mends for one in mended.all_of(each, BOOK))]
    assert len(mendable) >= len(alike) - 1


def test_where_the_trade_and_the_model_say_the_opposite_nothing_is_asked():
    every = [one for each in table.flights() for one in map(_of(each), each.tried)]
    assert any(one.against_thumb for one in every)
    left = {
        (each.ailing.key, one.flight.mend.key)
        for each in table.flights()
        for one in mended.all_of(each, BOOK)
    }
    for one in every:
        opposite = one.flight.mend.thumb * one.change < 0 and one.flight.mend.side is None
        assert ((one.flights.ailing.key, one.flight.mend.key) in left) is not opposite


def _of(each):
    return lambda flight: mended.Mended(each, flight, BOOK)


def test_the_low_side_is_named():
    for each in table.flights():
        if each.ailing.ails == LOPSIDED:
            low = PORT if table.apart(each.before) < 0 else STARBOARD
            assert f"lower to {low}" in told.now(each)
        else:
            assert (each.ailing.ails == HIGH) is ("too high" in told.now(each))
