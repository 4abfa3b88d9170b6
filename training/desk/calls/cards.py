"""One card for each person or vessel to call: why, how to reach them, what was said before."""

from collections.abc import Callable
from typing import NamedTuple

from django.db.models import Prefetch
from django.urls import reverse
from django.utils import timezone

from training.people.models import User, with_groups
from training.register.models import Crew, Vessel

from ..models import CallGiven, CallNote
from ..trainees import groups_of, people
from .contacts import Contact, contact, crew_contacts
from .listing import KINDS, explained, givings, on_list, to_call
from .reasons import REASONS, Reason


class Why(NamedTuple):
    """A Reason to call, and the sentence that says so of one person or vessel."""

    reason: Reason
    words: str


class CallCard(NamedTuple):
    """
    A person or a vessel to call.

    ``of`` is what it is, "person" or "vessel"; ``calls`` are those that stand, the latest first;
    ``given`` says to whom the call was given, None if to nobody.
    """

    of: str
    called: User | Vessel
    whys: list[Why]
    contacts: list[Contact]
    harbors: str
    is_demo: bool
    calls: list[CallNote]
    given: CallGiven | None

    @property
    def name(self):
        return self.called.name

    @property
    def url(self):
        """The page of the call: its notes, and the form to add one."""
        return reverse("desk:call", args=[self.of, self.called.pk])

    @property
    def id(self):
        """What the card is called on a page."""
        return f"{self.of}-{self.called.pk}"

    @property
    def others(self):
        """How many reasons there are besides the first."""
        return len(self.whys) - 1

    @property
    def last(self):
        """The last call, None if nobody called yet."""
        return self.calls[0] if self.calls else None

    @property
    def agreed(self):
        """The day to come on which to call again, None if none was agreed."""
        deciding = next((each for each in self.calls if each.decides), None)
        day = deciding and deciding.again
        return day if day and day > timezone.localdate() else None


class Sort(NamedTuple):
    """What cards of people, and those of vessels, differ in."""

    rows: Callable
    contacts: Callable
    harbors: Callable
    is_demo: Callable


def _harbors(person):
    return ", ".join(dict.fromkeys(each.harbor for each in groups_of(person) if each.harbor))


SORTS = {
    "person": Sort(
        rows=lambda: people().select_related("tally").prefetch_related(with_groups()),
        contacts=lambda person: [contact(person)],
        harbors=_harbors,
        is_demo=lambda person: any(each.is_demo for each in groups_of(person)),
    ),
    "vessel": Sort(
        # The crew with their users by a join, for the reason that with_groups gives.
        rows=lambda: Vessel.objects.select_related("standing").prefetch_related(
            Prefetch("crew", Crew.objects.select_related("user"))
        ),
        contacts=crew_contacts,
        harbors=lambda vessel: vessel.harbor,
        is_demo=lambda vessel: vessel.is_demo,
    ),
}


def _calls(of, pks):
    """Return {number: [CallNote]}, those that stand, the latest first."""
    found = {pk: [] for pk in pks}
    for each in CallNote.objects.standing().filter(**{f"{of}__in": pks}).select_related("by"):
        found[getattr(each, f"{of}_id")].append(each)
    return found


def _whys(of, pks, user, listed):
    """
    Return {number: [Why]} of those with ``pks`` who are on the list of ``user``.

    That is ``listed``, as ``on_list`` has it; where it is None each reason is asked.
    """
    found = {pk: [] for pk in pks}
    for reason in REASONS:
        if reason.of != of:
            continue
        if listed is None:
            rows = to_call(reason, user).filter(pk__in=pks)
        else:
            some = [pk for pk in pks if reason in listed[of, pk]]
            rows = explained(reason).filter(pk__in=some) if some else ()
        for called in rows:
            found[called.pk].append(Why(reason, reason.why(called)))
    return found


def cards(keys, user, listed=None):
    """
    Return a CallCard for each of ``keys``, (kind, number) as ``on_list`` has them, in their order.

    ``listed`` is what ``on_list`` found, if it was asked.
    In as many queries for many as for few; whoever is gone is left out.
    """
    found = {}
    for of in KINDS:
        pks = [pk for kind, pk in keys if kind == of]
        sort = SORTS[of]
        whys, calls = _whys(of, pks, user, listed), _calls(of, pks)
        given = givings(**{f"{of}__in": pks})
        for called in sort.rows().filter(pk__in=pks):
            found[of, called.pk] = CallCard(
                of,
                called,
                whys[called.pk],
                sort.contacts(called),
                sort.harbors(called),
                sort.is_demo(called),
                calls[called.pk],
                given.get((of, called.pk)),
            )
    return [found[key] for key in keys if key in found]


def urgent(user, most=10):
    """Return the CallCards of whom ``user`` should call first, ``most`` at most."""
    listed = on_list(user)
    return cards(list(listed)[:most], user, listed)
