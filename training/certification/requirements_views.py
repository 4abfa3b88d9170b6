"""What staff do with the requirements of certificates: compose, look over."""

from datetime import timedelta
from math import ceil

from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import Exists, OuterRef, Sum
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from training.deck.forms import posted
from training.people import factors, sight

from . import blueprints as blueprints
from . import changes, exams, expected, terms
from .fair import waiting
from .forms import RequirementsForm, TurnDownForm
from .models import Change, Exam, Requirements
from .motion import Motion

PAPERS_A_PAGE = 25
CHANGES_A_PAGE = 20


@never_cache
@sight.staff
@require_safe
def requirements_list(request):
    """List the requirements of all certificates."""
    waits = Change.objects.filter(requirements=OuterRef("pk"), outcome=Change.Outcome.WAITING)
    found = Requirements.objects.annotate(tasks=Sum("parts__count"), waiting=Exists(waits))
    context = {"requirements_list": found, "waiting": waiting.for_staff(request.user)}
    return render(request, "certification/requirements_list.html", context)


@never_cache
@sight.whole_fleet
def new_requirements(request):
    """Compose a set of requirements; it has exams once a second person approves it."""
    return _edit(request, None)


@never_cache
@sight.whole_fleet
def change_requirements(request, slug):
    """Propose a change to a set of requirements; exams begun already keep the terms they had."""
    found = get_object_or_404(Requirements, slug=slug)
    if change := changes.waiting(found):
        return redirect("certification:change", change.pk)
    return _edit(request, found)


def _edit(request, requirements):
    if found := changes.proposed(request.POST.get("key"), request.user):
        return redirect("certification:change", found.pk)
    form = RequirementsForm(posted(request), instance=requirements)
    is_trial = "try" in request.POST
    problem = ""
    if request.method == "POST" and form.is_valid() and not is_trial:
        try:
            change = changes.propose(
                requirements or Requirements(slug=form.instance.slug),
                form.terms(),
                Motion(request.user, form.cleaned_data["reason"], form.cleaned_data["key"]),
            )
        except changes.ChangeError as error:
            problem = str(error)
        else:
            messages.success(request, _("Saved. It applies once another staff member approves it."))
            return redirect("certification:change", change.pk)
    context = {
        "form": form,
        "slug": requirements.slug if requirements else None,
        "problem": problem,
    }
    refused = problem or (form.errors and not is_trial)
    if form.is_bound and form.plan:
        context |= _holds(form.like_requirements(), form.plan)
    elif requirements and not form.is_bound:
        context |= _what_it_holds(requirements)
    return render(
        request,
        "certification/requirements_form.html",
        context | {"is_trial": is_trial},
        status=422 if refused else 200,
    )


def _what_it_holds(requirements):
    """Return ``_holds`` of ``requirements``, or why no exam can be made of it."""
    try:
        return _holds(requirements, blueprints.of_requirements(requirements))
    except blueprints.RequirementsError as error:
        return {"impossible": str(error)}


def _holds(requirements, slots):
    """Return what the pages say about the exams of ``requirements``, saved or not."""
    return {
        "rows": blueprints.rows(slots, requirements.rulebooks, requirements.must_pass),
        "levels": blueprints.levels(slots),
        "total": len(slots),
        "minutes_needed": ceil(blueprints.time_needed(slots) / timedelta(minutes=1)),
        "minutes_allowed": requirements.minutes,
        "figures": expected.told(requirements, slots, timezone.localdate()),
    }


@never_cache
@sight.staff
@require_safe
def requirements(request, slug):
    """Show what every exam of a set of requirements holds, and the exams so far."""
    found = get_object_or_404(Requirements, slug=slug)
    handed_in = (
        Exam.objects.filter(requirements=found, handed_in__isnull=False)
        .order_by("-handed_in", "-pk")
        .select_related("user")
        .prefetch_related("corrections")
    )
    handed_in = sight.rows(handed_in, request.user)
    page = Paginator(handed_in, PAPERS_A_PAGE).get_page(request.GET.get("page"))
    context = {
        "requirements": found,
        "change": changes.waiting(found),
        "in_force": changes.is_in_force(found),
        "must": [blueprints.title_of(key, found.rulebooks) for key in found.must_pass],
        "page": page,
        "exams": [(exam, exams.outcome(exam)) for exam in page.object_list],
        **_what_it_holds(found),
    }
    return render(request, "certification/requirements.html", context)


@never_cache
@sight.staff
@require_safe
def history(request, slug):
    """Show every change of what a certificate asks: who, when, what and why."""
    found = get_object_or_404(Requirements, slug=slug)
    page = Paginator(found.changes.select_related("by", "decided_by"), CHANGES_A_PAGE)
    page = page.get_page(request.GET.get("page"))
    entries = [(each, terms.differences(each.was, each.terms)) for each in page.object_list]
    return render(
        request,
        "certification/changes.html",
        {"requirements": found, "page": page, "entries": entries},
    )


def _change(pk):
    return get_object_or_404(
        Change.objects.select_related("requirements", "by", "decided_by"), pk=pk
    )


@never_cache
@sight.whole_fleet
@require_safe
def change(request, pk):
    """Show one change of what a certificate asks, to be decided on if it waits."""
    return _show_change(request, _change(pk), TurnDownForm())


def _show_change(request, found, form, problem="", status=200):
    like = terms.like_requirements(found.terms, found.requirements.slug)
    hindrance = changes.hindrance(found, request.user) if found.waits else ""
    context = {
        "change": found,
        "differences": terms.differences(found.was, found.terms),
        "own": found.by == request.user,
        "hindrance": hindrance,
        "able": changes.able(found) if hindrance else [],
        "form": form,
        "problem": problem,
        **_what_it_holds(like),
    }
    return render(request, "certification/change.html", context, status=status)


@require_POST
@sight.whole_fleet
@factors.when_it_matters
def decide(request, pk, action):
    """Approve a change, turn it down or take it back."""
    found, form = _change(pk), TurnDownForm(request.POST if action == "turn-down" else None)
    try:
        if action == "approve":
            changes.approve(found, request.user)
            messages.success(request, _("Approved. It applies to exams started from now on."))
        elif action == "take-back":
            changes.take_back(found, request.user)
            messages.success(request, _("Taken back. The requirements stay as they are."))
        elif form.is_valid():
            changes.turn_down(found, request.user, form.cleaned_data["answer"])
            messages.success(request, _("Turned down. The requirements stay as they are."))
        else:
            return _show_change(request, found, form, status=422)
    except changes.ChangeError as error:
        return _show_change(request, _change(pk), form, str(error), status=409)
    return redirect("certification:change", pk)
