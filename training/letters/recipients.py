"""Whom a letter is for, as its address says, and who of them is left out."""

from typing import NamedTuple

from django.http import Http404
from django.utils.translation import gettext as _

from rigs.words.say import gettext_lazy
from training.deck.numbers import whole_number
from training.deck.plain import counted
from training.desk.narrowing import PeopleForm
from training.desk.trainees import people
from training.people import phones, sight
from training.people.models import Group, Session, User

from . import gaps
from .models import Letter, LetterTo

MOST = 1000
"""How many people one letter may be for."""

NOBODY = gettext_lazy("There is nobody to write to here.")

Why = LetterTo.Why


class Target(NamedTuple):
    """Whom a letter is for, a queryset of people, and what it is about, if anything."""

    people: object
    words: str
    group: Group | None = None
    session: Session | None = None
    person: User | None = None

    @property
    def known(self):
        """The gaps that a letter to them may have."""
        about = (*gaps.OF_PERSON, *gaps.OF_SITE)
        about += gaps.OF_GROUP if self.group else ()
        return about + (gaps.OF_SESSION if self.session else ())

    def values(self, address):
        """Return what fills the gaps that are the same for all of them."""
        found = {"site": f"{address}/"}
        if self.group:
            found["group"] = self.group.name
        return found | (gaps.of_session(self.session, address) if self.session else {})


def target(query, user):
    """
    Return the Target that ``query``, of an address, names to the member of staff ``user``.

    Raise Http404 if ``user`` does not look after it.
    """
    if number := query.get("person"):
        person = _one(people(), number, user)
        return Target(User.objects.filter(pk=person.pk), person.name, person=person)
    if number := query.get("session"):
        session = _one(Session.objects.select_related("group"), number, user)
        found = sight.rows(people(session.group), user)
        return Target(found, session.group.name, session.group, session)
    form = PeopleForm(query, sight.rows(Group.objects.all(), user))
    found, (group, text) = form.found(user), form.chosen()
    if form.errors:
        # A list takes what it does not understand as left empty: a letter must not go to more.
        raise Http404(NOBODY)
    if text or form.words():
        return Target(found, _("people chosen from the list"))
    return Target(found, group.name if group else _("everybody you look after"), group)


def _one(queryset, number, user):
    pk = whole_number(number)
    found = sight.rows(queryset, user).filter(pk=pk).first()
    if found is None:
        raise Http404(NOBODY)
    return found


def why_not(user, means):
    """Return the Why for which ``user`` gets no letter by ``means``; empty if they get it."""
    if not user.is_active:
        return Why.CLOSED
    if means == Letter.Means.PHONE:
        return Why.NONE if phones.to_text(user.phone) else Why.NO_PHONE
    return Why.NONE if user.wants_mail else Why.NO_MAIL


class LeftOut(NamedTuple):
    """Somebody who does not get a letter, and the Why in words."""

    user: User
    why: str


class Recipients(NamedTuple):
    """Who gets a letter, and who does not."""

    get: list[User]
    left_out: list[LeftOut]

    @property
    def words(self):
        """How many get it, as in "Send to 12 people"."""
        return counted(len(self.get), _("person"), _("people"))


def split(found, means):
    """Return the Recipients among ``found``, people, of a letter by ``means``."""
    get, left_out = [], []
    for user in found:
        why = why_not(user, means)
        if why:
            left_out.append(LeftOut(user, Why(why).label))
        else:
            get.append(user)
    return Recipients(get, left_out)
