"""Another email for an account, on its way."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone

from .. import sight


@sight.rule(own="person")
class EmailChange(models.Model):
    """
    That an account get another email: ``asked`` by the person, or by one of the staff.

    ``confirmed`` is when the new address answered, ``agreed`` when the old one did,
    ``settled`` when the account got the new one, ``stopped`` when it was ended instead, or
    put back after it was settled.
    """

    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.CASCADE, related_name="email_changes"
    )
    old = models.EmailField()
    new = models.EmailField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    agreed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, related_name="+"
    )
    asked = models.DateTimeField(default=timezone.now, editable=False)
    confirmed = models.DateTimeField(null=True)
    agreed = models.DateTimeField(null=True)
    settled = models.DateTimeField(null=True)
    stopped = models.DateTimeField(null=True)

    class Meta:
        ordering = ["asked", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["person"],
                condition=Q(settled=None, stopped=None),
                name="one_email_change_an_account",
            )
        ]
        indexes = [
            models.Index(
                fields=["asked"],
                condition=Q(settled=None, stopped=None, confirmed__isnull=False),
                name="email_change_due",
            )
        ]

    def __str__(self):
        return f"{self.person}, {self.asked:%Y-%m-%d}"

    @property
    def is_open(self):
        """Whether it is on its way: neither settled nor stopped."""
        return self.settled is None and self.stopped is None
