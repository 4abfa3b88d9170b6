"""What is asked for a certificate changes by two people: one proposes, another approves."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy


class Change(models.Model):
    """
    One proposal to change the requirements of a certificate, and what became of it.

    ``was`` and ``terms`` hold the requirements before and after as ``terms.of_requirements`` gives
    them; ``was`` is empty for a new certificate. ``key`` comes with the form, so that a
    double tap proposes once. ``answer`` is what the second person said when turning it down.
    """

    class Outcome(models.TextChoices):
        WAITING = "waiting", gettext_lazy("waits for a second person")
        APPROVED = "approved", gettext_lazy("approved")
        TURNED_DOWN = "turned down", gettext_lazy("turned down")
        TAKEN_BACK = "taken back", gettext_lazy("taken back")

    requirements = models.ForeignKey(
        "certification.Requirements",
        models.CASCADE,
        verbose_name=gettext_lazy("certificate"),
        related_name="changes",
    )
    key = models.UUIDField(unique=True)
    was = models.JSONField(default=dict)
    terms = models.JSONField()
    reason = models.TextField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    made = models.DateTimeField(default=timezone.now, editable=False)
    outcome = models.CharField(max_length=12, choices=Outcome, default=Outcome.WAITING)
    decided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+", null=True, blank=True
    )
    decided = models.DateTimeField(null=True, blank=True)
    answer = models.TextField(blank=True)

    class Meta:
        verbose_name = gettext_lazy("change of requirements")
        verbose_name_plural = gettext_lazy("changes of requirements")
        ordering = ["-made", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["requirements"],
                condition=Q(outcome="waiting"),
                name="one_change_waits_each",
            ),
            models.CheckConstraint(
                condition=~Q(outcome__in=["approved", gettext_lazy("turned down")])
                | ~Q(decided_by=F("by")),
                name="change_decided_by_a_second_person",
            ),
            models.CheckConstraint(
                condition=Q(outcome="waiting", decided_by=None, decided=None)
                | (~Q(outcome="waiting") & Q(decided_by__isnull=False, decided__isnull=False)),
                name="change_decided_by_somebody_at_some_time",
            ),
        ]

    def __str__(self):
        return _("change of {requirements}, {outcome}").format(
            requirements=self.requirements, outcome=self.outcome
        )

    @property
    def waits(self):
        """Whether a second person is to look at it."""
        return self.outcome == self.Outcome.WAITING
