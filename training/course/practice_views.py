"""Short practice: one reading a page, what comes back, and what one knows by rule."""

import uuid

from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from rigs.rules import rulebook
from rigs.words.say import gettext_lazy
from training.deck import signal
from training.exercises import kinds
from training.exercises.kinds.base import BadAnswer
from training.lessons import passages
from training.people import sight
from training.recall import course, mails, memory, sets, showing, spacing
from training.recall.models import PracticeMail, ReadingSet, SetReading

from .onward import onward

NOTHING = gettext_lazy("Nothing can be asked today. Read a lesson, or do an exercise.")
CHANGED = gettext_lazy("The rules changed after this page was opened. Answer this reading instead.")
ONE_RULE = 3
"""Readings when one rule alone is practiced."""


# A set ----------------------------------------------------------------------------


def _own_set(request, pk):
    return get_object_or_404(
        sight.own(ReadingSet.objects.prefetch_related("readings"), request.user), pk=pk
    )


@never_cache
@sight.owner
@require_safe
def show(request, pk):
    """Show the next reading of a set that is not answered yet, or how the set went."""
    found = _own_set(request, pk)
    if found.finished is None:
        sets.freshen(found)
        reading = found.readings.filter(answered=None).first()
        if reading:
            return _ask(request, found, reading)
    context = {
        "reading_set": found,
        "summaries": showing.summaries(found),
        "right": found.readings.filter(passed=True).count(),
        "asked": found.readings.count(),
        "onward": onward(found),
        "coming_back": len(memory.coming_back(request.user)),
    }
    return render(request, "recall/summary.html", context)


def _ask(request, found, reading):
    kind, task = kinds.get(sets.KIND, reading.kind_version), sets.task_of(reading)
    said = kind.form(task)().fields["said"]
    context = {
        "layout": "recall/ask.html",
        "reading_set": found,
        "reading": reading,
        "place": found.readings.filter(number__lte=reading.number).count(),
        "count": found.readings.count(),
        "task": task,
        "rulebook": task.rulebook,
        "shown": kind.shown(task),
        "question": said.label,
        "choices": said.choices,
    }
    return render(request, kind.template, context)


@never_cache
@sight.owner
@require_http_methods(["GET", "HEAD", "POST"])
def answer(request, pk, number):
    """Take the answer to one reading; show what the rules say to it."""
    found = _own_set(request, pk)
    reading = get_object_or_404(SetReading, set=found, number=number)
    if request.method == "POST":
        return _take(request, found, reading)
    if reading.answered is None or sets.keeps_quiet(found):
        return redirect("recall:set", pk)
    line = reading.findings[0]
    context = {
        "reading_set": found,
        "reading": reading,
        "line": line,
        "task": sets.task_of(reading),
        "place": found.readings.filter(number__lte=number).count(),
        "count": found.readings.count(),
        "left": found.readings.filter(answered=None).count(),
        "passage": passages.url_for(reading.focus, request.user.role),
        "rulebook": reading.rulebook,
    }
    return render(request, "recall/answered.html", context)


def _take(request, found, reading):
    raw = {"said": request.POST.get("said", "")}
    if reading.answered is None:
        # The rules may have changed while the page lay open: what is asked then is another.
        sets.freshen(found)
        still = found.readings.filter(pk=reading.pk, seed=reading.seed).exists()
        if not still or request.POST.get("drawn") != reading.drawn:
            messages.warning(request, CHANGED)
            return redirect("recall:set", found.pk)
        try:
            sets.answer(reading, raw)
        except BadAnswer:
            messages.error(request, _("Choose an answer: met or broken."))
            return redirect("recall:set", found.pk)
    elif raw["said"] and reading.answer != raw:
        messages.info(request, "You answered this one before. Your first answer counts.")
    return redirect("recall:answer", found.pk, reading.number)


# Opening one ------------------------------------------------------------------------


def _key(request):
    try:
        return uuid.UUID(request.POST.get("key", ""))
    except ValueError:
        raise Http404(_("A set is opened from its page.")) from None


def _open(request, purpose, rules, back, **options):
    """Open a set and lead to it, or lead ``back`` and say why there is none."""
    try:
        found = sets.open_set(request.user, purpose, rules, key=_key(request), **options)
    except sets.NothingToAsk:
        messages.info(request, NOTHING)
        return redirect(back)
    return redirect("recall:set", found.pk)


@never_cache
@sight.signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def start(request):
    """Offer one reading a rule of the course, to see what is known already."""
    rules = course.to_see(request.user)
    if request.method == "POST":
        return _open(request, ReadingSet.Purpose.START, rules, "recall:start")
    going_on = showing.open_of(request.user, ReadingSet.Purpose.START)
    left = going_on.readings.filter(answered=None).count() if going_on else len(rules)
    context = {
        "going_on": going_on,
        "readings": left,
        "minutes": sets.minutes(left),
        "key": uuid.uuid4(),
    }
    return render(request, "recall/start.html", context)


@never_cache
@sight.signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def review(request):
    """Offer what comes back today."""
    if request.method == "POST":
        rules = memory.coming_back(request.user)[: sets.MOST]
        return _open(request, ReadingSet.Purpose.REVIEW, rules, "recall:review")
    context = {"offer": showing.offer(request.user), "key": uuid.uuid4()}
    return render(request, "recall/review.html", context)


@never_cache
@sight.signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def one_rule(request, name, rule):
    """Practice one rule alone."""
    if not any(book.has(rule) for book in rulebook.everything() if book.name == name):
        raise Http404(_("There is no rule {rule} in {name}.").format(rule=rule, name=name))
    if request.method != "POST":
        return redirect("recall:rules")
    return _open(
        request,
        ReadingSet.Purpose.REVIEW,
        [(name, rule)],
        "recall:rules",
        subject=f"{name}/{rule}",
        each=ONE_RULE,
    )


# What one knows -----------------------------------------------------------------------


@signal.opens
@never_cache
@sight.signed_in
@require_safe
def rules(request):
    """Show a person each rule as known, shaky or not yet asked."""
    groups = showing.rule_groups(request.user)
    context = {
        "groups": groups,
        "counts": showing.counts_of(row.state for group in groups for row in group.rows),
        "coming_back": len(memory.coming_back(request.user)),
        "own": True,
    }
    return render(request, "recall/rules.html", context)


@signal.opens
@sight.anyone
@require_safe
def how(request):
    """Explain how practice comes back: the requirements, in words."""
    context = {
        "intervals": spacing.INTERVALS,
        "ahead": spacing.AHEAD,
        "fades": spacing.FADES,
        "most": sets.MOST,
    }
    return render(request, "recall/how.html", context)


@require_POST
@sight.signed_in
def mail(request):
    """Save whether a person wants a mail when rules come back."""
    wanted = request.POST.get("wanted") == "yes"
    PracticeMail.objects.update_or_create(user=request.user, defaults={"wanted": wanted})
    messages.success(request, mails.SAVED[wanted])
    return redirect(reverse("people:account") + "#practice-mail")
