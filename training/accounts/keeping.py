"""What staff may do with accounts, and doing it: each change is noted in the log of the admin."""

from django.contrib.admin.models import ADDITION, CHANGE, LogEntry
from django.contrib.contenttypes.models import ContentType
from django.db import transaction
from django.urls import reverse
from django.utils.encoding import force_bytes
from django.utils.http import urlsafe_base64_encode
from django.utils.translation import gettext as _

from training.letters import gaps, sending, texts
from training.letters.models import Letter
from training.people import new_email, notices, second, sight
from training.people.models import AccountDeed, Group, Membership, Reach, Role, User
from training.register import harbors

from .tokens import tokens

Deed = AccountDeed.What


def may_change(by, person):
    """
    Return whether ``by``, of the staff, may change the account of ``person`` in reach.

    Nobody changes their own, so that somebody is always left who may; staff held to harbors
    change no staff, and none but an administrator changes an administrator.
    """
    if person.pk == by.pk or (person.is_superuser and not by.is_superuser):
        return False
    return by.sees_whole_fleet or not person.is_staff


def roles_for(by):
    """Return the choices of roles that ``by`` may give: staff held to harbors make no staff."""
    return [each for each in Role.choices if by.sees_whole_fleet or each[0] != Role.STAFF]


def groups_for(by):
    """Return the groups into which ``by`` may put somebody new."""
    return sight.rows(Group.objects.all(), by)


def all_harbors():
    """Return the names of the harbors that staff can be held to, in order."""
    named = Reach.objects.order_by().values_list("harbor", flat=True)
    return sorted({*harbors.names(), *named})


@transaction.atomic
def save(person, data, by, address, agreed_by=None):
    """
    Save ``data`` of the account of ``person``: name, role, reach, may sign in.

    Of another email both addresses are asked first, with links to the site at ``address``,
    unless there is nobody to ask; return whether they are. ``agreed_by`` is the second
    person, where it takes one (``asking.needs_second``). The person is told by mail of what
    is not the name.
    """
    before, email, wanted = told(person), person.email, data["email"].lower()
    for name in ("name", "role", "is_active"):
        setattr(person, name, data[name])
    # At once it would tell staff held to harbors whether another account has the email.
    at_once = by.sees_whole_fleet and new_email.may_change_at_once(person)
    asks = wanted != email and not at_once
    if asks:
        new_email.ask(person, wanted, address, by, agreed_by)
    else:
        person.email = wanted
    person.save(update_fields=["name", "email", "role", "is_active"])
    if by.sees_whole_fleet:
        _give_reach(person, data)
    after = told(person)
    words = changes(before, after)
    if asks:
        words.append(_("asked for the email {email}").format(email=wanted))
    if words:
        note(person, by, CHANGE, _agreed("; ".join(words), agreed_by))
    _tell(person, before, after, by)
    if person.email != email:
        second.note(person, Deed.EMAIL, by, agreed_by)
        what = _("The email of your account was changed to {email}.").format(email=person.email)
        notices.tell(person, what, by, to=email)
    if deed := _deed(before, after):
        second.note(person, deed, by, agreed_by)
    return asks


def _agreed(words, agreed_by):
    if agreed_by is None:
        return words
    return _("{words} (agreed by {name})").format(words=words, name=agreed_by)


def _tell(person, before, after, by):
    role, active = _("role"), _("may sign in")
    if before[role] != after[role]:
        notices.tell(person, notices.role_changed(person), by)
    if before[active] != after[active]:
        notices.tell(person, notices.OPENED if person.is_active else notices.CLOSED, by)


@transaction.atomic
def close(person):
    """Close the account of ``person`` for the machine itself, and mail them."""
    person.is_active = False
    person.save(update_fields=["is_active"])
    note(person, person, CHANGE, _("Closed by a command, on the site's own machine."))
    second.note(person, Deed.CLOSED, None)
    notices.tell(person, notices.CLOSED)


def _deed(before, after):
    """Return the deed by which one comes to do other things, None if there is none."""
    changed = {name for name in after if after[name] != before[name]}
    if _("role") in changed:
        return Deed.ROLE
    if _("may sign in") in changed:
        return Deed.OPENED if after[_("may sign in")] == _("yes") else Deed.CLOSED
    return Deed.REACH if changed & {_("whole fleet"), _("harbors")} else None


def changes(before, after):
    """Return what differs between two of ``told``, as sentences."""
    return [
        _("{what}: {before} → {after}").format(what=what, before=before[what], after=said)
        for what, said in after.items()
        if said != before[what]
    ]


def told(person):
    """Return what is noted of ``person`` when it changes, by its name."""
    harbors_held = list(person.reaches.values_list("harbor", flat=True))
    names = ("name", "email", "role", "is_active", "whole_fleet")
    return said({name: getattr(person, name) for name in names} | {"harbors": harbors_held})


def said(data):
    """Return ``data``, the entries of an account, in words by their names."""
    return {
        _("name"): data["name"],
        _("email"): data["email"],
        _("role"): str(Role(data["role"]).label),
        _("may sign in"): _("yes") if data.get("is_active", True) else _("no"),
        _("whole fleet"): _("yes") if data.get("whole_fleet") else _("no"),
        _("harbors"): ", ".join(sorted(data.get("harbors", ()))) or _("none"),
    }


def _give_reach(person, data):
    """Have ``person``, if of the staff, look after what ``data`` says; others look after none."""
    is_staff = person.role == Role.STAFF
    chosen = data["harbors"] if is_staff else []
    person.whole_fleet = is_staff and data["whole_fleet"]
    person.save(update_fields=["whole_fleet"])
    person.reaches.exclude(harbor__in=chosen).delete()
    held = set(person.reaches.values_list("harbor", flat=True))
    Reach.objects.bulk_create(
        Reach(user=person, harbor=harbor) for harbor in chosen if harbor not in held
    )


def note(person, by, flag, words):
    """Note in the log of the admin that ``by`` did what ``words`` say to ``person``."""
    LogEntry.objects.create(
        user=by,
        content_type=ContentType.objects.get_for_model(User),
        object_id=str(person.pk),
        object_repr=str(person)[:200],
        action_flag=flag,
        change_message=words,
    )


def log_of(person):
    """Return what was noted of the account of ``person``, the latest first."""
    kind = ContentType.objects.get_for_model(User)
    found = LogEntry.objects.filter(content_type=kind, object_id=str(person.pk))
    return found.select_related("user").order_by("-action_time", "-pk")


@transaction.atomic
def make(data, by, agreed_by=None):
    """Return the new account of ``data``, without a password, in its group and for its harbors."""
    person = User.objects.create_user(data["email"], name=data["name"], role=data["role"])
    if data["group"]:
        Membership.objects.create(group=data["group"], user=person)
    if by.sees_whole_fleet:
        _give_reach(person, data)
    note(person, by, ADDITION, _agreed(_("Account made."), agreed_by))
    second.note(person, Deed.MADE, by, agreed_by)
    return person


def invite(person, by, key, address):
    """
    Mail ``person`` a link to set a password, once for each ``key``; return whether it went out.

    Raise OSError if it cannot be sent. The link itself is kept nowhere.
    """
    text = texts.current(texts.INVITATION)
    values = {"site": f"{address}/", "role": person.get_role_display()}
    letter, __ = Letter.objects.get_or_create(
        key=key,
        defaults={
            "purpose": Letter.Purpose.INVITATION,
            "subject": gaps.fill(text.subject, values),
            "body": gaps.fill(text.body, values),
            "person": person,
            "by": by,
        },
    )
    uid = urlsafe_base64_encode(force_bytes(person.pk))
    path = reverse("accounts:welcome", args=[uid, tokens.make_token(person)])
    return sending.note_sent(letter, person, address, {"link": address + path})
