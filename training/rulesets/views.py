"""What staff do with rule sets: draft a version, count what it would change, approve it."""

import uuid

from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from rigs.rules.rulebook import RulebookError
from training.people import factors, second, sight

from . import counting, drafting, impact, report, withdrawing
from .drafting import DraftError
from .forms import Editor
from .models import Version, earliest_day


def _found(request, pk):
    people = Version.objects.select_related(
        "drafted_by", "approved_by", "withdrawal__by", "withdrawal__agreed_by"
    )
    return get_object_or_404(sight.rows(people, request.user), pk=pk)


@never_cache
@sight.staff
@require_safe
def shelf(request):
    """List the rule sets with their versions."""
    context = {"shelf": report.shelf(request.user), "key": uuid.uuid4()}
    return render(request, "rulesets/shelf.html", context)


@require_POST
@sight.whole_fleet
def start(request, name):
    """Begin a draft of a later version of the rule set ``name``."""
    try:
        draft = drafting.start(name, uuid.UUID(request.POST.get("key", "")), request.user)
    except (ValueError, RulebookError) as error:
        raise Http404(str(error)) from error
    return redirect("rulesets:edit", draft.pk)


@never_cache
@sight.staff
@require_safe
def version(request, pk):
    """Show a version: what differs, what it would change, and what can be done with it."""
    found = _found(request, pk)
    hindrances = drafting.hindrances(found, request.user)
    context = {
        "version": found,
        "is_own": found.drafted_by_id == request.user.pk,
        "sent_back": found.sent_back.select_related("by"),
        "hindrances": hindrances,
        "able": drafting.able(found) if found.waits and hindrances else [],
        "withdrawing": _withdrawing(found, request.user),
        "not_withdrawn": withdrawing.came_to_nothing(found),
    }
    try:
        told = report.differences(found)
        context |= {
            "differences": told,
            "rulebook": told.new,
            "turned": report.turned_cases(told),
        }
        counted = impact.of_text(found) or found.impacts.filter(finished__isnull=False).last()
        if counted:
            context |= {
                "impact": counted,
                "is_of_text": counted == impact.of_text(found),
                "rules": report.counted_rules(told.old, told.new, counted),
                "as_is": counted.found[impact.AS_IS],
                "planned": counted.found[impact.PLANNED],
            }
    except RulebookError as error:
        context["unreadable"] = str(error)
    if found.is_draft:
        context["submit_hindrances"] = drafting.submit_hindrances(found)
    return render(request, "rulesets/version.html", context)


def _withdrawing(found, user):
    """Return what the page of a version says of withdrawing it; None if it cannot be."""
    if not withdrawing.may_withdraw(found):
        return None
    asked = withdrawing.waiting(found)
    told = {"asked": asked, "until": withdrawing.last_moment(found)}
    if asked:
        told["own"] = asked.by_id == user.pk
        told["hindrance"] = second.why_not(user, asked.by, asked.made)
        told["able"] = second.able(asked.by, asked.made) if told["hindrance"] else []
    return told


@never_cache
@sight.whole_fleet
@require_http_methods(["GET", "HEAD", "POST"])
def edit(request, pk):
    """Change a draft; what the rule module refuses is told beside its field."""
    found = _found(request, pk)
    if found.drafted_by_id != request.user.pk or not found.is_draft:
        messages.error(
            request, _("Only its drafter can change it, and only until it is submitted.")
        )
        return redirect(found)
    editor = Editor(found, request.POST if request.method == "POST" else None)
    status = 200
    if "add" in request.POST:
        editor.add(request.POST.get("measure", ""))
    elif request.method == "POST":
        if editor.is_valid():
            try:
                drafting.change(found, editor.book, editor.reason, request.user)
            except DraftError as error:
                messages.error(request, str(error))
                return redirect("rulesets:shelf")
            messages.success(request, _("The draft is saved."))
            return redirect(found)
        status = 422
    context = {
        "version": found,
        "editor": editor,
        "earliest": earliest_day(),
        "refused": status == 422,
    }
    return render(request, "rulesets/edit.html", context, status=status)


@require_POST
@sight.whole_fleet
def count(request, pk):
    """Have counted what a version would change: at once if that is short, else by a worker."""
    found = _found(request, pk)
    try:
        counted = impact.of_text(found)
        if counted is None or (counted.finished and "anew" in request.POST):
            counted = impact.begin(found)
        job = counting.ask(counted, request.user) if counted.todo else None
        if job is not None and job.is_going:
            return redirect(job)
    except RulebookError as error:
        messages.error(request, _("It cannot be counted: {error}").format(error=error))
    return redirect(f"{found.get_absolute_url()}#impact")


def _send_back(found, request):
    drafting.send_back(found, request.user, request.POST.get("reason", ""))
    return _("The draft is sent back. Its drafter can change it again.")


def _submit(found, request):
    drafting.submit(found, request.user)
    return _("The draft is submitted. A second person has to approve it.")


def _approve(found, request):
    drafting.approve(found, request.user)
    return _("The version is approved. It takes effect on its first day.")


def _withdraw(found, request):
    withdrawing.ask(found, request.user, request.POST.get("reason", ""))
    return _("Saved. It is withdrawn once a second person agrees. Nothing changes before that.")


def _asked(found):
    asked = withdrawing.waiting(found)
    if asked is None:
        raise DraftError(_("Nobody asks to withdraw it any more. Look at the page again."))
    return asked


def _agree(found, request):
    withdrawing.agree(_asked(found), request.user)
    return _("The version is withdrawn. Nobody will be graded by it.")


def _leave(found, request):
    withdrawing.leave(_asked(found), request.user)
    return _("The version stays approved.")


def _throw_away(found, request):
    drafting.throw_away(found, request.user)
    return _("The draft is deleted.")


ACTS = {
    "submit": _submit,
    "send-back": _send_back,
    "approve": _approve,
    "withdraw": _withdraw,
    "agree-to-withdraw": _agree,
    "leave-approved": _leave,
    "throw-away": _throw_away,
}


@require_POST
@sight.whole_fleet
@factors.when_it_matters
def act(request, pk, what):
    """Do one of ``ACTS`` with a version, or say why it cannot be done."""
    found = _found(request, pk)
    if what not in ACTS:
        raise Http404(_("Nothing called {what} can be done with a version.").format(what=what))
    try:
        messages.success(request, ACTS[what](found, request))
    except DraftError as error:
        messages.error(request, str(error))
    if Version.objects.filter(pk=pk).exists():
        return redirect(found)
    return redirect("rulesets:shelf")
