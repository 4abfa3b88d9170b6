"""The tasks that are taken along, and their answers when they arrive."""

from django.contrib import messages
from django.http import JsonResponse
from django.shortcuts import get_object_or_404, redirect
from django.template.response import TemplateResponse
from django.utils import timezone
from django.utils.dateparse import parse_datetime
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from training.deck import signal
from training.deck.numbers import whole_number
from training.exercises import handing, kinds
from training.exercises.kinds.base import HARDEST
from training.exercises.models import Assignment, Attempt
from training.inbox.once import once
from training.people import sight

from . import sealing, setting

MOST_ARRIVED = 30
MOST_POINTS = 1000


@require_POST
@sight.signed_in
def set_tasks(request):
    """Set the tasks to take along; say how many there are."""
    found = setting.top_up(request.user)
    if request.accepts("text/html"):
        return redirect("exercises:sea")
    return JsonResponse({"tasks": len(found)})


@signal.opens
@never_cache
@sight.signed_in
@require_safe
def tasks(request):
    """List what is along, and what came back."""
    now = timezone.now()
    arrived = Attempt.objects.by(request.user).filter(noted__isnull=False)
    context = {
        "as_of": now.isoformat(),
        "along": [
            (each, kinds.KINDS[each.kind])
            for each in setting.along(request.user, timezone.localdate(now))
        ],
        "arrived": [
            (each, handing.kind_of(each.assignment))
            for each in arrived.select_related("assignment")[:MOST_ARRIVED]
        ],
        "of_each": setting.OF_EACH,
    }
    return TemplateResponse(request, "exercises/sea/tasks.html", context)


@signal.opens
@never_cache
@sight.owner
@once
def task(request, pk):
    """Show a task that is along; take in its answer when it arrives."""
    mine = sight.own(Assignment.objects.select_related("attempt"), request.user)
    assignment = get_object_or_404(mine, pk=pk, taken__isnull=False)
    if hasattr(assignment, "attempt"):
        return _answered(request, assignment.attempt)
    kind, made = handing.kind_of(assignment), handing.task_of(assignment)
    form = kind.form(made)(request.POST or None)
    if request.method == "POST" and form.is_valid():
        attempt = handing.hand_in(assignment, form.raw(), _moment(request), _points(request))
        return _answered(request, attempt, form.raw())
    context = {
        "layout": "exercises/sea/task.html",
        "helped": True,
        "kind": kind,
        "assignment": assignment,
        "task": made,
        "rulebook": made.rulebook,
        "hardest": HARDEST,
        "form": form,
        "shown": kind.shown(made),
        "told": sealing.told(assignment),
    }
    return TemplateResponse(request, kind.template, context)


def _answered(request, attempt, answer=None):
    """Lead to the ``attempt``; say so if it is not the ``answer`` that was sent, raw."""
    if request.method == "POST" and attempt.answer != (answer or _raw(request, attempt)):
        messages.warning(
            request,
            _(
                "This task was answered before. The first answer that arrived counts. "
                "This one is kept in what arrived, and earns no points."
            ),
        )
    return redirect("exercises:marked", attempt.pk)


def _raw(request, attempt):
    assignment = attempt.assignment
    form = handing.kind_of(assignment).form(handing.task_of(assignment))
    return form(request.POST).raw()


def _moment(request):
    """Return when the answer was given, by the phone's clock; None for one sent from a page."""
    try:
        found = parse_datetime(request.headers.get("Noted-At", ""))
    except ValueError:
        return None
    return found if found and found.tzinfo else None


def _points(request):
    """Return how many points the phone told; None if it told none."""
    told = whole_number(request.POST.get("told", ""))
    return told if told is not None and told <= MOST_POINTS else None


@signal.opens
@never_cache
@sight.owner
@require_safe
def key(request, pk):
    """Give what opens what is told of a task: kept on the phone apart from it."""
    mine = sight.own(Assignment.objects.all(), request.user)
    assignment = get_object_or_404(mine, pk=pk, taken__isnull=False)
    return JsonResponse({"secret": sealing.secret(assignment)})
