"""What a sheet was before: correcting it, and two of its saves side by side."""

from django.contrib import messages
from django.db import transaction
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_safe

from training.deck.forms import posted
from training.people import sight

from . import compare, keeping, known, logbook
from .finding import own_sheet, seen_sheet
from .forms import CorrectionForm
from .head_form import VESSELS, content_of_head


def _corrected(sheet, form):
    """
    Return the changes of the valid CorrectionForm ``form``, old answers struck through.

    A corrected answer is still of the reading that was taken: what was said stays said, and
    the time of the correction is no time at the rail.
    """
    seen = {each.id for each in sheet.log}
    entries, reason = sheet.log, form.cleaned_data["reason"]
    now = {each.name: each for each in entries if each.counts}
    for question in form.questions:
        name, text = question.name, form.typed.get(question.name, "")
        last = now.get(name)
        how = (last.how, last.tool) if last else ("", "")
        entries = logbook.answered(entries, name, text, *how, why=reason)
    entries = [each if each.id in seen else each._replace(at="") for each in entries]
    readings = [entry._asdict() for entry in entries]
    more = {"typed": form.typed, "readings": readings, "notes": form.cleaned_data["notes"]}
    return content_of_head(form) | more


@never_cache
@sight.officers
@require_http_methods(["GET", "POST"])
def check_correct(request, key):
    """Correct a sheet that was handed in, with the reason why."""
    sheet = own_sheet(request, key)
    if not sheet.finished:
        return redirect(sheet)
    start = keeping.content_of(sheet) | sheet.head
    form = CorrectionForm(posted(request), sheet=sheet, initial=start)
    if request.method == "POST" and form.is_valid():
        with transaction.atomic():
            keeping.change(sheet, reason=form.cleaned_data["reason"], **_corrected(sheet, form))
        messages.success(
            request, _("Correction saved. The sheet as it was turned in is in its history.")
        )
        return redirect(sheet)
    turned_in = compare.as_turned_in(list(sheet.revisions.all()))
    context = {
        "sheet": sheet,
        "form": form,
        "vessels": known.known(request.user),
        "list": VESSELS,
        "turned_in": compare.rows(turned_in.content, turned_in.content),
        "tally": compare.tally(turned_in.content),
    }
    return render(request, "checks/check_correct.html", context)


@never_cache
@sight.officers
@require_safe
def check_compare(request, key):
    """Show two saves of a sheet side by side: as turned in, and as it is now, if not said."""
    sheet = seen_sheet(request, key)
    saves = list(sheet.revisions.all())
    shown = next(save for save in saves if save.is_shown)
    before = _save(saves, request.GET.get("before"), compare.as_turned_in(saves))
    after = _save(saves, request.GET.get("after"), shown)
    rows = compare.rows(before.content, after.content)
    context = {
        "sheet": sheet,
        "saves": saves,
        "before": before,
        "after": after,
        "tallies": [compare.tally(save.content) for save in (before, after)],
        "changed": [row for row in rows if row.changed],
        "rows": rows,
    }
    return render(request, "checks/check_compare.html", context)


def _save(saves, number, otherwise):
    """Return the one of ``saves`` with the primary key ``number``, as text."""
    if not number:
        return otherwise
    for save in saves:
        if str(save.pk) == number:
            return save
    raise Http404(_("There is no such save of this sheet."))
