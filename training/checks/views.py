"""Check sheets in plain pages: list, show, fill in step by step, hand in, print."""

import uuid

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import FileResponse, Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from rigs.check import printed, whole
from rigs.check.steps import steps
from rigs.requirements.questions import WHY_NOT
from rigs.rules import rulebook
from rigs.rules.lapse import is_lapsed
from rigs.rules.outcomes import NOT_MEASURED
from training.deck import signal
from training.deck.codes import in_groups
from training.deck.forms import posted
from training.people import sight

from . import keeping, known, photos, prints, shown
from .finding import own_sheet, seen_sheet
from .forms import NotesForm
from .head_form import VESSELS, HeadForm, StartForm, content_of_head
from .list_form import SheetFilterForm
from .models import CheckPhoto, CheckSheet, CheckThrown
from .step_form import WHY_NOT as WHY_NOT_LIST
from .step_form import StepForm

SHEETS_A_PAGE = 30
NOTES = "notes"
"""The last step: notes and photos."""


@signal.opens
@never_cache
@sight.officers
@require_safe
def checks(request):
    """List the check sheets that whoever asks may see."""
    form = SheetFilterForm(request.GET)
    found = form.found(sight.rows(CheckSheet.objects.select_related("officer"), request.user))
    page = Paginator(found, SHEETS_A_PAGE).get_page(request.GET.get("page"))
    today = timezone.localdate()
    books = rulebook.gear_books(today)
    lapsed = [book for book in rulebook.nearest_gear_books(today) if is_lapsed(book, today)]
    thrown = sight.rows(CheckThrown.objects.select_related("officer"), request.user)
    context = {
        "form": form,
        "page": page,
        "books": books,
        "lapsed": lapsed,
        "thrown": thrown.count(),
    }
    return render(request, "checks/checks.html", context)


@never_cache
@sight.officers
@require_safe
def thrown_away(request):
    """List the sheets that were thrown away on a phone, with the reasons."""
    found = sight.rows(CheckThrown.objects.select_related("officer"), request.user)
    page = Paginator(found, SHEETS_A_PAGE).get_page(request.GET.get("page"))
    return render(request, "checks/thrown_away.html", {"page": page})


@never_cache
@sight.officers
@require_safe
def check(request, key):
    """Show a sheet: what was measured against what the clauses allow, and its history."""
    sheet = seen_sheet(request, key)
    context = shown.context(sheet) | {
        "is_own": sheet.officer_id == request.user.pk,
        "rulebook": sheet.rulebook,
        "history": sheet.revisions.order_by("-received", "-pk"),
        "first_step": steps(sheet.books)[0].slug,
        "siblings": sight.rows(sheet.siblings, request.user),
        "taken_off": shown.photos_taken_off(sheet),
        "new_key": uuid.uuid4(),
        "code": in_groups(sheet.code),
    }
    return render(request, "checks/check.html", context)


@never_cache
@sight.officers
@require_http_methods(["GET", "POST"])
def check_new(request):
    """Start a sheet; the same form sent twice makes one."""
    form = StartForm(posted(request))
    if not form.is_valid():
        context = {"form": form, "vessels": known.known(request.user), "list": VESSELS}
        return render(request, "checks/check_new.html", context)
    content = content_of_head(form) | {"typed": {}, "photo_keys": [], "notes": ""}
    try:
        sheet = keeping.keep(request.user, form.cleaned_data["key"], keeping.SITE, 1, content)
    except keeping.NotTheirs as error:
        raise Http404 from error
    return redirect("checks:check_step", sheet.key, steps(sheet.books)[0].slug)


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
    found = steps(sheet.books)
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
    form = StepForm(
        posted(request),
        questions=step.questions,
        typed=sheet.typed,
        entries=sheet.log,
        reasons=sheet.reasons,
    )
    if request.method == "POST" and form.is_valid():
        keeping.change(sheet, **form.changes())
        return redirect("checks:check_step", sheet.key, after)
    context |= {"step": step, "form": form, "list": WHY_NOT_LIST, "reasons": WHY_NOT.values()}
    return render(request, "checks/check_step.html", context)


@never_cache
@sight.officers
@require_http_methods(["GET", "POST"])
def check_head(request, key):
    """Change the head of a sheet that was not turned in yet."""
    sheet = _open_sheet(request, key)
    start = keeping.content_of(sheet) | sheet.head
    form = HeadForm(posted(request), initial=start)
    if form.is_valid():
        keeping.change(sheet, **content_of_head(form))
        messages.success(request, _("The head of the sheet is saved."))
        return redirect(sheet)
    context = {"sheet": sheet, "form": form, "vessels": known.known(request.user), "list": VESSELS}
    return render(request, "checks/check_head.html", context)


@sight.officers
@require_POST
def check_another_net(request, key):
    """Start the sheet of another net on the same vessel; the same form sent twice makes one."""
    sheet = own_sheet(request, key)
    try:
        other = keeping.another_net(sheet, uuid.UUID(request.POST.get("key", "")))
    except (ValueError, keeping.NotTheirs) as error:
        raise Http404 from error
    return redirect("checks:check_head", other.key)


def _notes(request, sheet, context):
    form = NotesForm(posted(request), request.FILES or None, initial={"notes": sheet.notes})
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


@never_cache
@sight.officers
@require_http_methods(["GET", "POST"])
def check_hand_in(request, key):
    """
    Hand a sheet in: from then on it is corrected, not changed.

    Where something was not measured it is asked once whether to turn it in all the same.
    """
    sheet = own_sheet(request, key)
    if sheet.unread:
        messages.error(request, _("Not turned in. Fix the marked answers first."))
        return redirect(sheet)
    if sheet.finished:
        return redirect(sheet)
    if sheet.not_measured and "anyway" not in request.POST or request.method != "POST":
        counted, *__ = shown.findings(sheet, sheet.verdict)
        missing = [each for each in counted if each.finding.outcome == NOT_MEASURED]
        context = {"sheet": sheet, "missing": missing, "first_step": steps(sheet.books)[0].slug}
        return render(request, "checks/check_hand_in.html", context)
    keeping.change(sheet, hands_in=True)
    messages.success(request, _("The sheet is turned in."))
    return redirect(sheet)


@never_cache
@sight.officers
@require_safe
def check_photo(request, key):
    """Send a photo to those who may see its sheet."""
    seen = sight.rows(CheckSheet.objects.all(), request.user)
    photo = get_object_or_404(CheckPhoto, key=key, sheet__in=seen)
    return FileResponse(photo.image.open(), content_type="image/jpeg")


@never_cache
@sight.officers
@require_safe
def check_pdf(request, key):
    """Print a sheet on one page."""
    return prints.response(request, seen_sheet(request, key))


@sight.officers
@require_safe
def check_blank(request, name):
    """Print an empty sheet for the rule set ``name``, to be filled in by hand."""
    today = timezone.localdate()
    book = rulebook.find_in_force(name, today)
    if book is None or not book.lays_out_rig:
        raise Http404(_("These rules for gear have no version for today."))
    # The fishery is not known yet: what any of them asks is on it.
    fisheries = (each for each in whole.fisheries_with(name, today) if each.holds_on(today))
    return prints.pdf(printed.blank(book, *fisheries), _("blank check {name}").format(name=name))
