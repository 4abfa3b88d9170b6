"""Calls that staff made."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone

from training.register.models.vessels import Vessel


class CallNote(models.Model):
    """
    Somebody on the staff called a person, or a vessel, about a ``reason``.

    Only ever added to. ``key`` comes with the form, so that a double tap notes one call.
    """

    key = models.UUIDField(unique=True, editable=False)
    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.CASCADE, null=True, blank=True, related_name="calls"
    )
    vessel = models.ForeignKey(Vessel, models.CASCADE, null=True, blank=True, related_name="calls")
    reason = models.SlugField(max_length=20)
    note = models.TextField(blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.SET_NULL, null=True, related_name="+")
    made = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["-made", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(person__isnull=False, vessel=None)
                | Q(person=None, vessel__isnull=False),
                name="call_of_one",
            )
        ]
        indexes = [models.Index(fields=["reason", "made"], name="call_reason_made")]

    def __str__(self):
        return f"{self.person or self.vessel}: {self.reason}"
