"""Making staff, having them do more or less, and closing theirs takes two: one asks, one agrees."""

from uuid import uuid4

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from training.people import second
from training.people.models import Group, Role, User

from . import keeping
from .models import AccountRequest

Outcome = AccountRequest.Outcome


class MayNotDecide(ValueError):
    """A request that cannot be decided so; the message says why."""


def needs_second(person, data):
    """
    Return whether a second person has to agree that the account becomes what ``data`` says.

    ``person`` is None where there is no account yet.
    """
    return _raises(person, data) or _lowers(person, data)


def _lowers(person, data):
    """Return whether somebody on the staff is closed, or no longer staff, or loses harbors."""
    if person is None or not (person.is_staff and person.is_active):
        return False
    if data["role"] != person.role or not data.get("is_active", True):
        return True
    if person.whole_fleet or data.get("whole_fleet"):
        return not data.get("whole_fleet")
    return bool(_harbors(person) - set(data["harbors"]))


def _harbors(person):
    return {each.harbor for each in person.reaches.all()}


def _raises(person, data):
    """
    Return whether somebody comes to do more, or could be somebody else.

    So it is where somebody becomes staff, comes back as staff, sees more harbors, or, being
    staff, gets another address.
    """
    if data["role"] != Role.STAFF or not data.get("is_active", True):
        return False
    if person is None or not (person.is_staff and person.is_active):
        return True
    more = set(data.get("harbors", ())) - _harbors(person)
    widened = data.get("whole_fleet") and not person.whole_fleet
    narrowed = person.whole_fleet and not data.get("whole_fleet", True)
    return bool(widened or (more and not narrowed) or data["email"] != person.email)


def waiting_for(person):
    """Return the AccountRequest about ``person`` that waits, or None."""
    found = AccountRequest.objects.filter(person=person, outcome=Outcome.WAITING)
    return found.select_related("person", "by").first()


@transaction.atomic
def ask(person, data, by, key=None):
    """
    Return the AccountRequest of ``by`` that the account of ``person`` become as ``data``.

    The same form sent twice asks once, and of one account one request waits at a time.
    """
    if person:
        User.objects.select_for_update(no_key=True).get(pk=person.pk)
        if found := waiting_for(person):
            return found
    wanted = {name: value for name, value in data.items() if name != "key"}
    wanted["group"] = data["group"].pk if data.get("group") else None
    found, __ = AccountRequest.objects.get_or_create(
        key=key or uuid4(), defaults={"person": person, "wanted": wanted, "by": by}
    )
    return found


def differences(request):
    """Return what would change, as sentences; what a new account would be, if there is none."""
    wanted = keeping.said(request.wanted)
    if request.person is None:
        return [_("{what}: {value}").format(what=what, value=said) for what, said in wanted.items()]
    return keeping.changes(keeping.told(request.person), wanted)


def only_takes_away(request):
    """Return whether the person of ``request``, which waits, would do less by it and no more."""
    return bool(request.person) and not _raises(request.person, request.wanted)


def hindrance(request, beside):
    """Return why the person of ``beside`` cannot agree to ``request``; empty if they can."""
    if not (request.by.is_active and request.by.sees_whole_fleet):
        return _(
            "{name}, who asked, no longer looks after the whole fleet. Turn it down, and ask for "
            "it yourself."
        ).format(name=request.by)
    if request.person_id == beside.person.pk:
        # Whatever is behind the account: who gives up their own work harms nobody by it.
        if only_takes_away(request):
            return ""
        return _("This is your own account. Somebody else has to agree.")
    return beside.why_not(request.by, request.made)


def able(request, everybody):
    """Return the people who can agree to ``request``, by name; ``everybody`` is second.Able."""
    found = everybody.beside(request.by, request.made)
    found = [each for each in found if each.pk != request.person_id]
    if only_takes_away(request) and request.person.sees_whole_fleet:
        found.append(request.person)
    return found


def to_agree(beside):
    """Return the AccountRequests that wait for the person of ``beside``, the oldest first."""
    if not beside.person.sees_whole_fleet:
        return []
    found = AccountRequest.objects.filter(outcome=Outcome.WAITING).select_related("person", "by")
    return [each for each in found if not hindrance(each, beside)]


@transaction.atomic
def agree(request, by, address):
    """
    Make or change the account as ``request`` asks, ``by`` being the second person.

    ``address`` is where the site is found. Twice is once. Return the request. Raise
    MayNotDecide if ``by`` cannot agree, if it is decided otherwise, and if the email has
    been taken since.
    """
    # Both are held, or two who close each other would leave an office with nobody.
    people = {request.by_id, request.person_id} - {None}
    list(User.objects.select_for_update(no_key=True).filter(pk__in=people).order_by("pk"))
    held = _held(request)
    if held.outcome == Outcome.AGREED and held.decided_by_id == by.pk:
        return held
    _must_wait(held)
    if why := hindrance(held, second.Beside(by)):
        raise MayNotDecide(why)
    data = dict(held.wanted)
    if User.objects.filter(email=data["email"].lower()).exclude(pk=held.person_id).exists():
        raise MayNotDecide(
            _("Another account has this email by now. Turn this down and ask again.")
        )
    if held.person is None:
        data["group"] = Group.objects.filter(pk=data["group"]).first() if data["group"] else None
        held.person = keeping.make(data, held.by, by)
    else:
        keeping.save(held.person, data, held.by, address, by)
    return _decide(held, Outcome.AGREED, by)


@transaction.atomic
def turn_down(request, by):
    """
    Turn ``request`` down, which any other of the staff may; twice is once.

    Raise MayNotDecide for who asked, and for who would lose something by it.
    """
    held = _held(request)
    if held.outcome == Outcome.TURNED_DOWN:
        return held
    _must_wait(held)
    if held.by_id == by.pk:
        raise MayNotDecide(_("You asked for it. Take it back instead."))
    if held.person_id == by.pk and only_takes_away(held):
        raise MayNotDecide(_("This is your own account. Somebody else turns it down."))
    return _decide(held, Outcome.TURNED_DOWN, by)


@transaction.atomic
def take_back(request, by):
    """Take back ``request``, which ``by`` made; twice is once."""
    held = _held(request)
    if held.by_id != by.pk:
        raise MayNotDecide(_("Only the person who asked for it can take it back."))
    if held.outcome == Outcome.TAKEN_BACK:
        return held
    _must_wait(held)
    return _decide(held, Outcome.TAKEN_BACK, by)


def _held(request):
    # Held until it is decided, so that of two who decide at once the second sees the first.
    return AccountRequest.objects.select_for_update().get(pk=request.pk)


def _must_wait(held):
    if not held.waits:
        raise MayNotDecide(
            _("This was decided before: {outcome}.").format(outcome=held.get_outcome_display())
        )


def _decide(held, outcome, by):
    held.outcome, held.decided_by, held.decided, held.wanted = outcome, by, timezone.now(), {}
    held.save(update_fields=["outcome", "decided_by", "decided", "wanted", "person"])
    return held
