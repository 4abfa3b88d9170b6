"""The check sheet on a phone: a page that opens without a connection, and what it sends."""

import json
import uuid

from django.http import HttpResponse, JsonResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.csrf import ensure_csrf_cookie
from django.views.decorators.http import require_POST, require_safe

from rigs.check import sheet as sheets
from rigs.check.steps import QUESTIONS, STEPS
from rigs.rules.wording import FROM_MEMORY
from training.people import sight

from . import keeping, offline, photos
from .finding import own_sheet
from .forms import NotesForm, QuestionsForm, SaveForm, StartForm, every_version


def _steps(form):
    """Return every step with its fields, in the order of the deck."""
    asked = {each.question.name: each for each in form.asked}
    return [(step, [asked[question.name] for question in step.questions]) for step in STEPS]


@never_cache
@ensure_csrf_cookie
@sight.officers
@require_safe
def check_phone(request):
    """
    Show the page on which sheets are filled in on a phone.

    Nothing on it tells of any sheet: those are on the phone itself. It holds the steps and
    the limits of every rule set for gear, in all versions, and whose page it is.
    """
    books = every_version()
    form = QuestionsForm(questions=tuple(QUESTIONS.values()))
    context = {
        "steps": _steps(form),
        "start": StartForm(auto_id="start_%s"),
        "notes": NotesForm(),
        "books": books,
        "from_memory": FROM_MEMORY,
        "rules": {
            "user": request.user.pk,
            "books": [sheets.for_the_phone(book) for book in books],
            "reading": sheets.reading_rules(),
        },
    }
    return render(request, "checks/check_phone.html", context)


@never_cache
@sight.anyone
@require_safe
def check_worker(request):
    """
    Send the script that keeps the phone's page at hand without a connection.

    It stands below the check sheets' own address and so can reach no other page.
    """
    return HttpResponse(offline.worker(), content_type="text/javascript")


def held(sheet):
    """Return what the site holds of ``sheet``, for the phone."""
    return {
        "key": str(sheet.key),
        "revision": sheet.revision,
        "device": sheet.device,
        "finished": sheet.finished is not None,
        "content": keeping.content_of(sheet) | {"day": sheet.day.isoformat()},
        "tally": str(sheet.tally),
        "unread": sheet.unread,
        "photos": [str(photo.key) for photo in sheet.photos.all()],
        "address": sheet.get_absolute_url(),
    }


def _refused(words, status):
    return JsonResponse({"problem": words}, status=status)


def _problems(form):
    labels = {name: form.fields[name].label or name for name in form.fields}
    return " ".join(
        f"{labels[name]}: {' '.join(errors)}" if name in labels else " ".join(errors)
        for name, errors in form.errors.items()
    )


@sight.officers
@require_POST
def check_send(request):
    """
    Take in one save of a sheet from a phone and answer with what the site holds.

    The same save sent again is taken in once. A save made under another account than the
    one signed in is refused: 409.
    """
    try:
        sent = json.loads(request.body)
    except ValueError:
        sent = None
    if not isinstance(sent, dict):
        return _refused(_("The sheet did not arrive whole. Send it again."), 400)
    form = SaveForm(sent)
    if not form.is_valid():
        return _refused(_problems(form), 422)
    told = form.cleaned_data
    if told["user"] != request.user.pk:
        return _refused(
            _("This was written under another account. Sign in with that account to send it."), 409
        )
    content = {name: told[name] for name in keeping.CONTENT}
    try:
        sheet = keeping.keep(
            request.user,
            told["key"],
            str(told["device"]),
            told["number"],
            content,
            told["hands_in"],
        )
    except keeping.NotTheirs:
        return _refused(
            _("This sheet belongs to another account. Sign in with that account to send it."), 409
        )
    return JsonResponse(held(sheet))


@never_cache
@sight.officers
@require_safe
def check_held(request, key):
    """Answer with what the site holds of one's own sheet."""
    return JsonResponse(held(own_sheet(request, key)))


@sight.officers
@require_POST
def check_add_photo(request, key):
    """Take in one photo of a sheet; the same photo sent again is taken in once."""
    sheet = own_sheet(request, key)
    if request.POST.get("user") != str(request.user.pk):
        return _refused(
            _("This photo was taken under another account. Sign in with that account to send it."),
            409,
        )
    if request.POST.get("key") not in sheet.photo_keys or "photo" not in request.FILES:
        return _refused(_("This photo is not on the sheet. Add it again."), 422)
    try:
        image = photos.fit(request.FILES["photo"])
        keeping.add_photo(sheet, uuid.UUID(request.POST["key"]), image)
    except photos.PhotoError as error:
        return _refused(str(error), 422)
    except keeping.NotTheirs:
        return _refused(_("This photo belongs to another sheet. Add it again."), 409)
    return HttpResponse(status=204)
