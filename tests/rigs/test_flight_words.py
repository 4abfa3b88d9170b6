"""What a change does in flight, said in words: the cases in which they would mislead."""

import pytest

from rigs.physics.flight import POINTS, Moved, Point, Span, Spread
from rigs.tuning.flight_words import headline, how_sure, moved, verdict_of
from rigs.words.units import INCH


def five(*changes, before=18.0):
    """Return the five places going up by ``changes``, in inches, from ``before``."""
    return [
        Moved(Point(name, 0.0, before * INCH), Point(name, 0.0, (before + change) * INCH))
        for name, change in zip(POINTS, changes, strict=True)
    ]


def spread(low, high, rises, sinks, of=20, lies=0, lost=0):
    """Return a Spread with a change from ``low`` to ``high`` inches."""
    still = Span(0.0, 0.0)
    return Spread(
        "center", still, still, Span(low * INCH, high * INCH), rises, sinks, lies, of, lost
    )


@pytest.mark.parametrize(
    ("inches", "words"),
    [
        (3.2, "up 3 in"),
        (-1.0, "down 1 in"),
        (0.4, "hardly any change"),
        (-0.4, "hardly any change"),
        (0.6, "up 1 in"),
    ],
)
def test_a_change_is_said_to_the_inch_and_none_that_nobody_sees(inches, words):
    assert moved(inches * INCH) == words


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ((4, 4, 3, 4, 4), "The footrope goes up everywhere: 3 in at the center."),
        ((-4, -4, -3, -4, -4), "The footrope goes down everywhere: 3 in at the center."),
        ((0.1, 0, -0.2, 0, 0.1), "The footrope hardly moves."),
        ((-1, -1, -1, -2, -4), "The footrope goes down everywhere: 1 in at the center."),
        ((0, 0, 5, 0, 0), "Most at the center: up 5 in."),
        ((3, 1, 0, -1, -4), "Most at the starboard wing end: down 4 in. At the center: hardly any"),
    ],
)
def test_the_headline_says_everywhere_only_of_everywhere(changes, words):
    assert headline(five(*changes)).startswith(words)


def test_nets_that_disagree_are_not_called_sure():
    told = verdict_of([spread(-3, 4, rises=11, sinks=7)])
    assert told.startswith("Not sure: of 20 nets that may be yours, 11 go up")
    assert told.endswith("7 go down, 2 hardly move at the center.")


def test_nets_that_agree_are_called_sure_with_their_count():
    assert "19 of 20 nets that may be yours go up" in verdict_of([spread(1, 6, 19, 0)])
    assert "20 of 20 nets that may be yours go down" in verdict_of([spread(-6, -1, 0, 20)])


def test_where_hardly_any_moves_no_way_is_called_sure():
    told = verdict_of([spread(-0.3, 0.3, rises=1, sinks=0)])
    assert told == "Hardly any of 20 nets that may be yours moves at the center."


def test_all_nets_are_counted_and_those_on_the_bottom_named():
    (told,) = how_sure([spread(-5, 1, rises=2, sinks=15, lies=6)])
    assert told.agree == (
        "2 of 20 go up, 15 of 20 go down, 3 of 20 hardly move, 6 of 20 end on the bottom"
    )
    assert told.span == "down 5 in to up 1 in"


def test_nets_that_no_longer_fly_are_counted_and_make_it_less_sure():
    lost = spread(1, 6, rises=16, sinks=0, lost=4)
    assert how_sure([lost])[0].agree == "16 of 20 go up, 4 of 20 find no steady flight"
    assert verdict_of([lost]).startswith("Not sure")
    assert "4 find no steady flight" in verdict_of([lost])


def test_where_most_hardly_move_they_are_counted_too():
    told = verdict_of([spread(-0.3, 1, rises=3, sinks=0)])
    assert told == (
        "Not sure: of 20 nets that may be yours, 3 go up, 0 go down, 17 hardly move at the center."
    )
