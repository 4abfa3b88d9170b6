"""Flights that are drawn: they are what the model flies, and their words mislead in no case."""

import json

import numpy as np
import pytest

from rigs.physics.flight import COUNT, NOTHING, POINTS, draw
from rigs.physics.flight.built import PAGE, build
from rigs.physics.flight.flown import is_alike
from rigs.physics.flight.laid import Cut
from rigs.rules import rulebook
from rigs.rules.judge import judge
from rigs.tuning.flights import pictured, pictured_words
from rigs.tuning.flights.mends import DOWN, UP
from rigs.words.units import INCH
from tests.flights import beliefs_of

CLOSE = INCH / 4  # by which a flight may differ from the same flown again
REMEDY = "fly it again by python -m tests.pictured_flights, and read what changed"

BOOK = rulebook.load("no-sweep", "1")
SOUND = pictured.SOUND.rig


@pytest.fixture(scope="module")
def beliefs():
    return beliefs_of(pictured.SOUND)


def picture_of(key):
    return pictured.as_it_is() if key is None else pictured.after(key)


@pytest.mark.parametrize("key", [None, *(mend.key for mend in pictured.CHANGES)])
def test_what_is_drawn_is_what_the_model_flies(beliefs, key):
    picture = picture_of(key)
    again = beliefs.flown(picture.flown.rig)
    for kept, new in zip(picture.flown.points, again.points, strict=True):
        assert kept.up == pytest.approx(new.up, abs=CLOSE), REMEDY
    assert picture.flown.at == pytest.approx(again.at, abs=0.1), REMEDY


def test_how_sure_it_is_is_what_the_model_flies(beliefs):
    key = "floats +2"
    again = draw(beliefs, SOUND).after(pictured.after(key).flown.rig)
    for kept, new in zip(pictured.after(key).spreads, again, strict=True):
        assert kept.change == pytest.approx(new.change, abs=CLOSE), REMEDY
        assert kept.before == pytest.approx(new.before, abs=CLOSE), REMEDY
        assert (kept.rises, kept.sinks, kept.lost) == (new.rises, new.sinks, new.lost), REMEDY


def test_every_change_was_flown_and_has_a_place_for_each_node():
    assert pictured.tried() == pictured.CHANGES
    for key in (None, *(mend.key for mend in pictured.tried())):
        flown = picture_of(key).flown
        built = build(
            flown.rig,
            flown.guess,
            Cut.typical(SOUND, flown.guess),
            PAGE,
            half=is_alike(flown.rig),
        )
        assert flown.at.shape == built.start.shape
        assert np.isfinite(flown.at).all()


def test_the_file_says_that_its_net_is_invented_and_how_it_is_made():
    about = json.loads(pictured.PATH.read_text())["about"]
    assert about.startswith("Invented nets")
    assert "tests.pictured_flights" in about


def test_the_net_is_sound_and_flies_within_the_trades_window():
    assert judge(SOUND, BOOK).missed_keys == frozenset()
    assert all(12 * INCH < point.up < 24 * INCH for point in pictured.as_it_is().flown.points)
    assert all(not each.clear for each in pictured.as_it_is().flown.trailing)


@pytest.mark.parametrize("mend", pictured.tried(), ids=lambda mend: mend.key)
class TestEachChange:
    def test_what_is_likely_lies_within_what_holds_nine_in_ten(self, mend):
        picture = pictured.after(mend.key)
        for move, spread in zip(picture.moves, picture.spreads, strict=True):
            low, high = spread.change
            assert low - INCH <= move.change <= high + INCH
            assert spread.rises + spread.sinks + spread.still + spread.lost == COUNT

    def test_how_many_agree_is_of_the_way_that_is_written(self, mend):
        picture = pictured.after(mend.key)
        for place, move, spread in zip(
            pictured_words.places(picture), picture.moves, picture.spreads, strict=True
        ):
            ways = {"up": spread.rises, "down": spread.sinks, "hardly": spread.still}
            assert place.agree == f"{ways[place.change.split()[0]]} of {COUNT}"
            assert (move.change > 0) == place.change.startswith("up") or abs(move.change) < NOTHING

    def test_shine_goes_the_other_way_than_the_height(self, mend):
        before = pictured.as_it_is().flown.trailing
        picture = pictured.after(mend.key)
        if len(picture.flown.trailing) != len(before) or mend.sort == "doubled":
            return
        for old, new in zip(before, picture.flown.trailing, strict=True):
            if abs(new.up - old.up) > NOTHING:
                assert (new.up > old.up) == (new.shine < old.shine)

    def test_custom_is_told_where_there_is_one(self, mend):
        words = pictured_words.custom(pictured.after(mend.key))
        assert words.startswith({UP: "It lifts", DOWN: "It lowers", 0: ""}[mend.thumb])
        assert bool(words) is bool(mend.thumb)


class TestWhatCouldMislead:
    """Cases in which a plain figure would say more than is known."""

    def test_where_other_nets_go_the_other_way_the_model_is_called_not_sure(self):
        words = pictured_words.elsewhere(pictured.after("footrope +24"))
        assert "goes the other way: the model is not sure" in words
        assert "not sure" not in pictured_words.elsewhere(pictured.after("floats +2"))

    def test_where_the_model_goes_against_custom_it_says_so(self):
        # Floats added, drawn with the net that has fewer: what custom would never say.
        fewer = pictured.after("floats -2")
        odd = fewer._replace(mend=pictured.after("floats +2").mend)
        assert "says the opposite" in pictured_words.custom(odd)
        assert "opposite" not in pictured_words.custom(fewer)

    def test_where_too_few_nets_agree_no_way_is_sure(self):
        picture = pictured.after("floats +2")
        split = tuple(each._replace(rises=12, sinks=5) for each in picture.spreads)
        words = pictured_words.sure(picture._replace(spreads=split))
        assert words.startswith("Not sure")
        assert "12 go up" in words
        assert "5 go down" in words

    def test_droppers_worked_out_alone_that_hang_clear_tell_only_the_least(self):
        words = pictured_words.alone(pictured.after("floats +4"))
        assert "or more, until the droppers hang clear" in words
        assert "half of the lift" in words

    def test_droppers_worked_out_alone_say_nothing_of_ropes_and_legs(self):
        for key in ("headrope +4", "footrope +24", "top-leg +3"):
            assert pictured_words.alone(pictured.after(key)) == ""

    def test_a_height_is_told_with_its_spread_and_with_what_it_is_not(self):
        middle = pictured.as_it_is().spreads[len(POINTS) // 2].before
        words = pictured_words.how_high()
        for end in middle:
            assert str(round(end / INCH)) in words
        assert "about a foot" in str(pictured_words.HEIGHTS)

    def test_one_longer_leg_moves_that_side_most(self):
        moves = pictured.after("bottom-leg +3 port").moves
        assert moves[0].change < moves[-1].change < 0
