"""Sitting a paper: beginning it, task after task, looking it over, handing it in."""

import uuid

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from training.people.reach import those_of_people_within

from . import by_rule, papers, schemes
from .fair import conditions, result, supervision
from .models import Paper, PaperTask, Scheme
from .spread import READING


@never_cache
@login_required
@require_safe
def mine(request):
    """List the certificates that the user can sit for, and the papers so far."""
    entries = []
    for scheme in papers.open_to(request.user):
        entries.append(
            {
                "scheme": scheme,
                "open": papers.open_paper(request.user, scheme),
                "hindrance": papers.hindrance(request.user, scheme),
                "attempts_left": papers.attempts_left(request.user, scheme),
                "tasks": sum(part.count for part in scheme.parts.all()),
                "must": [schemes.title_of(key, scheme.rulebooks) for key in scheme.must_pass],
                "key": uuid.uuid4(),
                "granted": conditions.granted(request.user, scheme),
                "minutes": conditions.minutes_for(request.user, scheme),
            }
        )
    past = (
        Paper.objects.filter(user=request.user, handed_in__isnull=False)
        .select_related("scheme", "certificate")
        .prefetch_related("corrections")
    )
    return render(
        request,
        "certification/mine.html",
        {"entries": entries, "past": [(paper, papers.outcome(paper)) for paper in past]},
    )


@require_POST
@login_required
def begin(request, slug):
    """Begin a paper, or go on with the one that is open."""
    scheme = get_object_or_404(Scheme, slug=slug)
    try:
        key = uuid.UUID(request.POST.get("key", ""))
        code = request.POST.get("code", "").strip()
        if code:
            paper = supervision.begin(request.user, scheme, key, code)
        else:
            paper = papers.begin(request.user, scheme, key)
    except papers.MayNotBegin as error:
        messages.error(request, str(error))
        return redirect("certification:mine")
    except ValueError as error:
        raise Http404("An exam is started with a key.") from error
    return redirect("certification:review", paper.pk)


def _own(request, pk):
    """Return the user's own paper, handed in if its time is up."""
    paper = get_object_or_404(Paper.objects.select_related("scheme"), pk=pk, user=request.user)
    papers.close_if_over(paper)
    return paper


def _is_script(request):
    return request.headers.get("Accept") == "application/json"


@never_cache
@login_required
def task(request, pk, number):
    """Show one task with the answer saved last; save another."""
    paper = _own(request, pk)
    found = get_object_or_404(PaperTask, paper=paper, number=number)
    if request.method == "POST":
        return _save(request, paper, found)
    if paper.handed_in:
        return redirect("certification:paper", paper.pk)
    made = papers.task_of(found)
    form = papers.kind_of(found).form(made)(initial=found.answer)
    return _show(request, paper, found, made, form)


def _save(request, paper, found):
    revision = request.POST.get("revision", "")
    if not revision.isdecimal():
        raise Http404("An answer must say which one it follows.")
    made = papers.task_of(found)
    form = papers.kind_of(found).form(made)(request.POST)
    onward = _after(paper, found)
    try:
        found.revision = papers.save(found, form.raw(), int(revision))
    except papers.PaperClosed as error:
        messages.error(request, str(error))
        place = reverse("certification:paper", args=[paper.pk])
        if _is_script(request):
            return JsonResponse({"problem": str(error), "go": place}, status=410)
        return redirect(place)
    except papers.StaleAnswer as error:
        if _is_script(request):
            return JsonResponse({"problem": str(error)}, status=409)
        found.refresh_from_db()
        return _show(request, paper, found, made, form, problem=str(error), status=409)
    if _is_script(request):
        ready = form.is_valid()
        return JsonResponse({"revision": found.revision, "ready": ready, "go": onward})
    if form.is_valid():
        return redirect(onward)
    return _show(request, paper, found, made, form, saved=True)


def _after(paper, found):
    """Return where to go once the task is done: the next one, or the look over it all."""
    if paper.tasks.filter(number=found.number + 1).exists():
        return reverse("certification:task", args=[paper.pk, found.number + 1])
    return reverse("certification:review", args=[paper.pk])


def _show(request, paper, found, made, form, status=200, **told):
    kind = papers.kind_of(found)
    tasks = list(paper.tasks.all())
    context = {
        "layout": "certification/task.html",
        "kind": kind,
        "paper": paper,
        "paper_task": found,
        "tasks": tasks,
        "answered": sum(each.answer is not None for each in tasks),
        "before": found.number - 1,
        "after": found.number + 1 if found.number < len(tasks) else None,
        "task": made,
        "rulebook": made.rulebook,
        "form": form,
        "shown": kind.shown(made),
        **told,
    }
    return render(request, kind.template, context, status=status)


@never_cache
@login_required
@require_safe
def review(request, pk):
    """Show which tasks are done, and what handing in means."""
    paper = _own(request, pk)
    if paper.handed_in:
        return redirect("certification:paper", paper.pk)
    tasks = list(paper.tasks.all())
    troubles = [(each, papers.trouble(each)) for each in tasks]
    left = [each for each, trouble in troubles if trouble]
    context = {
        "paper": paper,
        "tasks": tasks,
        "left": left,
        "first": left[0] if left else None,
        "unfit": [pair for pair in troubles if pair[1] and pair[0].answer is not None],
    }
    return render(request, "certification/review.html", context)


@require_POST
@login_required
def hand_in(request, pk):
    """Hand the paper in, once."""
    papers.hand_in(_own(request, pk))
    return redirect("certification:paper", pk)


@never_cache
@login_required
@require_safe
def paper(request, pk):
    """Show a paper marked, to whoever sat it and to staff."""
    found = Paper.objects.select_related("scheme", "user", "certificate")
    if request.user.is_staff:
        found = those_of_people_within(found, request.user, "user")
    else:
        found = found.filter(user=request.user)
    found = get_object_or_404(found, pk=pk)
    papers.close_if_over(found)
    if found.handed_in is None:
        if found.user != request.user:
            raise Http404("This exam is still being worked on.")
        return redirect("certification:review", pk)
    return show_paper(request, found)


def show_paper(request, found, status=200, **forms):
    """Render the marked paper ``found``; ``forms`` are those that were refused."""
    tasks = list(found.tasks.all())
    context = {
        "paper": found,
        "passed": papers.outcome(found),
        "own": found.user == request.user,
        "rules": by_rule.results(found, tasks),
        "tasks": [_graded(each) for each in tasks],
        "fair": result.about(request, found, **forms),
    }
    return render(request, "certification/paper.html", context, status=status)


def _graded(task):
    """Return what the result says of one PaperTask."""
    entry = {
        "task": task,
        "title": papers.kind_of(task).title,
        "wrong": [line for line in task.findings if not line["right"]],
        "right": [line for line in task.findings if line["right"]],
        # What was right could be read.
        "missing": "" if task.passed else papers.trouble(task),
    }
    if task.kind == READING:
        # Its one line says it all; the others have drawings, remarks and a question.
        return entry | {"rule": task.findings[0]["title"]}
    made = papers.task_of(task)
    return entry | {
        "ask": papers.kind_of(task).shown(made).get("ask"),
        "again": papers.marked(task),
    }
