"""When each member of the staff was last here."""

from datetime import timedelta

from django.conf import settings
from django.db import models, transaction

from training.people import sight

PAUSE = timedelta(hours=1)
"""Without a look for so long, the next one is another visit."""
AT_FIRST = timedelta(days=7)
"""How far back the very first visit looks."""


class LastLookManager(models.Manager):
    @transaction.atomic
    def look(self, user, now):
        """Note that ``user`` looks at ``now``; return the LastLook of this visit."""
        found, is_new = self.select_for_update().get_or_create(
            user=user, defaults={"latest": now, "since": now - AT_FIRST, "is_first": True}
        )
        if is_new:
            return found
        if now - found.latest > PAUSE:
            found.since, found.is_first = found.latest, False
        found.latest = now
        found.save()
        return found


@sight.rule(own="user")
class LastLook(models.Model):
    """
    The ``latest`` look of one person at the first page, and ``since`` when they had not looked.

    ``since`` is the last look of the visit before; of the first visit (``is_first``) some days.
    """

    user = models.OneToOneField(
        settings.AUTH_USER_MODEL, models.CASCADE, primary_key=True, related_name="last_look"
    )
    latest = models.DateTimeField()
    since = models.DateTimeField()
    is_first = models.BooleanField(default=False)

    objects = LastLookManager()

    def __str__(self):
        return f"{self.user}: {self.latest}"
