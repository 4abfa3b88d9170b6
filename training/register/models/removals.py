"""Vessels taken off the register, alone or into another one, and put back."""

from django.conf import settings
from django.db import models
from django.utils import timezone

from training.people import sight

from .vessels import Vessel


@sight.rule(staff=sight.of_harbor("vessel__harbor"))
class Removal(models.Model):
    """
    A vessel was taken off the register, ``into`` another one if both are the same.

    ``key`` comes with the form, so that a double tap removes once. ``moved`` lists the rows
    that went along to ``into``, numbers by model and field; ``changed`` what that changed on
    rows there, as [model, number, field, before, after]. Both are for putting it back.
    """

    key = models.UUIDField(unique=True, editable=False)
    vessel = models.ForeignKey(Vessel, models.CASCADE, related_name="removals")
    into = models.ForeignKey(Vessel, models.CASCADE, null=True, blank=True, related_name="taken_in")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.SET_NULL, null=True, related_name="+")
    made = models.DateTimeField(default=timezone.now, editable=False)
    moved = models.JSONField(default=dict, editable=False)
    changed = models.JSONField(default=list, editable=False)
    undone = models.DateTimeField(null=True, editable=False)
    undone_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, related_name="+"
    )

    class Meta:
        ordering = ["-made", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["vessel"],
                condition=models.Q(undone=None),
                name="removed_once",
            )
        ]

    def __str__(self):
        return f"{self.vessel}"
