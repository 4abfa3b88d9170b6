"""Taking the phone off somebody who lost it."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone

from .. import sight


@sight.rule(own="person", staff=sight.of_people("person"))
class PhoneReset(models.Model):
    """
    One of the staff asks that the phone of ``person`` no longer be needed; another decides.

    ``agreed`` is None until then. A person has one at a time that waits.
    """

    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.CASCADE, related_name="phone_resets"
    )
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    made = models.DateTimeField(default=timezone.now, editable=False)
    agreed = models.BooleanField(null=True, editable=False)
    decided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, editable=False, related_name="+"
    )
    decided = models.DateTimeField(null=True, editable=False)

    class Meta:
        ordering = ["made", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["person"], condition=Q(agreed=None), name="one_phone_reset_waits"
            )
        ]

    def __str__(self):
        return f"{self.person}, {self.made:%Y-%m-%d}"
