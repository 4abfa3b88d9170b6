"""Readings of a lesson: those at its end, and those by which it is passed unread."""

import uuid

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from rigs.words.say import gettext_lazy
from training.people import sight
from training.recall import course, sets
from training.recall.models import ReadingSet
from training.recall.remembered import KNOWN_ALREADY

from .progress import progress_for

NOTHING = gettext_lazy(
    "None of these rules can be asked today. Read the lesson, and come back later."
)


@require_POST
@sight.signed_in
def readings(request, slug):
    """Open the readings at the end of a lesson: the rules of it not answered right yet."""
    return open_readings(request, _state_or_404(request.user, slug))


def open_readings(request, state):
    """Open the readings left of a lesson, or all of them, and lead there."""
    rules = course.readings_of(state) or course.all_readings_of(state)
    return _open(request, rules, state.lesson.slug)


@require_POST
@sight.signed_in
def known(request, slug):
    """Open the readings by which a person who knows a lesson's rules passes it unread."""
    state = _state_or_404(request.user, slug)
    rules = course.all_readings_of(state)
    return _open(request, rules, slug, slug + KNOWN_ALREADY, each=state.each_to_pass)


def _state_or_404(user, slug):
    state = progress_for(user).of(slug)
    if state is None:
        raise Http404(_("There is no lesson called “{slug}” on your course.").format(slug=slug))
    return state


def _open(request, rules, slug, subject="", **options):
    try:
        found = sets.open_set(
            request.user,
            ReadingSet.Purpose.LESSON,
            rules,
            subject=subject or slug,
            key=uuid.uuid4(),
            **options,
        )
    except sets.NothingToAsk:
        messages.info(request, NOTHING)
        return redirect("lessons:detail", slug)
    return redirect("recall:set", found.pk)
