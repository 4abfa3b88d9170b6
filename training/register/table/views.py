"""Importing a register: choose the file, say what is in it, look at what would be done, do it."""

from collections import Counter
from datetime import date

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from rigs.words.say import gettext_lazy
from training.deck.downloads import table
from training.deck.forms import posted
from training.people import sight
from training.work import aside
from training.work.models import Job

from ..harbors import names, plain, spellings
from ..models import ImportDraft, ImportWrite
from ..wording import stage_words
from . import importing, looking, matching, mending, outlook, reviewing, steps, undoing
from .columns import RegisterError
from .comparing import ADD, ASK, CHANGE, REFUSE, SAME, WAIT
from .entries import Answers, vocabulary
from .forms import AnswersForm, ColumnsForm, LayForm, TwinsForm, UploadForm

ROWS_A_PAGE = 100
WORDS = {
    ADD: gettext_lazy("to be added"),
    CHANGE: gettext_lazy("to be changed"),
    SAME: gettext_lazy("left as they are"),
    ASK: gettext_lazy("look like a vessel that is there"),
    REFUSE: gettext_lazy("refused"),
    WAIT: gettext_lazy("not imported: it was stopped before them"),
}
SELDOM = (ASK, WAIT)
DONE_WORDS = WORDS | {
    ADD: gettext_lazy("added"),
    CHANGE: gettext_lazy("changed"),
    ASK: gettext_lazy("left out: they look like a vessel that is there"),
}


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def import_register(request):
    """Take a file, and lead to what is to be said of it."""
    form = UploadForm(posted(request), request.FILES or None)
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        try:
            draft = steps.take_in(data["file"], request.user, data["key"])
        except RegisterError as error:
            form.add_error("file", str(error))
        else:
            return _onward(draft)
    context = {
        "form": form,
        "own": sight.harbors_of(request.user),
        "past": reviewing.listed(sight.rows(ImportDraft.objects.all(), request.user)),
    }
    return render(request, "register/import.html", context)


def _onward(draft):
    """Return a redirect to the step at which ``draft`` waits."""
    if draft.is_busy:
        return redirect(draft.job)
    step = "import_draft"
    if draft.answers is None and not draft.applied:
        step = "import_columns" if draft.columns is None else "import_questions"
    return redirect(f"register:{step}", draft.key)


def _draft(request, key, **only):
    """Return the draft of whoever asks that is not imported yet."""
    open_ones = ImportDraft.objects.filter(applied=None, writes=None, **only)
    found = sight.own(open_ones.select_related("job"), request.user)
    return get_object_or_404(found, key=key)


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def import_columns(request, key):
    """Ask what each column is, and which row has the headings."""
    draft = _draft(request, key)
    lay = LayForm(request.POST if "lay" in request.POST else None, draft=draft)
    if lay.is_bound and lay.is_valid():
        try:
            steps.lay(key, request.user, **lay.cleaned_data)
            return redirect("register:import_columns", key)
        except RegisterError as error:
            lay.add_error("top", str(error))
    guesses = matching.guesses(draft, sight.harbors_of(request.user))
    posted = request.POST if request.method == "POST" and not lay.is_bound else None
    form = ColumnsForm(posted, guesses=guesses, initial=reviewing.chosen(draft, guesses))
    if form.is_bound and form.is_valid():
        return _onward(steps.match(key, request.user, form.columns))
    context = {"draft": draft, "form": form, "lay": lay, "vessels": len(draft.rows)}
    return render(request, "register/import_columns.html", context)


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def import_questions(request, key):
    """Ask what is unclear in the columns of a file."""
    draft = _draft(request, key)
    if draft.columns is None:
        return _onward(draft)
    today, unclear = timezone.localdate(), steps.questions(draft)
    told, reach = vocabulary(), sight.harbors_of(draft.owner)
    choices = {
        "harbor": [name for name in names() if reach is None or name in reach],
        "gear": list(told.gears.items()),
        "stage": [(stage.value, words) for stage, words in told.stages.items()],
        "is_fishing": [("yes", _("still fishing: yes")), ("no", _("still fishing: no"))],
    }
    before = Answers(**draft.answers) if draft.answers else None
    form = AnswersForm(
        posted(request), unclear=unclear, choices=choices, today=today, before=before
    )
    if form.is_bound and form.is_valid():
        steps.answer(key, request.user, form.answers)
        return _onward(_draft(request, key))
    return render(request, "register/import_questions.html", {"draft": draft, "form": form})


@never_cache
@sight.staff
@require_safe
def import_draft(request, key):
    """Show row by row what importing would do, or what it did."""
    found = ImportDraft.objects.defer("sheets").select_related("owner", "undone_by", "job")
    own, done = sight.own(found, request.user), sight.rows(found, request.user)
    draft = get_object_or_404(own | done.filter(applied__isnull=False), key=key)
    if draft.answers is None and not draft.applied:
        return _onward(draft)
    if not draft.outcomes and not draft.is_busy:
        looking.look(draft)
    outcomes = outlook.outcomes_of(draft)
    counts = outlook.counts(outcomes)
    show = request.GET.get("show")
    shown = [outcome for outcome in outcomes if show not in WORDS or outcome.does == show]
    page = Paginator(shown, ROWS_A_PAGE).get_page(request.GET.get("page"))
    words, called = stage_words(), DONE_WORDS if draft.applied else WORDS
    context = {
        "draft": draft,
        "counts": [
            (does, text, counts[does])
            for does, text in called.items()
            if does not in SELDOM or counts[does]
        ],
        "total": counts.total(),
        "to_do": counts[ADD] + counts[CHANGE],
        "to_mend": counts[REFUSE] + counts[ASK],
        "left_off": counts[WAIT],
        "broke_off": not draft.applied and draft.writes.exists(),
        "can_undo": draft.applied and not draft.undone and _written(draft).exists(),
        "is_mine": draft.job is not None and draft.job.owner_id == request.user.pk,
        "show": show,
        "page": page,
        "rows": [(outcome, called[outcome.does], _event(outcome, words)) for outcome in page],
        "how": None if draft.applied else reviewing.how_read(draft),
        "harbors": None if draft.applied else _new_harbors(outcomes),
        "twins": None if draft.applied or not counts[ASK] else TwinsForm(outcomes=outcomes),
    }
    return render(request, "register/import_draft.html", context)


def _written(draft):
    return draft.writes.filter(state=ImportWrite.State.WRITTEN)


def _event(outcome, words):
    """Return the words and the day of the event that a row adds, None for none."""
    if outcome.event is None:
        return None
    stage, day = outcome.event
    return words[stage], date.fromisoformat(day)


def _new_harbors(outcomes):
    """Return the harbors that importing would bring in, each with how many rows name it."""
    known = spellings()
    named = Counter(each.values["harbor"] for each in outcomes if "harbor" in each.values)
    return sorted((name, rows) for name, rows in named.items() if plain(name) not in known)


@sight.staff
@require_POST
def import_twins(request, key):
    """Take what is said of rows that look like vessels that are there."""
    draft = _draft(request, key, answers__isnull=False)
    form = TwinsForm(request.POST, outcomes=outlook.outcomes_of(draft))
    if form.is_valid():
        steps.decide(key, request.user, form.decided)
    return _onward(_draft(request, key))


def _to_mend(request, key):
    """Return the draft of whoever asks, or one that was imported where they look after all."""
    found = ImportDraft.objects.defer("sheets")
    own, done = sight.own(found, request.user), sight.rows(found, request.user)
    return get_object_or_404(own | done.filter(applied__isnull=False), key=key)


@never_cache
@sight.staff
@require_safe
@aside.if_long(
    gettext_lazy("Rows of a register to fix"),
    lambda request, key, ending: len(_to_mend(request, key).rows),
)
def import_mend(request, key, ending):
    """Download the rows that were refused, under their own headings, with what is wrong."""
    draft = _to_mend(request, key)
    return table(ending, "to-mend", mending.header(draft), mending.rows(draft))


@sight.staff
@require_POST
def import_confirm(request, key):
    """Do what the dry run showed, unless the register has changed since."""
    get_object_or_404(sight.own(ImportDraft.objects.only("pk"), request.user), key=key)
    draft, done = importing.confirm(key, request.user)
    if draft.is_busy:
        return redirect(draft.job)
    if done:
        messages.success(request, _("The register is imported."))
    elif draft.job is not None and draft.job.state == Job.State.FAILED:
        return redirect(draft.job)
    else:
        messages.warning(
            request,
            _(
                "Nothing was imported: the register has changed since you looked. Below is what "
                "would change now."
            ),
        )
    return redirect("register:import_draft", draft.key)


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def import_undo(request, key):
    """Ask whether to undo an import, saying what it does, and undo it."""
    done = ImportDraft.objects.filter(applied__isnull=False).select_related("job")
    draft = get_object_or_404(sight.rows(done, request.user), key=key)
    if request.method == "POST":
        draft = undoing.undo(draft.key, request.user)
        if draft.undone:
            messages.success(request, _("The import is undone."))
        elif draft.job.owner_id == request.user.pk:
            return redirect(draft.job)
        return redirect("register:import_draft", key)
    number = _written(draft).count()
    if draft.undone or not number:
        raise Http404(_("There is nothing left to undo."))
    is_short = number <= importing.AT_ONCE
    context = {
        "draft": draft,
        "number": number,
        "undoing": undoing.plan(draft, request.user) if is_short else None,
    }
    return render(request, "register/import_undo.html", context)
