"""Mixed practice: one button, and what comes next follows what was missed."""

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from rigs.words.say import gettext_lazy
from training.deck import signal
from training.exercises import handing, kinds
from training.exercises.models import Assignment, Attempt
from training.exercises.views import LEVELS
from training.people import sight

from . import mixing

PASSED_OVER = gettext_lazy("Passed over. It comes back after you turn in another task.")
LAST_LEFT = gettext_lazy("You passed over every other kind, so this one comes back now.")


@signal.opens
@never_cache
@sight.signed_in
@require_safe
def practice(request):
    """Offer the next task of mixed practice, and each kind by itself."""
    opened = sight.own(Assignment.objects.open(), request.user).filter(is_mixed=True)
    context = {
        "going_on": opened.filter(passed_over=None).first(),
        "kinds": _kinds(request.user),
        "levels": LEVELS,
    }
    return render(request, "exercises/practice.html", context)


def _kinds(user):
    """
    Return (kind, level, level of its open task or None) of each kind.

    The level is the one that the staircase would take next.
    """
    opened = sight.own(Assignment.objects.open(), user).values_list("kind", "difficulty")
    opened, latest = dict(opened), {}
    for kind, *told in Attempt.objects.by(user).values_list(
        "assignment__kind", "assignment__difficulty", "passed"
    ):
        latest.setdefault(kind, []).append(tuple(told))
    return [
        (kind, handing.staircase(latest.get(kind.slug, [])), opened.get(kind.slug))
        for kind in kinds.KINDS.values()
    ]


@require_POST
@sight.signed_in
def next_task(request):
    """Lead to the next task of mixed practice."""
    return _to_next(request)


@require_POST
@sight.owner
def pass_over(request, pk):
    """Pass over a task of mixed practice and lead to the next."""
    assignment = get_object_or_404(sight.own(Assignment.objects.all(), request.user), pk=pk)
    if mixing.pass_over(assignment):
        messages.info(request, PASSED_OVER)
    return _to_next(request, after=assignment)


def _to_next(request, after=None):
    try:
        found = mixing.next_assignment(request.user)
    except handing.NoRules:
        messages.warning(request, _("No task can be set today. Read a lesson until then."))
        return redirect("exercises:list")
    if found == after:
        messages.info(request, LAST_LEFT)
    return redirect("exercises:do", found.kind)
