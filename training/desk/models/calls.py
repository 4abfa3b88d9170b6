"""Calls that staff made, and calls given to somebody to make."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.people import sight
from training.people.models.users import User
from training.register.models.vessels import Vessel


def _whoever_is_in_reach(queryset, user):
    """The rule of sight: rows about people and vessels that the member of staff looks after."""
    if sight.harbors_of(user) is None:
        return queryset
    people = sight.rows(User.objects.all(), user)
    vessels = sight.rows(Vessel.objects.all(), user)
    return queryset.filter(
        Q(person__in=people.order_by().values("pk")) | Q(vessel__in=vessels.order_by().values("pk"))
    )


def _of_one(name):
    return models.CheckConstraint(
        condition=Q(person__isnull=False, vessel=None) | Q(person=None, vessel__isnull=False),
        name=name,
    )


class CallNoteQuerySet(models.QuerySet):
    def standing(self):
        """Return the calls that were not undone."""
        return self.filter(undone=None)

    def deciding(self):
        """Return those that say whether to call again: nobody answering changes nothing."""
        return self.exclude(outcome=CallNote.Outcome.NO_ANSWER, again__isnull=True)


@sight.rule(staff=_whoever_is_in_reach)
class CallNote(models.Model):
    """
    Somebody on the staff called a person, or a vessel; why is in its CallReasons, if anything.

    ``key`` comes with the form, so that a double tap notes one call. ``again`` is the day on
    which to call again. A call is never changed: one that was noted by mistake is marked as
    ``undone``, and counts again when that is taken off.
    """

    class Outcome(models.TextChoices):
        NOT_SAID = "", gettext_lazy("not said")
        SPOKE = "spoke", gettext_lazy("we spoke")
        NO_ANSWER = "no-answer", gettext_lazy("no answer")

    key = models.UUIDField(unique=True, editable=False)
    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.CASCADE, null=True, blank=True, related_name="calls"
    )
    vessel = models.ForeignKey(Vessel, models.CASCADE, null=True, blank=True, related_name="calls")
    outcome = models.CharField(max_length=10, choices=Outcome, blank=True, default=Outcome.NOT_SAID)
    note = models.TextField(blank=True)
    again = models.DateField(gettext_lazy("call again on"), null=True, blank=True, db_index=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.SET_NULL, null=True, related_name="+")
    made = models.DateTimeField(default=timezone.now, editable=False, db_index=True)
    undone = models.DateTimeField(null=True, blank=True, editable=False)
    undone_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, related_name="+", editable=False
    )

    objects = CallNoteQuerySet.as_manager()

    class Meta:
        ordering = ["-made", "-pk"]
        constraints = [_of_one("call_of_one")]

    def __str__(self):
        return _("Call to {who}").format(who=self.person or self.vessel)

    @property
    def decides(self):
        """Whether it says anything about calling again, as ``deciding`` has it."""
        return self.again is not None or self.outcome != self.Outcome.NO_ANSWER


@sight.rule()
class CallReason(models.Model):
    """A call was about this ``reason`` too, which is then hidden for some time."""

    call = models.ForeignKey(CallNote, models.CASCADE, related_name="about")
    reason = models.SlugField(max_length=20)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["call", "reason"], name="one_reason_of_a_call")
        ]
        indexes = [models.Index(fields=["reason", "call"], name="call_reason")]

    def __str__(self):
        return f"{self.call}: {self.reason}"


class CallGivenQuerySet(models.QuerySet):
    def standing(self):
        """Return those that were neither ended nor given to somebody who has left."""
        return self.filter(ended=None, to__is_active=True)


@sight.rule(staff=_whoever_is_in_reach)
class CallGiven(models.Model):
    """
    A person or a vessel to call was given to one of the staff; the latest that stands counts.

    It ends when it is taken back, given to another, or done: then ``done`` is the call.
    """

    key = models.UUIDField(unique=True, editable=False)
    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.CASCADE, null=True, blank=True, related_name="calls_given"
    )
    vessel = models.ForeignKey(
        Vessel, models.CASCADE, null=True, blank=True, related_name="calls_given"
    )
    to = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="+")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.SET_NULL, null=True, related_name="+")
    made = models.DateTimeField(default=timezone.now, editable=False)
    ended = models.DateTimeField(null=True, blank=True, editable=False, db_index=True)
    done = models.ForeignKey(CallNote, models.SET_NULL, null=True, related_name="+", editable=False)

    objects = CallGivenQuerySet.as_manager()

    class Meta:
        ordering = ["-made", "-pk"]
        constraints = [_of_one("call_given_of_one")]

    def __str__(self):
        return _("{who} for {name}").format(who=self.person or self.vessel, name=self.to)
