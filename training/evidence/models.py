"""Paired tows: the same net, ground and day, once with the sweep and once without."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.db.models.functions import Now
from django.utils import timezone
from django.utils.translation import gettext_lazy

from training.people import sight
from training.people.sharing import What, shown_to_staff
from training.register.models.vessels import Vessel


@sight.rule(own="owner", staff=shown_to_staff(What.CATCHES, "owner"))
class PairedTows(models.Model):
    """
    Two tows alike in all but the sweep; the catches belong to ``owner``.

    ``key`` comes with the form, so that the form sent twice makes one pair. Deleted ones
    are put aside, not lost.
    """

    key = models.UUIDField(unique=True, editable=False)
    owner = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="paired_tows")
    vessel = models.ForeignKey(
        Vessel, models.SET_NULL, null=True, blank=True, related_name="paired_tows"
    )
    day = models.DateField(db_index=True)
    note = models.TextField(blank=True)
    created = models.DateTimeField(default=timezone.now, editable=False)
    changed = models.DateTimeField(auto_now=True, db_default=Now())
    deleted = models.DateTimeField(null=True, blank=True, editable=False)
    is_demo = models.BooleanField(gettext_lazy("demo data"), default=False, editable=False)

    class Meta:
        ordering = ["-day", "-pk"]
        verbose_name_plural = gettext_lazy("paired tows")

    def __str__(self):
        return f"{self.vessel or self.owner}, {self.day}"


class PairedCatch(models.Model):
    """The catch of one group of species in a pair of tows, in kg; ``typed`` as typed."""

    pair = models.ForeignKey(PairedTows, models.CASCADE, related_name="catches")
    group = models.CharField(gettext_lazy("group of species"), max_length=40)
    without_sweep = models.FloatField(gettext_lazy("without the sweep, kg"))
    with_sweep = models.FloatField(gettext_lazy("with the sweep, kg"))
    typed = models.JSONField(gettext_lazy("as typed"), default=dict)

    class Meta:
        ordering = ["pair", "pk"]
        verbose_name_plural = gettext_lazy("paired catches")
        constraints = [
            models.UniqueConstraint(fields=["pair", "group"], name="one_catch_a_group"),
            models.CheckConstraint(
                condition=Q(without_sweep__gte=0, with_sweep__gte=0), name="no_catch_below_nought"
            ),
        ]

    def __str__(self):
        return f"{self.pair}: {self.group}"
