"""Calls in the story of a person or a vessel."""

from django.urls import reverse
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from training.deck import story
from training.people import sight

from ..models import CallNote


@story.PERSON.teller
def calls_to_person(person, user):
    """Tell each call to ``person``."""
    return _told("person", person, user)


@story.VESSEL.teller
def calls_to_vessel(vessel, user):
    """Tell each call to ``vessel``."""
    return _told("vessel", vessel, user)


def _told(of, called, user):
    link = reverse("desk:call", args=[of, called.pk])
    calls = sight.rows(CallNote.objects.filter(**{of: called}), user)
    for call in calls.select_related("by", "undone_by"):
        yield story.Telling(
            call.made,
            story.Kind.CALL,
            _words(call),
            link=link,
            note=call.note,
            is_void=call.undone is not None,
        )


def _words(call):
    by = call.by or _("Somebody who has left")
    if call.outcome == CallNote.Outcome.NO_ANSWER:
        words = _("{by} called: no answer.").format(by=by)
    else:
        words = _("{by} called.").format(by=by)
    if call.again is not None:
        day = date_format(call.again, "F j, Y")
        words += _(" To be called again on {day}.").format(day=day)
    if call.undone is not None:
        who = call.undone_by or _("somebody who has left")
        words += _(" Undone by {who}: it does not count.").format(who=who)
    return words
