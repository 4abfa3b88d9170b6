"""People whom staff asked whether they fish on a vessel."""

from django.conf import settings
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy

from training.people import sight

from .vessels import Crew, Vessel


class BerthAskedQuerySet(models.QuerySet):
    def waiting(self):
        """Return those that were not answered, of vessels that are on the register."""
        return self.filter(answered=None, vessel__removed=None)


@sight.rule(own="user", staff=sight.of_harbor("vessel__harbor"))
class BerthAsked(models.Model):
    """
    Staff say that somebody fishes on a vessel whom they do not look after, by an email.

    Only that person's own yes makes a Crew of it: until then nobody sees more of him for it,
    not even that there is such an account.
    """

    vessel = models.ForeignKey(Vessel, models.CASCADE, related_name="berths_asked")
    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="berths_asked")
    part = models.CharField(gettext_lazy("role"), max_length=10, choices=Crew.Part)
    since = models.DateField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.SET_NULL, null=True, related_name="+")
    made = models.DateTimeField(default=timezone.now, editable=False)
    answered = models.DateTimeField(null=True, editable=False)
    said_yes = models.BooleanField(null=True, editable=False)

    objects = BerthAskedQuerySet.as_manager()

    class Meta:
        ordering = ["made", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["vessel", "user"], condition=models.Q(answered=None), name="asked_once"
            )
        ]

    def __str__(self):
        return f"{self.user} on {self.vessel}?"
