"""What changed in the fleet since a moment: who signed up, passed, was checked or moved on."""

from typing import NamedTuple

from django.db.models import F, OuterRef, Subquery
from django.urls import reverse
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from training.certification.models import Certificate, Revocation
from training.checks.models import CheckSheet
from training.people import sight
from training.people.models import Role, User
from training.register.models import AdoptionEvent
from training.register.wording import stage_words

NAMED = 5
"""How many of a kind are named; the others are counted, and the list has them."""


class Named(NamedTuple):
    """One of what changed: its name with its page, and what else is said of it."""

    name: str
    url: str
    about: str = ""


class News(NamedTuple):
    """What changed of one kind: how many, the newest of them, and where all of it is listed."""

    words: str
    count: int
    named: list
    url: str

    @property
    def others(self):
        """How many are not named."""
        return self.count - len(self.named)


def _news(words, found, name, url):
    count = found.count()
    return News(words, count, [name(each) for each in found[:NAMED]] if count else [], url)


def _signed_up(user, since):
    found = User.objects.filter(joined__gt=since).exclude(role=Role.STAFF)
    return _news(
        _("Signed up"),
        sight.rows(found, user).order_by("-joined", "-pk"),
        lambda each: Named(each.name, reverse("desk:trainee", args=[each.pk])),
        reverse("desk:trainees"),
    )


def _certified(user, since):
    found = Certificate.objects.filter(issued__gt=since, revocation=None)
    return _news(
        _("Earned a certificate"),
        sight.rows(found, user).select_related("exam__requirements").order_by("-issued", "-pk"),
        lambda each: Named(
            each.holder_name,
            reverse("certificates:certificate", args=[each.code]),
            each.exam.requirements.title,
        ),
        reverse("certificates:issued"),
    )


def _taken_back(user, since):
    seen = sight.rows(Certificate.objects.filter(revocation__made__gt=since), user)
    found = Revocation.objects.filter(certificate__in=seen).select_related("certificate")
    return _news(
        _("Had a certificate taken back"),
        found.order_by("-made", "-pk"),
        lambda each: Named(
            each.certificate.holder_name,
            reverse("certificates:certificate", args=[each.certificate.code]),
        ),
        reverse("certificates:issued"),
    )


def _checked(user, since):
    found = CheckSheet.objects.filter(finished__gt=since).order_by("-finished", "-pk")
    return _news(
        _("Check sheets turned in"),
        sight.rows(found, user),
        lambda each: Named(each.vessel_name, each.get_absolute_url(), each.harbor),
        reverse("checks:checks"),
    )


def _moved(user, since):
    """Return the vessels of which something was recorded that is still so, each once."""
    words = stage_words()
    # Of several events of one vessel the last one recorded says where it came to.
    latest = AdoptionEvent.objects.standing().filter(vessel=OuterRef("vessel"), recorded__gt=since)
    found = AdoptionEvent.objects.standing().filter(recorded__gt=since)
    found = found.alias(last=Subquery(latest.order_by("-recorded", "-pk").values("pk")[:1]))
    found = sight.rows(found.filter(pk=F("last")), user).select_related("vessel")
    return _news(
        _("Vessels with news"),
        found.order_by("-recorded", "-pk"),
        lambda each: Named(
            each.vessel.name,
            reverse("register:vessel", args=[each.vessel_id]),
            _("{stage}, {day}").format(
                stage=words[each.stage], day=date_format(each.day, "M j, Y")
            ),
        ),
        reverse("register:vessels"),
    )


def since(user, moment):
    """
    Return the News of what ``user`` looks after since ``moment``, without the kinds of which
    there is nothing; twice a kind the database is asked at most.
    """
    kinds = (_signed_up, _certified, _taken_back, _checked, _moved)
    told = (kind(user, moment) for kind in kinds)
    return [each for each in told if each.count]
