"""Finding people, vessels, certificates and groups by what staff have at hand of them."""

import re
from typing import NamedTuple

from django.db.models import Q
from django.urls import reverse
from django.utils.translation import gettext as _

from training.certification.models import Certificate
from training.deck.codes import tidy_code
from training.people import sight
from training.people.models import Group, User
from training.register.models import Vessel

SHOWN = 10  # of each kind
MOST_WORDS = 6
SHORTEST_CODE = 4  # letters of a code that are worth looking for
SHORTEST_NUMBER = 4  # digits of a phone number


class Hit(NamedTuple):
    """One that was found: its name, its page, and a line that tells it from its namesakes."""

    name: str
    url: str
    about: str


class Found(NamedTuple):
    """The hits of one kind under a heading; ``more`` says that there are others."""

    heading: str
    hits: list
    more: bool


def _begins(field, word):
    """Return the Q: a word in ``field`` begins with ``word``."""
    return Q(**{f"{field}__istartswith": word}) | Q(**{f"{field}__icontains": f" {word}"})


def _all_words(text, *fields):
    """Return the Q: each word of ``text`` begins a word of one of ``fields``."""
    asked = Q()
    for word in text.split()[:MOST_WORDS]:
        one = Q()
        for field in fields:
            one |= _begins(field, word)
        asked &= one
    return asked


def _people(text, user):
    asked = _all_words(text, "name", "email")
    digits = re.sub(r"\D", "", text)
    if len(digits) >= SHORTEST_NUMBER and not re.search(r"[a-z]", text, re.IGNORECASE):
        # As typed by people, a number has any mix of dashes between its digits.
        asked |= Q(phone__regex=r"[^0-9]*".join(digits))
    found = sight.rows(User.objects.filter(asked), user).order_by("name", "pk")
    return [
        Hit(each.name, reverse("desk:trainee", args=[each.pk]), _person(each))
        for each in _few(found)
    ]


def _person(person):
    return _("{role}, {email}").format(role=person.get_role_display(), email=person.email)


def _vessels(text, user):
    asked = _all_words(text, "name", "registration", "owner", "captain", "harbor")
    found = sight.rows(Vessel.objects.filter(asked), user).order_by("name", "harbor", "pk")
    return [
        Hit(
            each.name,
            reverse("register:vessel", args=[each.pk]),
            ", ".join(filter(None, [each.harbor, each.registration])),
        )
        for each in _few(found)
    ]


def _certificates(text, user):
    asked = _all_words(text, "holder_name")
    code = tidy_code(text)
    if len(code) >= SHORTEST_CODE:
        asked |= Q(code__startswith=code)
    found = sight.rows(Certificate.objects.filter(asked), user).select_related(
        "exam__requirements", "revocation"
    )
    return [
        Hit(
            each.holder_name,
            reverse("certificates:certificate", args=[each.code]),
            _certificate(each),
        )
        for each in _few(found.order_by("-issued", "-pk"))
    ]


def _certificate(certificate):
    state = _("taken back") if hasattr(certificate, "revocation") else ""
    told = [certificate.exam.requirements.title, certificate.code, state]
    return ", ".join(filter(None, told))


def _groups(text, user):
    asked = _all_words(text, "name", "harbor")
    code = tidy_code(text)
    if len(code) >= SHORTEST_CODE:
        asked |= Q(code__startswith=code)
    found = sight.rows(Group.objects.filter(asked), user).order_by("name", "pk")
    return [
        Hit(each.name, reverse("desk:group", args=[each.pk]), each.harbor) for each in _few(found)
    ]


def _few(found):
    return found[: SHOWN + 1]


def find(text, user):
    """
    Return what ``text`` finds of the people, vessels, certificates and groups ``user`` looks after.

    Each word of it has to begin a word of a name, an email, a harbor or a number; a code is
    found by its first letters, a phone number by its digits. One query a kind, and one for the
    reach.
    """
    text = " ".join(text.split())
    if not text:
        return []
    kinds = (
        (_("People"), _people),
        (_("Vessels"), _vessels),
        (_("Certificates"), _certificates),
        (_("Groups"), _groups),
    )
    told = []
    for heading, kind in kinds:
        hits = kind(text, user)
        if hits:
            told.append(Found(heading, hits[:SHOWN], len(hits) > SHOWN))
    return told
