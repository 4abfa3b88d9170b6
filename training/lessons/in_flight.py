"""An invented net in flight, as lessons show it: drawn from what was flown beforehand."""

from rigs.drawing.in_flight import flight_from_ahead, flight_from_the_side
from rigs.tuning.flights import pictured, pictured_words
from training.deck.drawn import drawn

VIEWS = {"side": flight_from_the_side, "ahead": flight_from_ahead}
"""The drawings by the names that lessons have for them."""


def as_it_is(view, identifier):
    """Return what a figure of the net before any change needs, seen in one of VIEWS."""
    return {
        "svg": drawn(VIEWS[view](pictured.as_it_is().flown), identifier),
        "net": pictured_words.net(),
        "how_high": pictured_words.how_high(),
        "heights": pictured_words.HEIGHTS,
    }


def changed(picture, rulebook, identifier):
    """Return what a figure of ``picture``, a change to the net, needs; judged by ``rulebook``."""
    before = pictured.as_it_is().flown
    return {
        "svg": drawn(flight_from_ahead(before, picture.flown), identifier),
        "change": picture.mend.words(pictured.SOUND.rig),
        "headline": pictured_words.headline(picture.moves),
        "sure": pictured_words.sure(picture),
        "places": pictured_words.places(picture),
        "shine_before": pictured_words.shine(before),
        "shine_after": pictured_words.shine(picture.flown),
        "broken": list(pictured_words.broken(picture, rulebook)),
        "said": [each for each in pictured_words.sayings(picture) if each.words],
        "net": pictured_words.net(),
        "heights": pictured_words.HEIGHTS,
        "worked_out": pictured_words.worked_out(),
        "left_out": pictured_words.LEFT_OUT,
    }
