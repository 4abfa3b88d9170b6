"""Who came to a session."""

from django.conf import settings
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy

from .. import sight
from .groups import Session


@sight.rule(own="user", staff=sight.of_harbor("session__group__harbor"))
class Attendance(models.Model):
    """One person who came to one session, and who said so."""

    class SaidBy(models.TextChoices):
        SELF = "self", gettext_lazy("on their own phone")
        STAFF = "staff", gettext_lazy("by the staff")

    session = models.ForeignKey(Session, models.CASCADE, related_name="attendances")
    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="attendances")
    said_by = models.CharField(max_length=10, choices=SaidBy)
    noted = models.DateTimeField(default=timezone.now, editable=False)
    noted_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, editable=False, related_name="+"
    )

    class Meta:
        ordering = ["-noted", "-pk"]
        constraints = [
            models.UniqueConstraint(fields=["session", "user"], name="one_attendance_each")
        ]

    def __str__(self):
        return f"{self.user} at {self.session}"
