"""Does the paper measure? What staff see of a scheme's figures, and where its pass mark goes."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_safe

from rigs.statistics.items import ENOUGH_ANSWERS, MeasureError, gathered
from rigs.statistics.standard import StandardError
from rigs.statistics.steadiness import NothingToTell, error_at_cut, steadiness
from training.people.access import staff_required

from . import paper_marks, samples, schemes
from .models import Scheme, SchemePart
from .paper_forms import JudgementForm
from .paper_report import item_reports, report


@never_cache
@staff_required
@require_safe
def measures(request):
    """List the schemes, with the way to the figures of each."""
    return render(request, "certification/measures.html", {"schemes": Scheme.objects.all()})


@never_cache
@staff_required
@require_safe
def measure(request, slug):
    """Show what the answers to a scheme's papers say about the exam."""
    scheme = get_object_or_404(Scheme, slug=slug)
    context = {"scheme": scheme, "enough": ENOUGH_ANSWERS}
    papers = paper_marks.first_sittings(scheme)
    try:
        pool = paper_marks.pool_of(papers)
    except MeasureError as error:
        context["nothing"] = str(error)
    else:
        misses = paper_marks.misses(papers)
        kinds = item_reports(gathered(pool, paper_marks.by_kind))
        context |= {
            # Seeded by the scheme, so that the same papers show the same interval.
            "report": report(pool, seed=scheme.pk),
            "rules": item_reports(gathered(pool, paper_marks.by_rule)),
            "kinds": [(each, misses[each.item]) for each in kinds],
            **_verdicts(papers, seed=scheme.pk),
        }
    return render(request, "certification/measure.html", context)


def _verdicts(papers, seed):
    """Return what the page says of the verdicts on those whose exams were alike."""
    taken = paper_marks.taken_alike(papers)
    if taken is None:
        return {"unsteady": "No exam in which each question gives one point was turned in yet."}
    questions, needed = sum(taken.exam.asked), taken.exam.needed
    found = {
        "alike": len(taken.right),
        "questions": questions,
        "needed": needed,
        "cut_error": error_at_cut(needed, questions) if questions > 1 else None,
    }
    if len(taken.right) < ENOUGH_ANSWERS:
        few = f"It takes {ENOUGH_ANSWERS} people who took exams alike; there are {found['alike']}."
        return found | {"unsteady": f"Too few to tell. {few}"}
    try:
        return found | {"steady": steadiness(taken.right, taken.exam, seed)}
    except NothingToTell as error:
        return found | {"unsteady": str(error)}


@never_cache
@staff_required
@require_http_methods(["GET", "HEAD", "POST"])
def angoff(request, slug):
    """Let a judge say what to expect of each part, and show where that puts the pass mark."""
    scheme = get_object_or_404(Scheme, slug=slug)
    parts = scheme.parts.all()
    mine = paper_marks.judgements_of(scheme).get(request.user, {})
    if request.method == "POST":
        form = JudgementForm(request.POST, parts=parts)
        if form.is_valid():
            paper_marks.judge(scheme, request.user, form.shares)
            messages.success(request, "Your answers are saved.")
            return redirect("certificates:angoff", scheme.slug)
    else:
        initial = {f"part_{part.pk}": f"{share * 100:g}" for part, share in mine.items()}
        form = JudgementForm(parts=parts, initial=initial)
    shown = [(paper_marks.title_of(part.kind), part, samples.numbers(part)) for part in parts]
    context = {"scheme": scheme, "form": form, "samples": shown}
    # Whoever has not judged yet does not see what others said: he would lean on it.
    if parts and all(part in mine for part in parts):
        context |= _panel(scheme)
    return render(request, "certification/angoff.html", context, status=422 if form.errors else 200)


@never_cache
@staff_required
@require_safe
def sample(request, slug, part, number):
    """Show a judge one question of a part as the exam asks it, with a right answer to open."""
    part = get_object_or_404(
        SchemePart.objects.select_related("scheme"), pk=part, scheme__slug=slug
    )
    try:
        found = samples.sample(part, number)
    except IndexError as error:
        raise Http404("There is no such sample.") from error
    except schemes.SchemeError as error:
        messages.error(request, f"No question can be made right now. {error}")
        return redirect("certificates:angoff", slug)
    context = {
        "layout": "certification/sample.html",
        "scheme": part.scheme,
        "part": part,
        "number": number,
        "others": samples.numbers(part),
        "count": len(samples.numbers(part)),
        "kind": found.kind,
        "task": found.task,
        "rulebook": found.task.rulebook,
        "form": found.kind.form(found.task)(),
        "shown": found.kind.shown(found.task),
        "right": found.right,
    }
    return render(request, found.kind.template, context)


def _panel(scheme):
    try:
        found = paper_marks.panel(scheme)
    except StandardError as error:
        return {"nothing": str(error)}
    papers = paper_marks.first_sittings(scheme)
    return {
        "panel": found,
        "items": [(paper_marks.title_of(each.item.kind), each) for each in found.items],
        "would_pass": paper_marks.would_pass(papers, found.cut),
        "pass_now": paper_marks.would_pass(papers, scheme.pass_percent / 100),
    }
