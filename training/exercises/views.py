"""Doing an exercise, handing it in, and seeing it marked."""

from contextlib import suppress

from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST

from rigs.rules import rulebook
from rigs.words.say import gettext_lazy
from training.deck.numbers import whole_number
from training.lessons import passages
from training.lessons.loader import all_lessons
from training.people import sight

from . import handing, kinds
from .kinds.base import EASIEST, HARDEST
from .models import Assignment, Attempt

LEVELS = range(EASIEST, HARDEST + 1)
NO_TASK = gettext_lazy("No task of this kind and level can be set today. Choose another.")


def _kind_or_404(slug, version=None):
    try:
        return kinds.get(slug, version)
    except KeyError as error:
        raise Http404(_("There is no exercise called {slug}.").format(slug=slug)) from error


def _lesson_with(kind, role):
    """Return the first lesson on the course of ``role`` that has this exercise, None if none."""
    lessons = (each for each in all_lessons() if kind.is_met_in(each) and each.is_for(role))
    return next(lessons, None)


def _lesson_for(assignment, kind, role):
    """Return the lesson to go back to: on the rule the task turned on, or with such exercises."""
    taught = [passages.lesson_on(key, role) for key in assignment.focus]
    return next(filter(None, taught), None) or _lesson_with(kind, role)


@never_cache
@sight.signed_in
def do(request, slug):
    """Show the open task; take in the answer."""
    kind = _kind_or_404(slug)
    if request.method == "POST":
        return _hand_in(request, kind)
    try:
        assignment = handing.open_assignment(request.user, kind)
    except handing.NoRules:
        return _no_rules(request, kind)
    task, kind = handing.task_of(assignment), handing.kind_of(assignment)
    return _set(request, kind, assignment, task, kind.form(task)())


def _no_rules(request, kind):
    """Say that no task can be set today, and by which rules it would be."""
    difficulty = handing.next_difficulty(request.user, kind)
    today = timezone.localdate()
    books = [rulebook.nearest(name, today) for name in kind.rulebooks[difficulty]]
    return render(request, "exercises/no_rules.html", {"kind": kind, "books": books})


def _hand_in(request, kind):
    pk = whole_number(request.POST.get("assignment", ""))
    if pk is None:
        raise Http404(_("An answer must say which task it belongs to."))
    mine = sight.own(Assignment.objects.select_related("attempt"), request.user)
    assignment = get_object_or_404(mine, pk=pk, kind=kind.slug)
    # The button pressed twice: the first answer stands.
    if hasattr(assignment, "attempt"):
        return redirect("exercises:marked", assignment.attempt.pk)
    task = handing.task_of(assignment)
    kind = handing.kind_of(assignment)
    form = kind.form(task)(request.POST)
    if not form.is_valid():
        return _set(request, kind, assignment, task, form)
    attempt = handing.hand_in(assignment, form.raw())
    return redirect("exercises:marked", attempt.pk)


def _set(request, kind, assignment, task, form):
    return render(
        request,
        kind.template,
        {
            "layout": "exercises/do.html",
            "helped": True,
            "kind": kind,
            "assignment": assignment,
            "task": task,
            "rulebook": task.rulebook,
            "hardest": HARDEST,
            "form": form,
            "shown": kind.shown(task),
        },
    )


def point_by_point(attempt):
    """Return what "exercises/point_by_point.html" shows of ``attempt``, as template context."""
    return {
        "attempt": attempt,
        "again": handing.remark(attempt),
        "right": [line for line in attempt.findings if line["right"]],
        "wrong": [line for line in attempt.findings if not line["right"]],
    }


@sight.owner
def marked(request, pk):
    """Show an attempt marked, to whoever made it and to staff."""
    attempts = Attempt.objects.select_related("assignment__user")
    attempt = get_object_or_404(sight.rows(attempts, request.user), pk=pk)
    kind = _kind_or_404(attempt.assignment.kind, attempt.assignment.kind_version)
    return render(
        request,
        "exercises/marked.html",
        {
            "kind": kind,
            "assignment": attempt.assignment,
            "rulebook": attempt.assignment.rulebook,
            "own": attempt.assignment.user == request.user,
            **point_by_point(attempt),
            "lesson": _lesson_for(attempt.assignment, kind, request.user.role),
        },
    )


@require_POST
@sight.signed_in
def another(request, slug):
    """Set another task, unless one is open already, and go there."""
    kind = _kind_or_404(slug)
    with suppress(handing.NoRules):  # the page that is shown next says so
        handing.open_assignment(request.user, kind)
    return redirect("exercises:do", kind.slug)


@require_POST
@sight.signed_in
def at_level(request, slug):
    """Go to the task of a kind that is open at a chosen level, setting one if need be."""
    kind = _kind_or_404(slug)
    level = request.POST.get("level", "")
    if level not in map(str, LEVELS):
        raise Http404(_("There is no such level."))
    try:
        handing.open_at(request.user, kind, int(level))
    except handing.NoRules:
        messages.warning(request, NO_TASK)
        return redirect("exercises:list")
    return redirect("exercises:do", kind.slug)
