"""
Sums of what vessels went through, kept up to date so that pages need not count.

Nothing here is known only here: all of it can be thrown away and counted again.
"""

from django.db import models
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.people import sight
from training.register.stages import Stage

from .vessels import Vessel


@sight.rule(staff=sight.of_harbor("vessel__harbor"))
class VesselState(models.Model):
    """
    Where a vessel stands by its standing events.

    ``first_contact`` is the day of the first of them, ``converted`` the day on which it
    first fished without a sweep, ``went_back`` the day on which it last went back,
    ``since`` the day from which it has been at ``stage``; None where there is none.
    ``counted`` is what UptakeTally holds of the vessel, so that it can be taken out again:
    the harbor and size it is counted under, and each of its moves as the day, the stage
    left (blank for none) and the stage entered.
    """

    vessel = models.OneToOneField(Vessel, models.CASCADE, primary_key=True, related_name="standing")
    stage = models.CharField(max_length=10, choices=Stage, blank=True, db_index=True)
    since = models.DateField(null=True)
    first_contact = models.DateField(null=True)
    converted = models.DateField(null=True)
    went_back = models.DateField(null=True)
    last_event = models.DateField(null=True, db_index=True)
    counted = models.JSONField(default=dict, editable=False)

    def __str__(self):
        return _("{vessel}: {value}").format(
            vessel=self.vessel, value=self.stage or _("no contact yet")
        )


@sight.rule(staff=sight.of_harbor("harbor"))
class UptakeTally(models.Model):
    """
    How many vessels came to a stage and how many left it in a month.

    ``month`` is its first day; ``size`` the key of a class of length.
    """

    harbor = models.CharField(gettext_lazy("harbor"), max_length=100)
    size = models.CharField(max_length=10)
    month = models.DateField()
    stage = models.CharField(max_length=10, choices=Stage)
    entered = models.IntegerField(default=0)
    left = models.IntegerField(default=0)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["harbor", "size", "month", "stage"], name="one_uptake_tally"
            )
        ]

    def __str__(self):
        return f"{self.harbor}, {self.size}, {self.month}: {self.stage}"
