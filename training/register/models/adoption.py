"""What happened to a vessel on its way to fishing without a sweep: kept for ever."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy

from training.people import sight

from ..stages import Known, Stage
from .vessels import Vessel


class AdoptionEventQuerySet(models.QuerySet):
    def standing(self):
        """Return the events that no later one corrects or withdraws."""
        return self.filter(correction=None, is_withdrawal=False)


@sight.rule(staff=sight.of_harbor("vessel__harbor"))
class AdoptionEvent(models.Model):
    """
    A vessel reached a stage on a day, who says so and how it is known.

    Never changed and never deleted. A correction is a new event that names the one it
    ``corrects``: with another stage or day, or as a withdrawal. ``key`` tells what the
    event was made from, a form or a record of the site, so that it is made once.
    """

    vessel = models.ForeignKey(Vessel, models.PROTECT, related_name="events")
    stage = models.CharField(max_length=10, choices=Stage)
    day = models.DateField()
    known = models.CharField(
        gettext_lazy("how it is known"), max_length=12, choices=Known, default=Known.HAND
    )
    note = models.TextField(blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    key = models.CharField(max_length=80, unique=True, editable=False)
    corrects = models.OneToOneField(
        "self", models.PROTECT, null=True, blank=True, related_name="correction"
    )
    is_withdrawal = models.BooleanField(default=False)
    recorded = models.DateTimeField(default=timezone.now, editable=False)

    objects = AdoptionEventQuerySet.as_manager()

    class Meta:
        ordering = ["day", "recorded", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(is_withdrawal=False) | Q(corrects__isnull=False),
                name="withdrawal_of_something",
            )
        ]
        indexes = [models.Index(fields=["stage", "day"], name="event_stage_day")]

    def __str__(self):
        return f"{self.vessel}: {self.get_stage_display()} on {self.day}"


class StageWording(models.Model):
    """What staff call a stage, in place of the word it comes with."""

    stage = models.CharField(max_length=10, choices=Stage, unique=True)
    words = models.CharField(max_length=60)

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return self.words
