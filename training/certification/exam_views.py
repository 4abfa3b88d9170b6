"""Does the exam measure? Its figures as staff see them, and where its pass mark goes."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_safe

from rigs.statistics.items import ENOUGH_ANSWERS, MeasureError, gathered
from rigs.statistics.standard import StandardError
from rigs.statistics.steadiness import NothingToTell, error_at_cut, steadiness
from training.deck.downloads import table
from training.people import sight

from . import blueprints, exam_marks, judges, measure_table, samples
from .exam_forms import JudgementForm
from .exam_report import item_reports, report
from .models import Requirements, RequirementsPart


@never_cache
@sight.staff
@require_safe
def measures(request):
    """List the requirements of all certificates, with the way to the figures of each."""
    return render(
        request, "certification/measures.html", {"requirements_list": Requirements.objects.all()}
    )


@never_cache
@sight.staff
@require_safe
def measure(request, slug):
    """Show what the answers to a certificate's exams say about the exam."""
    requirements = get_object_or_404(Requirements, slug=slug)
    context = {"requirements": requirements, "enough": ENOUGH_ANSWERS}
    exams = exam_marks.first_sittings(requirements)
    try:
        pool = exam_marks.pool_of(exams)
    except MeasureError as error:
        context["nothing"] = str(error)
    else:
        misses = exam_marks.misses(exams)
        kinds = item_reports(gathered(pool, exam_marks.by_kind))
        context |= {
            # Seeded by the requirements, so that the same exams show the same interval.
            "report": report(pool, seed=requirements.pk),
            "rules": item_reports(gathered(pool, exam_marks.by_rule)),
            "kinds": [(each, misses[each.item]) for each in kinds],
            **_verdicts(exams, seed=requirements.pk),
        }
    return render(request, "certification/measure.html", context)


@never_cache
@sight.staff
@require_safe
def figures_table(request, slug, ending):
    """Download the figures of an exam, question by question, with how they weigh."""
    requirements = get_object_or_404(Requirements, slug=slug)
    try:
        pool = exam_marks.pool_of(exam_marks.first_sittings(requirements))
    except MeasureError:
        rows = ()
    else:
        found = report(pool, seed=requirements.pk, resamples=0)
        rows = measure_table.rows(pool, found, item_reports(pool))
    return table(ending, f"exam-{slug}-figures", measure_table.HEADER, rows)


def _verdicts(exams, seed):
    """Return what the page says of the verdicts on those whose exams were alike."""
    taken = exam_marks.taken_alike(exams)
    if taken is None:
        return {"unsteady": _("No exam in which each question gives one point was turned in yet.")}
    questions, needed = sum(taken.shape.asked), taken.shape.needed
    found = {
        "alike": len(taken.right),
        "questions": questions,
        "needed": needed,
        "cut_error": error_at_cut(needed, questions) if questions > 1 else None,
    }
    if len(taken.right) < ENOUGH_ANSWERS:
        few = _("It takes {ENOUGH_ANSWERS} people who took exams alike; there are {found}.").format(
            ENOUGH_ANSWERS=ENOUGH_ANSWERS, found=found["alike"]
        )
        return found | {"unsteady": _("Too few to tell. {few}").format(few=few)}
    try:
        return found | {"steady": steadiness(taken.right, taken.shape, seed)}
    except NothingToTell as error:
        return found | {"unsteady": str(error)}


@never_cache
@sight.whole_fleet
@require_http_methods(["GET", "HEAD", "POST"])
def angoff(request, slug):
    """Let a judge say what to expect of each part, and show where that puts the pass mark."""
    requirements = get_object_or_404(Requirements, slug=slug)
    parts = requirements.parts.all()
    mine = judges.judgements_of(requirements, alone=False).get(request.user, {})
    if request.method == "POST":
        form = JudgementForm(request.POST, parts=parts)
        if form.is_valid():
            judges.judge(requirements, request.user, form.shares)
            messages.success(request, _("Your answers are saved."))
            return redirect("certificates:angoff", requirements.slug)
    else:
        initial = {f"part_{part.pk}": f"{share * 100:g}" for part, share in mine.items()}
        form = JudgementForm(parts=parts, initial=initial)
    shown = [(blueprints.title_of_kind(part.kind), part, samples.numbers(part)) for part in parts]
    context = {"requirements": requirements, "form": form, "samples": shown}
    # Whoever has not judged yet does not see what others said: he would lean on it.
    if judges.may_see(requirements, request.user):
        context |= _panel(requirements)
        context["seen"] = judges.show(requirements, request.user)
    return render(request, "certification/angoff.html", context, status=422 if form.errors else 200)


@never_cache
@sight.whole_fleet
@require_safe
def sample(request, slug, part, number):
    """Show a judge one question of a part as the exam asks it, with a right answer to open."""
    part = get_object_or_404(
        RequirementsPart.objects.select_related("requirements"), pk=part, requirements__slug=slug
    )
    try:
        found = samples.sample(part, number)
    except IndexError as error:
        raise Http404(_("There is no such sample.")) from error
    except blueprints.RequirementsError as error:
        messages.error(request, _("No question can be made right now. {error}").format(error=error))
        return redirect("certificates:angoff", slug)
    context = {
        "layout": "certification/sample.html",
        "requirements": part.requirements,
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


def _panel(requirements):
    try:
        found, after = (judges.panel(requirements, alone) for alone in (True, False))
    except StandardError as error:
        return {"nothing": str(error)}
    exams = exam_marks.first_sittings(requirements)
    return {
        "panel": found,
        "after": after if after.by_judge != found.by_judge else None,
        "by_judge": [(judge, cut, after.by_judge[judge]) for judge, cut in found.by_judge.items()],
        "items": [(blueprints.title_of_kind(each.item.kind), each) for each in found.items],
        "would_pass": exam_marks.would_pass(exams, found.cut),
        "pass_now": exam_marks.would_pass(exams, requirements.pass_percent / 100),
    }
