"""Answering what a phone noted without signal: once, and with all that was typed kept."""

import uuid
from datetime import UTC
from functools import wraps
from typing import NamedTuple
from urllib.parse import unquote

from django.contrib import messages
from django.contrib.messages.storage.base import BaseStorage
from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.http import Http404, JsonResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.dateparse import parse_datetime
from django.utils.translation import gettext as _

from training.deck import sent_json
from training.deck.numbers import whole_number

from .beside import Beside
from .models import Arrival

NOT_TYPED = {"csrfmiddlewaretoken", "noted_shown", "arrival", "draft", "told"}
MOST_SHOWN = 200  # questions of one form
OTHER_ACCOUNT = 409
WAIT = 429
Outcome = Arrival.Outcome


def once(view):
    """
    Have ``view``, which takes a form in, answer what phones noted once; return it.

    It stands innermost, below the door. Each POST runs in one transaction, in which the view may
    hold rows and raise Beside. A page is answered as ever. What comes with the header ``Noted``
    is answered in JSON, and what the view answers tells what came of it: it leads on once it took
    a form in, and shows one that it refuses in a TemplateResponse.
    """

    @wraps(view)
    def answered(request, *args, **kwargs):
        if request.method != "POST":
            return view(request, *args, **kwargs)
        if "Noted" in request.headers:
            return take(request, lambda: view(request, *args, **kwargs))
        try:
            with transaction.atomic():
                response = view(request, *args, **kwargs)
                if _leads_on(response):
                    _settle(request)
                return response
        except Beside as found:
            return redirect(_keep_both(request, found))

    answered.notes_without_signal = True
    return answered


class _Told(NamedTuple):
    """What a phone says of an entry, in the headers of its request."""

    key: uuid.UUID
    whose: str
    label: str
    address: str
    noted: object
    phone_now: object

    @classmethod
    def by(cls, request):
        """Return what ``request`` tells; raise ValueError if its key is none."""
        headers = request.headers
        return cls(
            key=uuid.UUID(headers.get("Noted", "")),
            whose=request.META.get("HTTP_WHOSE", ""),
            label=_words(headers.get("Noted-Label", ""), 200),
            address=_words(headers.get("Noted-Address", ""), 400),
            noted=_moment(headers.get("Noted-At", "")),
            phone_now=_moment(headers.get("Phone-Now", "")),
        )


def _words(text, most):
    return unquote(text).replace("\0", "")[:most]


def _moment(text):
    """Return the moment that ``text`` tells with its offset; None if it tells none."""
    try:
        found = parse_datetime(text)
        return found.astimezone(UTC) if found and found.tzinfo else None
    except (ValueError, OverflowError):
        return None


def take(request, answer):
    """
    Return the JSON answer to what a phone noted: that of ``answer()``, or the one it got before.

    Two windows that send it at once wait for each other at the key.
    """
    try:
        told = _Told.by(request)
    except ValueError:
        return _refusal(_("The site could not read this."), 400)
    if told.whose != str(request.user.pk):
        return _refusal(_("This was noted by somebody else. It is not saved."), OTHER_ACCOUNT)
    with transaction.atomic():
        arrival, is_new = Arrival.objects.get_or_create(
            person=request.user,
            key=told.key,
            defaults={
                "address": told.address or request.path,
                "label": told.label or request.path,
                "noted": told.noted,
                "phone_now": told.phone_now or timezone.now(),
                "sent": typed(request),
                "shown": _shown(request),
            },
        )
        if is_new and (later := _come_of(arrival, request, answer)):
            transaction.set_rollback(True)
            return later
    return JsonResponse(arrival.told)


def _refusal(words, status):
    return JsonResponse({"problem": words}, status=status)


def typed(request):
    """Return what the posted form of ``request`` holds, as [name, value] pairs."""
    return [
        [name, value]
        for name, values in request.POST.lists()
        if name not in NOT_TYPED
        for value in values
    ]


def _shown(request):
    """Return what the phone showed as questions and answers; nothing if that cannot be read."""
    try:
        told = sent_json.read_object(request.POST.get("noted_shown", "{}").encode())
        pairs = told.get("shown", [])[:MOST_SHOWN]
        return [[str(asked), str(answer)] for asked, answer in pairs]
    except (ValueError, TypeError):
        return []


class _Said(BaseStorage):
    """Hears what a view has to say to its person, for one request; nothing is carried on."""

    def _get(self, *args, **kwargs):
        return [], True

    def _store(self, messages, response, *args, **kwargs):
        return []


def _come_of(arrival, request, answer):
    """
    Note on ``arrival`` what came of it by ``answer()``.

    Return None, or the response to give if it is to be sent again later.
    """
    kept, request._messages = request._messages, (heard := _Said(request))
    try:
        with transaction.atomic():
            response = answer()
            if response.status_code == WAIT or response.status_code >= 500:
                return response
            _read(arrival, response)
            if any(each.level >= messages.ERROR for each in heard):
                arrival.outcome = Outcome.REFUSED
            if arrival.outcome == Outcome.TAKEN:
                _settle(request)
    except Beside as found:
        _note_both(arrival, found)
    except Http404:
        arrival.outcome = Outcome.GONE
    except PermissionDenied:
        arrival.outcome = Outcome.GONE
        arrival.words = _("Your account may not do this.")
    request._messages = kept
    arrival.about = getattr(request, "noted_about", None)
    if arrival.about is not None and arrival.outcome == Outcome.GONE:
        _forget_words(arrival)
    arrival.words = arrival.words or " ".join(str(each) for each in heard)
    arrival.save()
    return None


def write_about(request, person):
    """Say that what ``request`` holds is about ``person``, somebody else's account, if any."""
    request.noted_about = person


def _forget_words(arrival):
    """Keep nothing of what was written about somebody whom its writer can no longer see."""
    arrival.about, arrival.sent, arrival.shown = None, [], []
    arrival.label = _("About somebody else")
    arrival.words = _(
        "The account was deleted, or you no longer look after this person. What you wrote is "
        "not kept."
    )


def _leads_on(response):
    return 300 <= response.status_code < 400


def _read(arrival, response):
    """Note on ``arrival`` what the ``response`` of its view says."""
    if _leads_on(response):
        arrival.outcome = Outcome.TAKEN
        arrival.where = response.url.partition("?")[0]
    elif response.status_code in (404, 410):
        arrival.outcome = Outcome.GONE
    else:
        context = getattr(response, "context_data", None) or {}
        arrival.outcome = Outcome.REFUSED
        arrival.problems = _problems(context)
        arrival.words = str(context.get("problem") or "")


def _problems(context):
    """Return what the bound forms in ``context`` complain of, as [question, words]."""
    forms = [each for each in context.values() if getattr(each, "is_bound", False)]
    return [
        [str(form[name].label) if name in form.fields else "", str(words)]
        for form in forms
        for name, found in form.errors.items()
        for words in found
    ]


def _settle(request):
    """Note that what an arrival had open is done by this form, if it says that it is of one."""
    pk = whole_number(request.POST.get("arrival", ""))
    if pk is not None and request.user.is_authenticated:
        mine = Arrival.objects.filter(person=request.user, pk=pk, settled=None)
        mine.update(settled=timezone.now())


def _note_both(arrival, found):
    arrival.outcome = Outcome.BESIDE
    arrival.sides, arrival.seen, arrival.instead = found.sides, found.seen, found.instead
    arrival.label = arrival.label or found.label
    arrival.settled = None


@transaction.atomic
def _keep_both(request, found):
    """Return the Arrival that keeps what a page sent beside what the site has."""
    sent = typed(request)
    pk = whole_number(request.POST.get("arrival", ""))
    mine = Arrival.objects.filter(person=request.user)
    arrival = None if pk is None else mine.filter(pk=pk).first()
    if arrival is None:
        # The same form sent twice, as an impatient thumb does, is kept once.
        name = f"{request.user.pk} {request.path} {sorted(map(tuple, sent))}"
        key = uuid.uuid5(uuid.NAMESPACE_URL, name)
        arrival, __ = mine.get_or_create(
            person=request.user,
            key=key,
            defaults={"address": request.path, "label": found.label, "outcome": Outcome.BESIDE},
        )
    arrival.sent, arrival.arrived = sent, timezone.now()
    _note_both(arrival, found)
    arrival.save()
    return arrival
