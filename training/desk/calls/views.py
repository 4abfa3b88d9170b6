"""Whom to call, how, and what was said; for a phone first."""

import uuid
from collections import Counter
from datetime import timedelta
from urllib.parse import urlencode

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404, HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404, redirect, render
from django.template.response import TemplateResponse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from rigs.words.say import gettext_lazy
from training.deck.downloads import table
from training.inbox.once import once, write_about
from training.people import sight
from training.people.models import User
from training.work import aside

from ..models import CallNote
from . import noting, numbers, printed
from .cards import cards
from .forms import CalledForm, GiveForm, NumberForm
from .listing import KINDS, Whose, on_list
from .reasons import REASONS, reason_called

_TABLE = gettext_lazy("Table of the calls")
CARDS_AT_ONCE = 500  # read together for a download
HEADER = (
    "name",
    "harbor",
    "why",
    "contact",
    "phone",
    gettext_lazy("best way"),
    "email",
    "owner",
    "captain",
    gettext_lazy("given to"),
    gettext_lazy("last called"),
    gettext_lazy("call again on"),
    gettext_lazy("demo data"),
)


def _asked(request, key=None):
    """Return (whose, the Reason or None, {(kind, number): Reasons}) as a page is asked for."""
    # Kept with the request: a table is counted before it is made, and to find them takes long.
    if not hasattr(request, "_calls"):
        request._calls = _found(request, key)
    return request._calls


def _found(request, key):
    reason = reason_called(key)
    if key is not None and reason is None:
        raise Http404(_("There is no reason called “{key}”.").format(key=key))
    asked = request.GET.get("whose")
    whose = Whose(asked) if asked in list(Whose) else Whose.ALL
    found = on_list(request.user, whose)
    if reason is not None:
        found = {who: reasons for who, reasons in found.items() if reason in reasons}
    return whose, reason, found


def _just_noted(user):
    """Return the last call of ``user`` if it can be undone right from the list, else None."""
    since = timezone.now() - timedelta(minutes=numbers.UNDO_MINUTES)
    calls = CallNote.objects.standing().filter(by=user, made__gte=since)
    return sight.rows(calls, user).select_related("person", "vessel").first()


def _list(request, key=None):
    whose, reason, found = _asked(request, key)
    page = Paginator(list(found), numbers.CARDS_A_PAGE).get_page(request.GET.get("page"))
    shown = cards(list(page.object_list), request.user, found)
    totals = Counter(each for of in found.values() for each in of)
    context = {
        "cards": shown,
        "page": page,
        "reason": reason,
        "whose": whose,
        "by_reason": [(each, totals[each]) for each in REASONS if totals[each]],
        "any_demo": any(card.is_demo for card in shown),
        "numbers": numbers,
        "just_noted": _just_noted(request.user),
        "form": CalledForm(),
        # A key for every form on the page: tapping twice notes one call.
        "new_key": uuid.uuid4,
    }
    return render(request, "desk/calls.html", context)


@never_cache
@sight.staff
@require_safe
def calls(request):
    """Show a card for each person and vessel to call, the most urgent first."""
    return _list(request)


@never_cache
@sight.staff
@require_safe
def calls_for(request, reason):
    """Show the cards of those to call for one reason."""
    return _list(request, reason)


@never_cache
@sight.staff
@require_safe
def calls_print(request):
    """Download the most urgent calls as a PDF to take along."""
    __, __, found = _asked(request, request.GET.get("reason"))
    shown = cards(list(found)[: printed.MOST_PRINTED], request.user, found)
    return HttpResponse(
        printed.as_pdf(shown, len(found), timezone.localdate()),
        content_type="application/pdf",
        headers={"Content-Disposition": 'inline; filename="calls.pdf"'},
    )


def _row(card):
    """Return a row of the table; of a vessel's crew the first is the one to call."""
    first = card.contacts[0] if card.contacts else None
    return (
        card.name,
        card.harbors,
        " ".join(each.words for each in card.whys),
        first.name if first else "",
        first.phone if first else "",
        first.person.get_reach_by_display() if first and first.person.reach_by else "",
        first.person.email if first else "",
        getattr(card.called, "owner", ""),
        getattr(card.called, "captain", ""),
        str(card.given.to) if card.given else "",
        card.last and card.last.made,
        card.agreed,
        card.is_demo,
    )


def _rows(found, user):
    keys = list(found)
    for start in range(0, len(keys), CARDS_AT_ONCE):
        yield from map(_row, cards(keys[start : start + CARDS_AT_ONCE], user, found))


@never_cache
@sight.staff
@require_safe
@aside.if_long(_TABLE, lambda request, ending: len(_asked(request)[2]))
def calls_table(request, ending):
    """Download the calls, a row for each card."""
    __, __, found = _asked(request)
    return table(ending, "calls", HEADER, _rows(found, request.user))


@never_cache
@sight.staff
@require_safe
@aside.if_long(_TABLE, lambda request, reason, ending: len(_asked(request, reason)[2]))
def calls_for_table(request, reason, ending):
    """Download the calls for one reason."""
    __, __, found = _asked(request, reason)
    return table(ending, f"calls-{reason}", HEADER, _rows(found, request.user))


def _called_or_404(request, of, pk):
    if of not in KINDS:
        raise Http404(_("There is no list of “{of}” to call.").format(of=of))
    return get_object_or_404(noting.reach(of, request.user), pk=pk)


def _page(request, of, called, **bound):
    """Show the page of one call, with the ``bound`` forms as they were sent."""
    (card,) = cards([(of, called.pk)], request.user)
    staff = noting.may_be_given(of, called)
    notes = CallNote.objects.filter(**{of: called}).select_related("by", "undone_by")
    agreed = {"again": card.agreed}
    context = {
        "card": card,
        "notes": notes,
        "staff": staff,
        "form": CalledForm(initial=agreed),
        "number": NumberForm(initial={"phone": getattr(called, "phone", "")}),
        "numbers": numbers,
        "new_key": uuid.uuid4,
        "back": request.path,
    }
    return TemplateResponse(request, "desk/call.html", context | bound)


@never_cache
@sight.staff
@require_safe
def call(request, of, pk):
    """Show whom to call, how, why, and all that was said so far."""
    return _page(request, of, _called_or_404(request, of, pk))


def _back(request, of, pk):
    """Return to the page that the form was on."""
    back = request.POST.get("back", "")
    if url_has_allowed_host_and_scheme(back, {request.get_host()}, request.is_secure()):
        return HttpResponseRedirect(back)  # redirect() would take it for a view's name
    return redirect("desk:call", of, pk)


def _back_confirmed(request, of, pk):
    """Return to the page that the form was on, and let the phone forget what it kept of it."""
    response = _back(request, of, pk)
    draft = request.POST.get("draft")
    if draft:
        mark = "&" if "?" in response.url else "?"
        return HttpResponseRedirect(f"{response.url}{mark}{urlencode({'saved': draft})}")
    return response


def _saved(call, who, reasons):
    """Return the sentence that says what follows from a CallNote about so many ``reasons``."""
    if call.again is not None:
        day = date_format(call.again, "F j, Y")
        words = _("Saved: {who} was called. To be called again on {day}.").format(who=who, day=day)
    elif call.outcome == CallNote.Outcome.NO_ANSWER:
        words = _("Saved: no answer from {who}.").format(who=who)
        words += _(" On the list again tomorrow.") if reasons else ""
    else:
        words = _("Saved: {who} was called.").format(who=who)
        if reasons:
            words += ngettext(
                " This reason is hidden for {SILENCE_WEEKS} weeks.",
                " These reasons are hidden for {SILENCE_WEEKS} weeks.",
                reasons,
            ).format(SILENCE_WEEKS=numbers.SILENCE_WEEKS)
    return words


@sight.staff
@require_POST
@once
def called(request, of, pk):
    """Note that somebody was called."""
    if of == "person":
        write_about(request, User.objects.filter(pk=pk).first())
    who = _called_or_404(request, of, pk)
    if of == "person" and not who.is_active:
        raise Http404(_("This account is closed or deleted."))
    form = CalledForm(request.POST)
    if not form.is_valid() or noting.was_another(form):
        return _page(request, of, who, form=form)
    call = noting.note(of, who, by=request.user, **form.cleaned_data)
    messages.success(request, _saved(call, who, len(form.cleaned_data["reasons"])))
    return _back_confirmed(request, of, pk)


def _note_or_404(request, pk):
    notes = sight.rows(CallNote.objects.select_related("person", "vessel"), request.user)
    call = get_object_or_404(notes, pk=pk)
    return call, "person" if call.person_id else "vessel", call.person or call.vessel


@sight.staff
@require_POST
def call_undo(request, pk):
    """Have a call that was noted by mistake no longer count."""
    call, of, who = _note_or_404(request, pk)
    noting.undo(call, request.user)
    messages.success(
        request, _("The call to {who} is undone. Its note can still be read.").format(who=who)
    )
    return _back(request, of, who.pk)


@sight.staff
@require_POST
def call_put_back(request, pk):
    """Have a call that was undone count again."""
    call, of, who = _note_or_404(request, pk)
    noting.put_back(call)
    messages.success(request, _("The call to {who} counts again.").format(who=who))
    return _back(request, of, who.pk)


@sight.staff
@require_POST
def call_give(request, of, pk):
    """Give a call to one of the staff who look after them."""
    who = _called_or_404(request, of, pk)
    form = GiveForm(noting.may_be_given(of, who), request.POST)
    if not form.is_valid():
        messages.error(
            request, _("Choose somebody on the staff who looks after {who}.").format(who=who)
        )
        return _back(request, of, pk)
    given = noting.give(of, who, form.cleaned_data["to"], request.user, form.cleaned_data["key"])
    messages.success(request, _("The call to {who} is for {name}.").format(who=who, name=given.to))
    return _back(request, of, pk)


@sight.staff
@require_POST
def call_take_back(request, of, pk):
    """Give a call to nobody."""
    who = _called_or_404(request, of, pk)
    noting.take_back(of, who)
    messages.success(request, _("The call to {who} is given to nobody.").format(who=who))
    return _back(request, of, pk)


@sight.staff
@require_POST
def call_number(request, pk):
    """Keep a person's phone number as staff heard of it."""
    who = _called_or_404(request, "person", pk)
    form = NumberForm(request.POST)
    if not form.is_valid():
        return _page(request, "person", who, number=form)
    who.phone = form.cleaned_data["phone"]
    who.save(update_fields=["phone"])
    messages.success(request, _("Saved the phone number of {who}.").format(who=who))
    return redirect("desk:call", "person", pk)
