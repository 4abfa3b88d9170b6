"""What staff ask for about accounts that takes a second person."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils import timezone
from django.utils.translation import gettext_lazy

from training.people import sight


@sight.rule(own="person", staff=sight.of_people("person"))
class AccountRequest(models.Model):
    """
    That an account be made or changed so that it may do more; nothing changes until agreed.

    ``wanted`` holds the entries of the form while it waits, and is empty once it is decided:
    the log of the account tells what came of it. ``person`` is None as long as there is no
    account. ``key`` comes with the form, so that a double tap asks once.
    """

    class Outcome(models.TextChoices):
        WAITING = "waiting", gettext_lazy("waits for a second person")
        AGREED = "agreed", gettext_lazy("agreed")
        TURNED_DOWN = "turned down", gettext_lazy("turned down")
        TAKEN_BACK = "taken back", gettext_lazy("taken back")

    key = models.UUIDField(unique=True)
    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.CASCADE, null=True, related_name="account_requests"
    )
    wanted = models.JSONField(default=dict, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    made = models.DateTimeField(default=timezone.now, editable=False)
    outcome = models.CharField(max_length=12, choices=Outcome, default=Outcome.WAITING)
    decided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, related_name="+"
    )
    decided = models.DateTimeField(null=True)

    class Meta:
        ordering = ["made", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["person"], condition=Q(outcome="waiting"), name="one_request_an_account"
            ),
            models.CheckConstraint(
                condition=~Q(outcome="agreed") | ~Q(decided_by=F("by")),
                name="request_agreed_by_a_second_person",
            ),
            models.CheckConstraint(
                condition=Q(outcome="waiting", decided_by=None, decided=None)
                | (~Q(outcome="waiting") & Q(decided_by__isnull=False, decided__isnull=False)),
                name="request_decided_by_somebody_at_some_time",
            ),
        ]

    def __str__(self):
        return f"{self.person or self.wanted.get('name', '')}, {self.get_outcome_display()}"

    @property
    def waits(self):
        """Whether a second person is to look at it."""
        return self.outcome == self.Outcome.WAITING
