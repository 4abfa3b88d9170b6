"""Who may see what: staff by harbor, a fisherman's own data as he chose."""

from django.conf import settings
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy


class Reach(models.Model):
    """
    A harbor whose vessels and people a member of staff looks after.

    Whoever is given one no longer looks after the whole fleet, and does not again when it
    is taken away: that takes a yes on the account.
    """

    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="reaches")
    harbor = models.CharField(gettext_lazy("harbor"), max_length=100)

    class Meta:
        ordering = ["harbor"]
        verbose_name_plural = gettext_lazy("reaches")
        constraints = [models.UniqueConstraint(fields=["user", "harbor"], name="one_reach_each")]

    def __str__(self):
        return f"{self.user}: {self.harbor}"

    def save(self, *args, **kwargs):
        super().save(*args, **kwargs)
        self.user.whole_fleet = False
        self.user.save(update_fields=["whole_fleet"])


class SharingChoice(models.Model):
    """
    What a person decided about who sees his nets or his catches; the latest one holds.

    Nothing chosen is OWN.
    """

    class What(models.TextChoices):
        NETS = "nets", gettext_lazy("my nets and their plans")
        CATCHES = "catches", gettext_lazy("my tows and catches")

    class Level(models.TextChoices):
        OWN = "own", gettext_lazy("nobody but me")
        SUMS = "sums", gettext_lazy("counted in sums, without my name")
        STAFF = "staff", gettext_lazy("shown to the outreach staff")

    user = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.CASCADE, related_name="sharing_choices"
    )
    what = models.CharField(max_length=10, choices=What)
    level = models.CharField(max_length=10, choices=Level)
    made = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["made", "pk"]
        indexes = [models.Index(fields=["user", "what", "-made"], name="sharing_latest")]

    def __str__(self):
        return f"{self.user}: {self.get_what_display()}, {self.get_level_display()}"
