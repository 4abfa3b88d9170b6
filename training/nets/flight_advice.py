"""What a page shows of the changes that would put a net right, by the whole of it in flight."""

from datetime import date
from typing import NamedTuple

from django.http import Http404

from rigs import tuning
from rigs.rules.lapse import day_for
from rigs.tuning import borne_out, by_flight, causes, flight_words, offer_words
from rigs.tuning.flights.mends import named
from rigs.tuning.remarks import rules_said

from . import in_flight, shine_log


class Asked(NamedTuple):
    """
    A net of which changes are asked on the day ``on``.

    What is ``known`` of it, and how it is ``tuned``: not at all without a tow.
    """

    known: in_flight.Known
    tuned: tuning.Tuning | None
    on: date | None

    @property
    def rig(self):
        """The net as it hangs."""
        return self.known.read.hangs

    @property
    def rulebook(self):
        """The rules it is judged by."""
        return self.known.plan.rulebook

    def believed(self):
        """Return the flight.Beliefs of the net; raise in_flight.CannotFly, and what they raise."""
        return in_flight.believed(self.known, self.rig)


def asked(known, today):
    """Return the Asked of a net, an in_flight.Known, on the date ``today``."""
    read, book = known.read, known.plan.rulebook
    on = day_for(book, today)
    tows = read.told[-shine_log.RECENT :]
    return Asked(known, tuning.tune(read.hangs, tows, book, on) if tows else None, on)


def shown(told):
    """
    Return what nets/flight_advice_figure.html shows of an Asked, as context; it takes seconds.

    Raise in_flight.CannotFly where nothing can be told of the net.
    """
    tuned = told.tuned
    if tuned is None or not tuned.used:
        return {"tuned": tuned}
    context = {
        "tuned": tuned,
        "headline": offer_words.headline(tuned),
        "first": [each.text for each in tuned.advice if not each.pieces],
        "custom": offer_words.custom(tuned.window),
        "only_shine": flight_words.ONLY_SHINE,
        "borne_out": borne_out.last_change(
            told.known.cut_for, told.known.told, told.known.read.heights
        ),
    }
    if not by_flight.can_offer(tuned):
        return context
    with in_flight.in_words():
        beliefs = told.believed()
        if tuned.uneven:
            context["picture"] = causes.picture(told.rig, beliefs, tuned.run)
            context["unseen"] = causes.UNSEEN
        offered = by_flight.offered(tuned, told.rig, beliefs, told.rulebook, told.on)
    return context | {
        "can_offer": True,
        "offers": [_words(each, told) for each in offered.offers],
        "none": offer_words.NONE,
        "not_offered": list(offer_words.left_out(offered, told.rig)),
    }


def how_sure(told, key):
    """
    Return in words how sure the change of the name ``key`` is, of those offered to an Asked.

    It takes seconds. Raise Http404 if it is none of them, in_flight.CannotFly if hardly any net
    that may be this one flies with it.
    """
    try:
        mend = named(key)
    except ValueError as error:
        raise Http404 from error
    if told.tuned is None or not by_flight.can_offer(told.tuned):
        raise Http404
    with in_flight.in_words():
        beliefs = told.believed()
        offer = by_flight.offer(mend, told.tuned, told.rig, beliefs, told.rulebook, told.on)
        if offer is None:
            raise Http404
        return offer_words.how_sure(
            by_flight.sure(offer, in_flight.cases(told.known, told.rig)), offer
        )


def _words(offer, told):
    said = {
        "key": offer.mend.key,
        "words": offer.mend.words(told.rig),
        "does": offer_words.does(offer, told.tuned.window),
        "thumb": offer_words.thumb(offer.mend),
        "simple": offer_words.simple(offer),
        "places": [(each.name, flight_words.moved(each.change)) for each in offer.moved],
    }
    if not told.known.plan.lapsed:  # without a version for today nothing is said of the rules
        verdict = offer.verdict
        said["rules"] = rules_said(len(verdict.failed), len(verdict.not_measured))
    return said
