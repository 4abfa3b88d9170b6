"""What phones sent after they had signal again, and what came of it."""

import uuid
from datetime import timedelta

from django.conf import settings
from django.db import models
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from training.people import sight

CLOCK_MAY_BE_OFF = timedelta(minutes=10)
"""What a phone's clock may be off, and its message on the way, before it is said. No source."""

HIDDEN = ("key", "seen", "revision")
"""What forms hold beside what is typed."""


class ArrivalQuerySet(models.QuerySet):
    def still_open(self):
        """Return those about which their person has something to do."""
        return self.filter(settled=None).exclude(outcome=Arrival.Outcome.TAKEN)


@sight.rule(own="person")
class Arrival(models.Model):
    """
    One form that a phone noted without signal, or of which there is still something to be said.

    ``key`` is made up on the phone: the same entry sent twice makes one row. It went to
    ``address``, ``noted`` by the phone's clock, which said ``phone_now`` when it sent;
    ``arrived`` is the site's. ``sent`` has all that was typed, as [name, value] pairs, and
    ``shown`` the same as it was read, as [question, answer]: nothing is lost, whatever the
    ``outcome``.

    Taken, it led to ``where``. Refused, ``problems`` says why, as [question, words]. If its row
    changed meanwhile, ``sides`` has both: [question, on the site, sent, whether they differ],
    ``seen`` is the stamp of the site's, and ``instead`` the address that would put the other in
    its place. ``settled`` is when its person was done with what was open.

    ``about`` is whom somebody else wrote about: then it goes with that account too.
    """

    class Outcome(models.TextChoices):
        TAKEN = "taken", gettext_lazy("Saved")
        REFUSED = "refused", gettext_lazy("Not saved: something is to be fixed")
        BESIDE = "beside", gettext_lazy("Not saved yet: choose between two")
        GONE = "gone", gettext_lazy("Not saved: what it belongs to is gone")

    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.CASCADE, related_name="arrivals", editable=False
    )
    about = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.CASCADE,
        null=True,
        editable=False,
        related_name="arrivals_about",
    )
    key = models.UUIDField(editable=False)
    address = models.CharField(max_length=400)
    label = models.CharField(gettext_lazy("what it is"), max_length=200)
    noted = models.DateTimeField(gettext_lazy("noted, by the phone's clock"), null=True)
    phone_now = models.DateTimeField(gettext_lazy("the phone's clock when it sent"), null=True)
    arrived = models.DateTimeField(default=timezone.now)
    outcome = models.CharField(max_length=10, choices=Outcome)
    where = models.CharField(gettext_lazy("address it led to"), max_length=400, blank=True)
    words = models.TextField(gettext_lazy("what the site said"), blank=True)
    problems = models.JSONField(default=list)
    sent = models.JSONField(gettext_lazy("as typed"), default=list)
    shown = models.JSONField(gettext_lazy("as it was read"), default=list)
    sides = models.JSONField(gettext_lazy("on the site, and sent"), default=list)
    seen = models.CharField(max_length=40, blank=True)
    instead = models.CharField(max_length=400, blank=True)
    settled = models.DateTimeField(null=True)

    objects = ArrivalQuerySet.as_manager()

    class Meta:
        ordering = ["-arrived", "-pk"]
        constraints = [
            models.UniqueConstraint(fields=["person", "key"], name="one_arrival_for_one_entry")
        ]

    def __str__(self):
        return self.label

    def get_absolute_url(self):
        return reverse("inbox:arrival", args=[self.pk])

    @property
    def is_open(self):
        """Whether its person has something to do about it."""
        return self.outcome != self.Outcome.TAKEN and self.settled is None

    @property
    def told(self):
        """What its phone is told."""
        return {
            "outcome": self.outcome,
            "where": self.where,
            "words": self.words,
            "problems": self.problems,
            "page": self.get_absolute_url(),
        }

    @property
    def is_from_phone(self):
        """Whether it was noted on a phone, and not sent straight from a page."""
        return self.phone_now is not None

    @property
    def clock(self):
        """A sentence if the phone's clock was off when it sent this; else nothing."""
        if self.phone_now is None:
            return ""
        off = self.phone_now - self.arrived
        if abs(off) <= CLOCK_MAY_BE_OFF:
            return ""
        said = (
            _("This phone's clock was {span} ahead when it sent this. Check the day.")
            if off > timedelta(0)
            else _("This phone's clock was {span} behind when it sent this. Check the day.")
        )
        return said.format(span=_span(abs(off)))

    @property
    def legible(self):
        """What was typed as [name, value], for want of the questions; what is hidden left out."""
        return [[name, value] for name, value in self.sent if value and name not in HIDDEN]

    @property
    def again(self):
        """What to send to ``address`` to try it anew, as another form: it saves once too."""
        return self._with(key=str(uuid.uuid5(self.key, "again")))

    @property
    def in_its_place(self):
        """What to send to ``instead`` to put this in the place of what the site has."""
        return self._with(seen=self.seen)

    def _with(self, **changed):
        changed["arrival"] = str(self.pk)
        kept = [[name, changed.pop(name, value)] for name, value in self.sent]
        return kept + [[name, value] for name, value in changed.items() if name != "key"]


def _span(off):
    """Return how long ``off`` is, to the unit that matters."""
    minutes = round(off.total_seconds() / 60)
    if minutes < 60:
        return ngettext("{number} minute", "{number} minutes", minutes).format(number=minutes)
    hours = round(minutes / 60)
    if hours < 24:
        return ngettext("{number} hour", "{number} hours", hours).format(number=hours)
    days = round(minutes / 60 / 24)
    return ngettext("{number} day", "{number} days", days).format(number=days)
