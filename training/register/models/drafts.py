"""Registers that were handed in to be imported, and what importing them would do."""

from django.conf import settings
from django.db import models
from django.utils import timezone

from training.people import sight


@sight.rule(own="owner")
class ImportDraft(models.Model):
    """
    The rows of a register as read from a file, waiting for their ``owner`` to say yes.

    ``headers`` and ``rows`` are the cells as text: of ``rows``, each one is the number of
    its line and its cells. ``outcomes`` is what importing each row would do, as the dry
    run found it and showed it; ``applied`` is when that was done.
    """

    key = models.UUIDField(primary_key=True, editable=False)
    owner = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.CASCADE, related_name="import_drafts"
    )
    filename = models.CharField(max_length=200)
    headers = models.JSONField(default=list)
    rows = models.JSONField(default=list)
    outcomes = models.JSONField(default=list)
    made = models.DateTimeField(default=timezone.now, db_index=True, editable=False)
    applied = models.DateTimeField(null=True, editable=False)

    class Meta:
        ordering = ["-made"]

    def __str__(self):
        return f"{self.filename} of {self.owner}"
