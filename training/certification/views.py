"""Sitting an exam: beginning it, task after task, looking it over, handing it in."""

import uuid

from django.contrib import messages
from django.http import Http404, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from training.deck.numbers import whole_number
from training.people import sight

from . import blueprints, by_rule, certificates, exams
from .fair import conditions, result, supervision
from .models import Exam, ExamTask, Requirements
from .spread import READING


@never_cache
@sight.signed_in
@require_safe
def mine(request):
    """List the certificates that the user can sit for, and the exams so far."""
    past = (
        sight.own(Exam.objects.filter(handed_in__isnull=False), request.user)
        .select_related("requirements", "certificate")
        .prefetch_related("corrections")
    )
    return render(
        request,
        "certification/mine.html",
        {
            "entries": [_entry(request.user, each) for each in exams.open_to(request.user)],
            "past": [(exam, exams.outcome(exam)) for exam in past],
        },
    )


def _entry(user, requirements):
    """Return what a page says of the exams of ``requirements`` to ``user``."""
    return {
        "requirements": requirements,
        "open": exams.open_exam(user, requirements),
        "hindrance": exams.hindrance(user, requirements),
        "attempts_left": exams.attempts_left(user, requirements),
        "tasks": sum(part.count for part in requirements.parts.all()),
        "granted": conditions.granted(user, requirements),
        "minutes": conditions.minutes_for(user, requirements),
        "held": certificates.held_of(user, requirements),
    }


@never_cache
@sight.signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def begin(request, slug):
    """Say what an exam asks and takes, and begin it, or go on with the one that is open."""
    requirements = get_object_or_404(Requirements, slug=slug)
    if request.method != "POST":
        must = [blueprints.title_of(key, requirements.rulebooks) for key in requirements.must_pass]
        context = {"entry": _entry(request.user, requirements), "must": must, "key": uuid.uuid4()}
        return render(request, "certification/begin.html", context)
    return _begin(request, requirements)


def _begin(request, requirements):
    try:
        key = uuid.UUID(request.POST.get("key", ""))
        code = request.POST.get("code", "").strip()
        if code:
            exam = supervision.begin(request.user, requirements, key, code)
        else:
            exam = exams.begin(request.user, requirements, key)
    except exams.MayNotBegin as error:
        messages.error(request, str(error))
        if code:  # to be typed again
            return redirect("certification:begin", requirements.slug)
        return redirect("certification:mine")
    except ValueError as error:
        raise Http404(_("An exam is started with a key.")) from error
    if exam.tasks.exclude(answer=None).exists():
        return redirect("certification:review", exam.pk)
    return redirect("certification:task", exam.pk, 1)


def _own(request, pk):
    """Return the user's own exam, handed in if its time is up."""
    mine = sight.own(Exam.objects.select_related("requirements"), request.user)
    exam = get_object_or_404(mine, pk=pk)
    exams.close_if_over(exam)
    return exam


def _is_script(request):
    return request.headers.get("Accept") == "application/json"


@never_cache
@sight.owner
def task(request, pk, number):
    """Show one task with the answer saved last; save another."""
    exam = _own(request, pk)
    found = get_object_or_404(ExamTask, exam=exam, number=number)
    if request.method == "POST":
        return _save(request, exam, found)
    if exam.handed_in:
        return redirect("certification:exam", exam.pk)
    made = exams.task_of(found)
    form = exams.kind_of(found).form(made)(initial=found.answer)
    return _show(request, exam, found, made, form)


def _too_long(request, exam, found, made, form):
    """Save nothing of an answer that nobody typed, and say so; what was saved before stays."""
    problem = _("This answer is too long to be saved. Shorten it, then save it again.")
    if _is_script(request):
        return JsonResponse({"problem": problem}, status=413)
    return _show(request, exam, found, made, form, problem=problem, status=413)


def _save(request, exam, found):
    revision = whole_number(request.POST.get("revision", ""))
    if revision is None:
        raise Http404(_("An answer must say which one it follows."))
    made = exams.task_of(found)
    form = exams.kind_of(found).form(made)(request.POST)
    if form.is_too_long:
        return _too_long(request, exam, found, made, form)
    onward = _after(exam, found)
    try:
        found.revision = exams.save(found, form.raw(), revision)
    except exams.ExamClosed as error:
        messages.error(request, str(error))
        place = reverse("certification:exam", args=[exam.pk])
        if _is_script(request):
            return JsonResponse({"problem": str(error), "go": place}, status=410)
        return redirect(place)
    except exams.StaleAnswer as error:
        if _is_script(request):
            return JsonResponse({"problem": str(error)}, status=409)
        found.refresh_from_db()
        return _show(request, exam, found, made, form, problem=str(error), status=409)
    if _is_script(request):
        ready = form.is_valid()
        # By the site's clock, as the end of the exam is: a phone's may be another.
        time = date_format(timezone.localtime(), "g:i a")
        return JsonResponse(
            {"revision": found.revision, "ready": ready, "go": onward, "time": time}
        )
    if form.is_valid():
        return redirect(onward)
    return _show(request, exam, found, made, form, saved=True)


def _after(exam, found):
    """Return where to go once the task is done: the next one, or the look over it all."""
    if exam.tasks.filter(number=found.number + 1).exists():
        return reverse("certification:task", args=[exam.pk, found.number + 1])
    return reverse("certification:review", args=[exam.pk])


def _show(request, exam, found, made, form, status=200, **told):
    kind = exams.kind_of(found)
    tasks = list(exam.tasks.all())
    context = {
        "layout": "certification/task.html",
        "kind": kind,
        "exam": exam,
        "exam_task": found,
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
@sight.owner
@require_safe
def review(request, pk):
    """Show which tasks are done, and what handing in means."""
    exam = _own(request, pk)
    if exam.handed_in:
        return redirect("certification:exam", exam.pk)
    tasks = list(exam.tasks.all())
    troubles = [(each, exams.trouble(each)) for each in tasks]
    left = [each for each, trouble in troubles if trouble]
    context = {
        "exam": exam,
        "tasks": tasks,
        "left": left,
        "first": left[0] if left else None,
        "unfit": [pair for pair in troubles if pair[1] and pair[0].answer is not None],
    }
    return render(request, "certification/review.html", context)


@require_POST
@sight.owner
def hand_in(request, pk):
    """Hand the exam in, once."""
    exams.hand_in(_own(request, pk))
    return redirect("certification:exam", pk)


@never_cache
@sight.owner
@require_safe
def exam(request, pk):
    """Show an exam marked, to whoever sat it and to staff."""
    found = Exam.objects.select_related("requirements", "user", "certificate")
    found = sight.rows(found, request.user)
    found = get_object_or_404(found, pk=pk)
    exams.close_if_over(found)
    if found.handed_in is None:
        if found.user != request.user:
            raise Http404(_("This exam is still being worked on."))
        return redirect("certification:review", pk)
    return show_exam(request, found)


def show_exam(request, found, status=200, **forms):
    """Render the marked exam ``found``; ``forms`` are those that were refused."""
    tasks = list(found.tasks.all())
    context = {
        "exam": found,
        "passed": exams.outcome(found),
        "own": found.user == request.user,
        "rules": by_rule.results(found, tasks),
        "tasks": [_graded(each) for each in tasks],
        "fair": result.about(request, found, **forms),
    }
    return render(request, "certification/exam.html", context, status=status)


def _graded(task):
    """Return what the result says of one ExamTask."""
    entry = {
        "task": task,
        "title": exams.kind_of(task).title,
        "wrong": [line for line in task.findings if not line["right"]],
        "right": [line for line in task.findings if line["right"]],
        # What was right could be read.
        "missing": "" if task.passed else exams.trouble(task),
    }
    if task.kind == READING:
        # Its one line says it all; the others have drawings, remarks and a question.
        return entry | {"rule": task.findings[0]["title"]}
    made = exams.task_of(task)
    return entry | {
        "ask": exams.kind_of(task).shown(made).get("ask"),
        "again": exams.marked(task),
    }
