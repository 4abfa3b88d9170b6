"""How often something was tried, counted in the database for all processes of the site."""

from datetime import timedelta

from django.db import models
from django.db.models import F
from django.utils import timezone
from django.utils.translation import gettext_lazy

KEPT = timedelta(days=1)
"""How long a count is kept that no longer holds anybody off."""


class TriesQuerySet(models.QuerySet):
    def add(self, whom, what, span):
        """
        Count one more try of ``what`` by ``whom``, a digest; return how many that makes.

        They are counted for ``span`` (a timedelta) from the first one on. Call it outside
        of a transaction that a refusal undoes.
        """
        now = timezone.now()
        mine = self.filter(whom=whom)
        if not mine.filter(ends__gt=now).update(count=F("count") + 1) and not mine.filter(
            ends__lte=now
        ).update(count=1, ends=now + span):
            # Of two processes that come here at once one makes the row, and both count.
            row = self.model(whom=whom, what=what, ends=now + span, count=0)
            self.bulk_create([row], ignore_conflicts=True)
            mine.update(count=F("count") + 1)
            self.filter(ends__lt=now - KEPT).delete()
        return mine.values_list("count", flat=True).first() or 0

    def counting(self):
        """Return the counts that are not over."""
        return self.filter(ends__gt=timezone.now())


class Tries(models.Model):
    """
    How often one address, account or code was tried until ``ends``.

    ``whom`` is a digest of it and of ``what`` was tried: neither address nor e-mail is kept.
    """

    whom = models.CharField(max_length=64, unique=True)
    what = models.CharField(max_length=40)
    count = models.PositiveIntegerField()
    ends = models.DateTimeField(db_index=True)

    objects = TriesQuerySet.as_manager()

    class Meta:
        ordering = ["-ends"]
        verbose_name_plural = gettext_lazy("tries")

    def __str__(self):
        return f"{self.what}: {self.count}"
