"""Importing a register: choose the file, look at what would be done, do it."""

from datetime import date

from django.contrib import messages
from django.core.paginator import Paginator
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from rigs.words.say import gettext_lazy
from training.people import sight

from ..models import ImportDraft
from ..wording import stage_words
from . import importing
from .columns import COLUMNS, RegisterError, headings_of
from .comparing import ADD, CHANGE, REFUSE, SAME
from .forms import UploadForm

ROWS_A_PAGE = 100
WORDS = {
    ADD: gettext_lazy("to be added"),
    CHANGE: gettext_lazy("to be changed"),
    SAME: gettext_lazy("left as they are"),
    REFUSE: "refused",
}


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def import_register(request):
    """Take a file, and lead to what importing it would do."""
    form = UploadForm(request.POST or None, request.FILES or None)
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        try:
            draft = importing.dry_run(data["file"], request.user, data["key"])
        except RegisterError as error:
            form.add_error("file", str(error))
        else:
            return redirect("register:import_draft", draft.key)
    context = {"form": form, "columns": COLUMNS, "own": sight.harbors_of(request.user)}
    return render(request, "register/import.html", context)


@never_cache
@sight.staff
@require_safe
def import_draft(request, key):
    """Show row by row what importing would do, or what it did."""
    found = ImportDraft.objects.defer("rows")
    draft = get_object_or_404(sight.own(found, request.user), key=key)
    outcomes = importing.outcomes_of(draft)
    counts = importing.counts(outcomes)
    show = request.GET.get("show")
    if show in WORDS:
        outcomes = [outcome for outcome in outcomes if outcome.does == show]
    page = Paginator(outcomes, ROWS_A_PAGE).get_page(request.GET.get("page"))
    words = stage_words()
    context = {
        "draft": draft,
        "counts": [(does, text, counts[does]) for does, text in WORDS.items()],
        "total": counts.total(),
        "to_do": counts[ADD] + counts[CHANGE],
        "show": show,
        "page": page,
        "rows": [(outcome, WORDS[outcome.does], _event(outcome, words)) for outcome in page],
        "unknown": headings_of(draft.headers).unknown,
    }
    return render(request, "register/import_draft.html", context)


def _event(outcome, words):
    """Return the words and the day of the event that a row adds, None for none."""
    if outcome.event is None:
        return None
    stage, day = outcome.event
    return words[stage], date.fromisoformat(day)


@sight.staff
@require_POST
def import_confirm(request, key):
    """Do what the dry run showed, unless the register has changed since."""
    get_object_or_404(sight.own(ImportDraft.objects.only("pk"), request.user), key=key)
    draft, done = importing.confirm(key, request.user)
    if done:
        messages.success(request, _("The register is imported."))
    else:
        messages.warning(
            request,
            _(
                "Nothing was imported: the register has changed since you looked. Below is what "
                "would change now."
            ),
        )
    return redirect("register:import_draft", draft.key)
