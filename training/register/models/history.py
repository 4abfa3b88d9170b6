"""What the register said of each vessel, and from when on."""

from django.db import models
from django.db.models import OuterRef, Subquery
from django.utils import timezone
from django.utils.translation import gettext_lazy

from training.people import sight

from .vessels import Vessel


class VesselDetailsQuerySet(models.QuerySet):
    def at(self, moment):
        """
        Return what held just before ``moment``, one row of each vessel there was then.

        Not of those taken off the register since: they should not have been on it.
        """
        before = self.model.objects.filter(vessel=OuterRef("vessel"), since__lt=moment)
        latest = before.order_by("-since", "-pk").values("pk")[:1]
        return self.filter(since__lt=moment, pk=Subquery(latest), vessel__removed=None)


@sight.rule(staff=sight.of_harbor("harbor"))
class VesselDetails(models.Model):
    """
    What the register said of a vessel from ``since`` on, until the next of its rows.

    Written by ``uptake.refresh`` and never changed, so that a report of a past day tells
    that day. ``length`` in metres.
    """

    vessel = models.ForeignKey(Vessel, models.CASCADE, related_name="details")
    since = models.DateTimeField(default=timezone.now)
    harbor = models.CharField(max_length=100)
    length = models.FloatField()
    is_fishing = models.BooleanField()

    objects = VesselDetailsQuerySet.as_manager()

    class Meta:
        ordering = ["since", "pk"]
        verbose_name_plural = gettext_lazy("vessel details")
        indexes = [models.Index(fields=["vessel", "since"], name="vessel_details_since")]

    def __str__(self):
        return f"{self.vessel}, {self.since:%Y-%m-%d}"
