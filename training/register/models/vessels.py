"""The vessels of the fleet, and who fishes on them."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy

from rigs.words.units import feet_inches
from training.people import sight


class VesselManager(models.Manager):
    """The vessels on the register: what was taken off it is in ``Vessel.every`` alone."""

    def get_queryset(self):
        return super().get_queryset().filter(removed=None)


@sight.rule(staff=sight.of_harbor("harbor"))
class Vessel(models.Model):
    """
    A vessel of the fleet; ``length`` in metres, over all.

    ``owner`` and ``captain`` are names as the register has them; people who have an
    account are tied to the vessel by Crew. ``removed`` is when it was taken off the register
    (see Removal): it stays in the database, and counts nowhere.
    """

    name = models.CharField(max_length=100)
    harbor = models.CharField(gettext_lazy("harbor"), max_length=100)
    length = models.FloatField(gettext_lazy("length, m"))
    registration = models.CharField(
        gettext_lazy("registration number"),
        max_length=40,
        blank=True,
        help_text=gettext_lazy("As painted on the hull."),
    )
    owner = models.CharField(max_length=150, blank=True)
    captain = models.CharField(max_length=150, blank=True)
    gear = models.CharField(
        gettext_lazy("rule set of its gear"),
        max_length=40,
        blank=True,
        help_text=gettext_lazy("The name of a gear rule set."),
    )
    is_fishing = models.BooleanField(gettext_lazy("still fishing"), default=True)
    added = models.DateTimeField(default=timezone.now, editable=False)
    changed = models.DateTimeField(auto_now=True)
    is_demo = models.BooleanField(gettext_lazy("demo data"), default=False, editable=False)
    removed = models.DateTimeField(null=True, editable=False)

    every = models.Manager()
    objects = VesselManager()

    class Meta:
        default_manager_name = "objects"
        ordering = ["harbor", "name"]
        indexes = [models.Index(fields=["harbor", "name"], name="vessel_harbor_name")]
        constraints = [
            models.UniqueConstraint(
                fields=["name", "harbor"], condition=Q(removed=None), name="one_vessel_of_a_name"
            ),
            models.UniqueConstraint(
                fields=["registration"],
                condition=~Q(registration="") & Q(removed=None),
                name="one_registration_each",
            ),
            models.CheckConstraint(condition=Q(length__gt=0), name="vessel_has_length"),
        ]

    def __str__(self):
        return self.name

    @property
    def length_text(self):
        """The length in feet and inches."""
        return feet_inches(self.length)


class CrewManager(models.Manager):
    """Who fishes on vessels that are on the register."""

    def get_queryset(self):
        return super().get_queryset().filter(vessel__removed=None)


@sight.rule(own="user", staff=sight.of_harbor("vessel__harbor"))
class Crew(models.Model):
    """Somebody with an account fishes on a vessel, since and until a day."""

    class Part(models.TextChoices):
        OWNER = "owner", gettext_lazy("owner")
        CAPTAIN = "captain", gettext_lazy("captain")
        CREW = "crew", gettext_lazy("crew")

    vessel = models.ForeignKey(Vessel, models.CASCADE, related_name="crew")
    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="berths")
    part = models.CharField(gettext_lazy("role"), max_length=10, choices=Part, default=Part.CREW)
    since = models.DateField(default=timezone.localdate)
    until = models.DateField(null=True, blank=True)

    every = models.Manager()
    objects = CrewManager()

    class Meta:
        default_manager_name = "objects"
        ordering = ["since", "pk"]
        verbose_name_plural = gettext_lazy("crew")
        constraints = [
            models.UniqueConstraint(
                fields=["vessel", "user"], condition=Q(until=None), name="one_berth_each"
            )
        ]

    def __str__(self):
        return f"{self.user} on {self.vessel}"
