"""What staff do with schemes and papers: compose, look over, correct."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import Sum
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from training.accounts.access import staff_required
from training.exercises import kinds
from training.fleet.reach import those_of_people_within

from . import audit, papers
from . import schemes as blueprints
from .forms import CorrectionForm, SchemeForm
from .models import Paper, Scheme
from .views import show_paper

PAPERS_A_PAGE = 25


@never_cache
@staff_required
@require_safe
def schemes(request):
    """List the schemes."""
    found = Scheme.objects.annotate(tasks=Sum("parts__count"))
    return render(request, "certification/schemes.html", {"schemes": found})


@never_cache
@staff_required
def new_scheme(request):
    """Compose a scheme."""
    return _edit(request, None)


@never_cache
@staff_required
def change_scheme(request, slug):
    """Change a scheme; papers begun already keep the terms they had."""
    return _edit(request, get_object_or_404(Scheme, slug=slug))


def _edit(request, scheme):
    form = SchemeForm(request.POST or None, instance=scheme)
    if request.method == "POST" and form.is_valid():
        saved = form.save()
        messages.success(request, "Saved. The requirements apply to exams started from now on.")
        return redirect("certification:scheme", saved.slug)
    context = {"form": form, "slug": scheme.slug if scheme else None}
    return render(
        request, "certification/scheme_form.html", context, status=422 if form.errors else 200
    )


def _rows(slots, names):
    """Yield the blueprint as rows of text, one a task."""
    for number, slot in enumerate(slots, 1):
        yield {
            "number": number,
            "title": kinds.get(slot.kind).title,
            "difficulty": slot.difficulty,
            "rulebook": blueprints.book_of(slot.rulebook).title,
            "focus": [blueprints.title_of(key, names) for key in slot.focus],
        }


@never_cache
@staff_required
@require_safe
def scheme(request, slug):
    """Show what every paper of a scheme holds, and the papers so far."""
    found = get_object_or_404(Scheme, slug=slug)
    try:
        slots, problem = blueprints.of_scheme(found), ""
    except blueprints.SchemeError as error:
        slots, problem = (), str(error)
    handed_in = (
        Paper.objects.filter(scheme=found, handed_in__isnull=False)
        .order_by("-handed_in", "-pk")
        .select_related("user")
        .prefetch_related("corrections")
    )
    handed_in = those_of_people_within(handed_in, request.user, "user")
    page = Paginator(handed_in, PAPERS_A_PAGE).get_page(request.GET.get("page"))
    context = {
        "scheme": found,
        "rows": list(_rows(slots, found.rulebooks)),
        "levels": blueprints.levels(slots),
        "problem": problem,
        "page": page,
        "papers": [(paper, papers.outcome(paper)) for paper in page.object_list],
    }
    return render(request, "certification/scheme.html", context)


@require_POST
@staff_required
def correct(request, pk):
    """Add a correction to a paper; the paper itself is not touched."""
    found = get_object_or_404(
        those_of_people_within(
            Paper.objects.select_related("scheme", "user", "certificate"), request.user, "user"
        ),
        pk=pk,
        handed_in__isnull=False,
    )
    form = CorrectionForm(request.POST)
    if not form.is_valid():
        return show_paper(request, found, form, status=422)
    audit.correct(found, by=request.user, **form.cleaned_data)
    messages.success(request, "The correction is saved. The points do not change.")
    return redirect("certification:paper", pk)
