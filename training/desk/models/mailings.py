"""Which season reports have been mailed, so that each goes out once."""

from django.conf import settings
from django.db import models
from django.utils import timezone


class SeasonMail(models.Model):
    """The report on the season of ``year`` went to ``user`` by mail."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="season_mails")
    year = models.PositiveSmallIntegerField()
    sent = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["user", "year"], name="one_season_mail_each")
        ]

    def __str__(self):
        return f"{self.year} to {self.user}"
