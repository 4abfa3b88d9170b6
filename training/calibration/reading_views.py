"""Short readings on the rules that an officer called wrong in a round."""

import uuid

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from rigs.words.say import gettext_lazy
from training.course.onward import Onward, leads_on
from training.exercises.kinds.base import HARDEST
from training.people import sight
from training.recall import sets
from training.recall.models import ReadingSet

from . import recalled
from .models import Turn

EACH = 2
NOTHING = gettext_lazy(
    "None of these rules can be asked as a reading today. Practice on rigs instead."
)


@require_POST
@sight.officers
def readings(request, pk):
    """Open the readings after a turn, near misses all of them."""
    turns = Turn.objects.select_related("round").prefetch_related("calls")
    turn = get_object_or_404(sight.own(turns, request.user), pk=pk, handed_in__isnull=False)
    try:
        found = sets.open_set(
            request.user,
            ReadingSet.Purpose.ROUND,
            recalled.missed(turn),
            subject=str(turn.pk),
            difficulty=HARDEST,
            each=EACH,
            key=uuid.uuid4(),
        )
    except sets.NothingToAsk:
        messages.info(request, NOTHING)
        return redirect("calibration:result", pk)
    return redirect("recall:set", found.pk)


@leads_on(ReadingSet.Purpose.ROUND)
def to_result(reading_set):
    return Onward(_("Back to the round"), reverse("calibration:result", args=[reading_set.subject]))
