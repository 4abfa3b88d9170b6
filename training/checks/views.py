"""Check sheets in plain pages: list, show, fill in step by step, hand in, correct, print."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.db import transaction
from django.http import FileResponse, Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from rigs.check import printed
from rigs.check import sheet as sheets
from rigs.check.steps import steps
from rigs.rules import rulebook, wording
from rigs.rules.lapse import is_lapsed
from training.people import sight

from . import keeping, photos, prints
from .finding import own_sheet, seen_sheet
from .forms import CorrectionForm, NotesForm, QuestionsForm
from .head_form import StartForm, content_of_head
from .models import CheckPhoto, CheckSheet

SHEETS_A_PAGE = 30
NOTES = "notes"
"""The last step: notes and photos."""


@never_cache
@sight.officers
@require_safe
def checks(request):
    """List the check sheets that whoever asks may see."""
    found = sight.rows(CheckSheet.objects.select_related("officer"), request.user)
    page = Paginator(found, SHEETS_A_PAGE).get_page(request.GET.get("page"))
    today = timezone.localdate()
    books = rulebook.gear_books(today)
    lapsed = [book for book in rulebook.nearest_gear_books(today) if is_lapsed(book, today)]
    return render(request, "checks/checks.html", {"page": page, "books": books, "lapsed": lapsed})


def _told(findings, so_far):
    return [{"finding": each, "so_far": sheets.so_far(each.key, so_far)} for each in findings]


@never_cache
@sight.officers
@require_safe
def check(request, key):
    """Show a sheet: what was measured against what the clauses allow, and its history."""
    sheet = seen_sheet(request, key)
    verdict, read = sheet.verdict, sheet.read
    context = {
        "sheet": sheet,
        "is_own": sheet.officer_id == request.user.pk,
        "rulebook": sheet.rulebook,
        "findings": _told(verdict.failed + verdict.not_measured + verdict.passed, read.so_far),
        "customs": _told(verdict.customs, read.so_far),
        "from_memory": wording.about_memory(verdict.findings),
        "unread": len(read.unread),
        "history": sheet.revisions.order_by("-received", "-pk"),
        "first_step": steps(sheet.rulebook)[0].slug,
    }
    return render(request, "checks/check.html", context)


@never_cache
@sight.officers
@require_http_methods(["GET", "POST"])
def check_new(request):
    """Start a sheet; the same form sent twice makes one."""
    form = StartForm(request.POST or None)
    if not form.is_valid():
        return render(request, "checks/check_new.html", {"form": form})
    content = content_of_head(form) | {"typed": {}, "photo_keys": [], "notes": ""}
    try:
        sheet = keeping.keep(request.user, form.cleaned_data["key"], keeping.SITE, 1, content)
    except keeping.NotTheirs as error:
        raise Http404 from error
    return redirect("checks:check_step", sheet.key, steps(sheet.rulebook)[0].slug)


def _open_sheet(request, key):
    sheet = own_sheet(request, key)
    if sheet.finished:
        raise Http404(_("A sheet that was turned in is corrected, not filled in."))
    return sheet


def _around(walk, slug):
    """Return (step before, step after) ``slug`` in ``walk``; None beyond the ends."""
    if slug not in walk:
        raise Http404(_("There is no such step on this sheet."))
    at = walk.index(slug)
    return (walk[at - 1] if at else None), (walk[at + 1] if at + 1 < len(walk) else None)


@never_cache
@sight.officers
@require_http_methods(["GET", "POST"])
def check_step(request, key, slug):
    """Fill in one step, or the notes at the end; saving leads on to the next."""
    sheet = _open_sheet(request, key)
    found = steps(sheet.rulebook)
    walk = [step.slug for step in found] + [NOTES]
    before, after = _around(walk, slug)
    context = {
        "sheet": sheet,
        "rulebook": sheet.rulebook,
        "before": before,
        "number": walk.index(slug) + 1,
        "of": len(walk),
    }
    if slug == NOTES:
        return _notes(request, sheet, context)
    step = found[walk.index(slug)]
    form = QuestionsForm(request.POST or None, questions=step.questions, typed=sheet.typed)
    if request.method == "POST" and form.is_valid():
        keeping.change(sheet, typed=form.typed)
        return redirect("checks:check_step", sheet.key, after)
    return render(request, "checks/check_step.html", context | {"step": step, "form": form})


def _notes(request, sheet, context):
    form = NotesForm(request.POST or None, request.FILES or None, initial={"notes": sheet.notes})
    if request.method == "POST" and form.is_valid():
        photo = form.cleaned_data["photo"]
        keys = list(sheet.photo_keys)
        try:
            if photo:
                key = form.cleaned_data["photo_key"]
                keeping.add_photo(sheet, key, photos.fit(photo))
                keys += [str(key)] if str(key) not in keys else []
        except (photos.PhotoError, keeping.NotTheirs) as error:
            form.add_error(
                "photo", str(error) or _("That photo belongs to another sheet. Add it again.")
            )
        else:
            notes = form.cleaned_data["notes"]
            keeping.change(sheet, notes=notes, photo_keys=keys)
            return redirect(sheet)
    return render(request, "checks/check_notes.html", context | {"form": form})


@sight.officers
@require_POST
def check_hand_in(request, key):
    """Hand a sheet in: from then on it is corrected, not changed."""
    sheet = own_sheet(request, key)
    if sheet.unread:
        messages.error(request, _("Not turned in. Fix the marked answers first."))
    elif not sheet.finished:
        keeping.change(sheet, hands_in=True)
        messages.success(request, _("The sheet is turned in."))
    return redirect(sheet)


@never_cache
@sight.officers
@require_http_methods(["GET", "POST"])
def check_correct(request, key):
    """Correct a sheet that was handed in, with the reason why."""
    sheet = own_sheet(request, key)
    if not sheet.finished:
        return redirect(sheet)
    start = keeping.content_of(sheet) | sheet.head
    form = CorrectionForm(request.POST or None, sheet=sheet, initial=start)
    if request.method == "POST" and form.is_valid():
        changes = content_of_head(form) | {"notes": form.cleaned_data["notes"]}
        with transaction.atomic():
            keeping.change(sheet, reason=form.cleaned_data["reason"], typed=form.typed, **changes)
        messages.success(
            request, _("Correction saved. The sheet as it was turned in is in its history.")
        )
        return redirect(sheet)
    return render(request, "checks/check_correct.html", {"sheet": sheet, "form": form})


@never_cache
@sight.officers
@require_safe
def check_photo(request, key):
    """Send a photo to those who may see its sheet."""
    seen = sight.rows(CheckSheet.objects.all(), request.user)
    photo = get_object_or_404(CheckPhoto, key=key, sheet__in=seen)
    return FileResponse(photo.image.open(), content_type="image/jpeg")


def _pdf(data, name):
    return HttpResponse(
        data,
        content_type="application/pdf",
        headers={"Content-Disposition": f'attachment; filename="{slugify(name)}.pdf"'},
    )


@never_cache
@sight.officers
@require_safe
def check_pdf(request, key):
    """Print a sheet on one page."""
    sheet = seen_sheet(request, key)
    name = f"check {sheet.vessel_name} {sheet.day.isoformat()}"
    return _pdf(printed.filled(prints.filled(sheet)), name)


@sight.officers
@require_safe
def check_blank(request, name):
    """Print an empty sheet for the rule set ``name``, to be filled in by hand."""
    book = rulebook.find_in_force(name, timezone.localdate())
    if book is None or not book.lays_out_rig:
        raise Http404(_("These rules for gear have no version for today."))
    return _pdf(printed.blank(book), _("blank check {name}").format(name=name))
