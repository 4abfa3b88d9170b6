"""A task without an account: set, answered, graded; and what is kept of it."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from rigs.rules import rulebook
from training.exercises import handing, kinds
from training.exercises.kinds.base import EASIEST, HARDEST
from training.exercises.views import point_by_point
from training.people import limits, sight

from . import bringing, tasks
from .kept import Kept

ANSWERS = limits.Load("trying.answer", most=300, minutes=10)


def _kind_or_404(slug):
    try:
        return kinds.get(slug)
    except KeyError as error:
        raise Http404(_("There is no exercise called {slug}.").format(slug=slug)) from error


@sight.anyone
@require_safe
def kinds_to_try(request):
    """List what can be tried."""
    if request.user.is_authenticated:
        return redirect("exercises:list")
    context = {"kinds": tasks.offered(), "kept": Kept(request.session)}
    return render(request, "trying/kinds.html", context)


@never_cache
@sight.anyone
@require_http_methods(["GET", "HEAD", "POST"])
def task(request, slug):
    """Set a task to somebody without an account; take in the answer."""
    kind = _kind_or_404(slug)
    if request.user.is_authenticated:
        return redirect("exercises:do", kind.slug)
    kept = Kept(request.session)
    if request.method == "POST":
        return _hand_in(request, kept)
    if kept.is_full:
        return redirect("trying:kept")
    try:
        return _set(request, tasks.draw(kind, kept.answers))
    except handing.NoRules:
        today = timezone.localdate()
        books = [rulebook.nearest(name, today) for name in kind.rulebooks[EASIEST]]
        return render(request, "exercises/no_rules.html", {"kind": kind, "books": books})


def _set(request, assignment, form=None):
    kind, made = handing.kind_of(assignment), handing.task_of(assignment)
    context = {
        "layout": "trying/task.html",
        "helped": True,
        "kind": kind,
        "assignment": assignment,
        "signed": tasks.signed(assignment),
        "task": made,
        "rulebook": made.rulebook,
        "hardest": HARDEST,
        "form": form or kind.form(made)(),
        "shown": kind.shown(made),
    }
    return render(request, kind.template, context)


def _hand_in(request, kept):
    if ANSWERS.is_reached(request):
        return limits.ask_to_wait(request, ANSWERS)
    try:
        assignment = tasks.named(request.POST.get("task", ""))
    except tasks.Stale:
        messages.warning(request, _("That task is too old to turn in. Here is a new one."))
        return redirect(request.path)
    form = handing.kind_of(assignment).form(handing.task_of(assignment))(request.POST)
    if not form.is_valid():
        return _set(request, assignment, form)
    recipe = tasks.recipe(assignment)
    if kept.is_full and not kept.has(recipe):
        return redirect("trying:kept")
    return redirect("trying:marked", kept.answer(recipe, form.raw()))


@never_cache
@sight.anyone
@require_safe
def marked(request, number):
    """Show an answer that was kept, graded."""
    kept = Kept(request.session)
    if not 0 < number <= len(kept.answers):
        raise Http404(_("Nothing is kept here any more."))
    attempt = tasks.attempt(kept.answers[number - 1])
    context = {
        "kind": handing.kind_of(attempt.assignment),
        "rulebook": attempt.assignment.rulebook,
        "kept": kept,
        **point_by_point(attempt),
    }
    return render(request, "trying/marked.html", context)


@never_cache
@sight.anyone
@require_safe
def kept(request):
    """Show what is kept, and the ways to have it on one's record or to have it forgotten."""
    found = Kept(request.session)
    rows = [tasks.attempt(entry) for entry in found.answers]
    named = [(attempt, handing.kind_of(attempt.assignment)) for attempt in rows]
    return render(request, "trying/kept.html", {"kept": found, "answers": named})


@require_POST
@sight.anyone
def forget(request):
    """Keep nothing any more."""
    Kept(request.session).forget()
    messages.success(request, _("Forgotten. Nothing of what you tried is kept."))
    return redirect("home")


@require_POST
@sight.signed_in
def take_along(request):
    """Put what was kept before on the record of whoever is signed in."""
    bringing.bring(request)
    return redirect("home")
