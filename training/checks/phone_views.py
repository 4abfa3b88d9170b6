"""The check sheet on a phone: a page that opens without a connection, and what it sends."""

import uuid
from functools import wraps

from django.http import HttpResponse, JsonResponse
from django.http.request import RawPostDataException
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.csrf import ensure_csrf_cookie
from django.views.decorators.http import require_POST, require_safe

from rigs.check import sheet as sheets
from rigs.check.steps import QUESTIONS, STEPS, names_offered
from rigs.check.whole import every_fishery
from rigs.rules.wording import FROM_MEMORY
from training.deck import signal
from training.deck.scripts import source
from training.deck.sent_json import NotTaken, NotWhole, read_object
from training.people import sight

from . import keeping, known, phone_page, photos
from .finding import own_sheet
from .forms import NotesForm, QuestionsForm
from .head_form import VESSELS, StartForm, every_version
from .save_form import SaveForm, ThrownForm, said


def _steps(form):
    """Return every step with its fields, in the order of the deck."""
    asked = {each.question.name: each for each in form.asked}
    return [(step, [asked[question.name] for question in step.questions]) for step in STEPS]


@signal.opens
@never_cache
@ensure_csrf_cookie
@sight.officers
@require_safe
def check_phone(request):
    """
    Show the page on which sheets are filled in on a phone.

    Nothing on it tells of any sheet: those are on the phone itself. It holds the steps and
    the limits of every rule set for gear and of every fishery, in all versions, and whose
    page it is.
    """
    books = tuple(dict.fromkeys((*every_version(), *every_fishery())))
    vessels = known.known(request.user)
    form = QuestionsForm(questions=tuple(QUESTIONS.values()))
    context = {
        "steps": _steps(form),
        "start": StartForm(auto_id="start_%s"),
        "notes": NotesForm(),
        "names_offered": names_offered(),
        "books": books,
        "from_memory": FROM_MEMORY,
        "list": VESSELS,
        "vessels": vessels,
        "rules": {
            "user": request.user.pk,
            "vessels": [vessel._asdict() for vessel in vessels],
            "books": [sheets.for_the_phone(book) for book in books],
            "reading": sheets.reading_rules(),
        },
    }
    context |= phone_page.more(request, context["rules"])
    return render(request, "checks/check_phone.html", context)


@never_cache
@sight.anyone
@require_safe
def check_worker(request):
    """
    Send the script that ends the worker which once was of check sheets alone.

    Phones that have it ask for it here. The worker of the whole site does what it did.
    """
    return HttpResponse(source("js/check_worker.js"), content_type="text/javascript")


def held(sheet, save=None):
    """
    Return what the site holds of ``sheet``, for the phone.

    ``save`` is the CheckRevision it has just sent; else that which is shown is meant.
    """
    if save is None:
        save = sheet.revisions.filter(number=sheet.revision, device=sheet.device).first()
    arrived = sheet.readings.values_list("entry", "arrived")
    return {
        "key": str(sheet.key),
        "revision": sheet.revision,
        "device": sheet.device,
        "finished": sheet.finished is not None,
        "content": keeping.content_of(sheet) | {"day": sheet.day.isoformat()},
        "tally": str(sheet.tally),
        "counts": {
            "outside": sheet.outside,
            "within": sheet.within,
            "not_measured": sheet.not_measured,
        },
        "versions": sheet.versions,
        "parted": save.parted if save else "",
        "arrived": {entry: moment.isoformat() for entry, moment in arrived},
        "code": sheet.code,
        "unread": sheet.unread,
        "photos": [str(photo.key) for photo in sheet.photos.all()],
        "address": sheet.get_absolute_url(),
    }


def _refused(words, status, **more):
    return JsonResponse({"problem": words, **more}, status=status)


def _of_phone(view):
    """
    Hand ``view`` the object that the phone sent; refuse what is none.

    What did not arrive whole is asked for again, 400; what would not be otherwise is not, 422.
    """

    @wraps(view)
    def reading(request):
        try:
            sent = read_object(request.body)
        except (NotWhole, RawPostDataException):  # the latter for a form, which was read as one
            return _refused(_("The sheet did not arrive whole. Send it again."), 400)
        except NotTaken as error:
            return _refused(str(error), 422)
        return view(request, sent)

    return reading


@sight.officers
@require_POST
@_of_phone
def check_send(request, sent):
    """
    Take in one save of a sheet from a phone and answer with what the site holds.

    The same save sent again is taken in once. A save made under another account than the
    one signed in is refused: 409.
    """
    form = SaveForm(sent)
    if not form.is_valid():
        fields = {name: " ".join(words) for name, words in form.errors.items()}
        return _refused(form.problems, 422, fields=fields, again_from=form.again_from)
    told = form.cleaned_data
    if told["user"] != request.user.pk:
        return _refused(
            _("This was written under another account. Sign in with that account to send it."), 409
        )
    mark = {"device": str(told["device"]), "number": told["number"]}
    more = {"hands_in": told["hands_in"], "said": said(sent.get("said"))}
    try:
        sheet = keeping.keep(request.user, told["key"], content=form.content, **mark, **more)
    except keeping.NotTheirs:
        return _refused(
            _("This sheet belongs to another account. Sign in with that account to send it."), 409
        )
    return JsonResponse(held(sheet, sheet.revisions.get(**mark)))


@sight.officers
@require_POST
@_of_phone
def check_thrown(request, sent):
    """Keep that a sheet was thrown away on the phone, and why; the same again is kept once."""
    form = ThrownForm(sent)
    if not form.is_valid():
        return _refused(form.problems, 422)
    told = form.cleaned_data
    if told["user"] != request.user.pk:
        return _refused(
            _("This was written under another account. Sign in with that account to send it."), 409
        )
    try:
        keeping.throw_away(request.user, told["key"], told["reason"], told["at"], told["content"])
    except keeping.NotTheirs:
        return _refused(
            _("This sheet belongs to another account. Sign in with that account to send it."), 409
        )
    except keeping.IsTurnedIn:
        return _refused(_("This sheet is turned in. Correct it on the site instead."), 409)
    return HttpResponse(status=204)


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
