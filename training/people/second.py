"""
Where two have to agree, one person is not two: who can stand beside whom.

A second account of the first person would make the second agreement worth nothing. So the
second has an account with its role from before the thing was asked for, which neither the
first nor anybody whose account the first has in hand made or changed, and another mailbox.
"""

from functools import cached_property

from django.db.models import Max, Q
from django.utils.translation import gettext as _

from .models import AccountDeed, EmailChange, Role, User

What = AccountDeed.What
# From each of these on somebody can be a second person who could not before.
RAISING = (What.MADE, What.ROLE, What.REACH, What.OPENED)


def note(person, what, by, agreed_by=None):
    """Keep that ``by``, None for the machine, did ``what`` to the account of ``person``."""
    return AccountDeed.objects.create(person=person, what=what, by=by, agreed_by=agreed_by)


def mailbox(email):
    """Return where mail to ``email`` arrives: what follows a plus is its owner's (RFC 5233)."""
    local, __, domain = email.strip().lower().rpartition("@")
    return f"{local.partition('+')[0]}@{domain}"


class Beside:
    """
    Beside whom ``person``, who is signed in, can stand.

    It looks up once what it needs, however many things it is asked about.
    """

    def __init__(self, person):
        self.person = person

    def why_not(self, first, begun):
        """
        Return a sentence that says why not beside ``first``, who asked at ``begun``.

        Empty if the two can agree on it.
        """
        return self.no_other_than(first) or self._no_second(begun)

    def no_other_than(self, first):
        """Return a sentence if this could be ``first`` himself; empty if it is somebody else."""
        if self.person.pk == first.pk:
            return _("You asked for this yourself. A second person has to agree.")
        if first.pk in self.holders:
            return _(
                "Your account was made or changed by {name}, or by somebody whose account was. "
                "Another person has to agree."
            ).format(name=first)
        if first.pk in self.twins:
            return _(
                "Your email and that of {name} lead to one mailbox. Another person has to agree."
            ).format(name=first)
        return ""

    def _no_second(self, begun):
        if not (self.person.is_active and self.person.sees_whole_fleet):
            return _("Staff who look after the whole fleet have to agree to this.")
        if self.since >= begun:
            return _(
                "This was asked for before your account had its present role. Somebody who had "
                "theirs by then has to agree."
            )
        return ""

    @cached_property
    def holders(self):
        """Keys of the people who made or changed the account, and of those behind them."""
        found, asked = set(), {self.person.pk}
        while asked:
            deeds = AccountDeed.objects.order_by().filter(person__in=asked, by__isnull=False)
            asked = set(deeds.values_list("by", flat=True)) - found
            found |= asked
        return found - {self.person.pk}

    @cached_property
    def twins(self):
        """Keys of other people with a mailbox that is, or was, the person's as well."""
        left = EmailChange.objects.order_by().filter(settled__isnull=False)
        before = left.filter(person=self.person).values_list("old", flat=True)
        own = {mailbox(each) for each in (self.person.email, *before)}
        others = User.objects.order_by().filter(_alike("email", own))
        others_left = left.filter(_alike("old", own))
        found = {
            *others.values_list("pk", "email"),
            *others_left.values_list("person", "old"),
        }
        return {pk for pk, email in found if mailbox(email) in own} - {self.person.pk}

    @cached_property
    def since(self):
        """The moment from which the account has been what it is."""
        raised = self.person.deeds.filter(what__in=RAISING).order_by("made").last()
        return max(self.person.joined, raised.made) if raised else self.person.joined


def _alike(field, mailboxes):
    """Return the Q of addresses in ``field`` that may lead to one of ``mailboxes``."""
    found = Q(pk=None)
    for each in mailboxes:
        local, __, domain = each.rpartition("@")
        found |= Q(**{f"{field}__startswith": local, f"{field}__endswith": f"@{domain}"})
    return found


class Able:
    """Who can be a second person; what several things need alike is looked up once."""

    def __init__(self):
        self._barred = {}

    def beside(self, first, begun, apart_from=None):
        """
        Return the people who can stand beside ``first`` for what was asked at ``begun``, by name.

        ``apart_from`` is one whom it is about, and who must not be behind any of them.
        """
        barred = self._barred_by(first) | (self._barred_by(apart_from) if apart_from else set())
        return [each for each in self._staff if each.since < begun and each.pk not in barred]

    @cached_property
    def _staff(self):
        whole_fleet = Q(role=Role.STAFF, whole_fleet=True) | Q(is_superuser=True)
        raised = Max("deeds__made", filter=Q(deeds__what__in=RAISING))
        found = User.objects.filter(whole_fleet, is_active=True).annotate(raised=raised)
        found = list(found.order_by("name", "pk"))
        for each in found:
            each.since = max(each.joined, each.raised or each.joined)
        return found

    def _barred_by(self, first):
        if first.pk not in self._barred:
            self._barred[first.pk] = {first.pk} | _held_by(first) | Beside(first).twins
        return self._barred[first.pk]


def able(first, begun, apart_from=None):
    """Return whom ``Able.beside`` does, for one thing."""
    return Able().beside(first, begun, apart_from)


def _held_by(first):
    """Return the keys of those whose accounts ``first`` has in hand, by way of others too."""
    found, asked = set(), {first.pk}
    while asked:
        deeds = AccountDeed.objects.order_by().filter(by__in=asked)
        asked = set(deeds.values_list("person", flat=True)) - found
        found |= asked
    return found


def why_not(second, first, begun):
    """Return why ``second`` cannot stand beside ``first`` for what was asked at ``begun``."""
    return Beside(second).why_not(first, begun)
