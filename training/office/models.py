"""What is remembered of running the site."""

from django.db import models
from django.utils.translation import gettext_lazy

from training.people import sight


@sight.rule()
class Backup(models.Model):
    """A backup that was made, read again and found whole."""

    name = models.CharField(gettext_lazy("file"), max_length=100)
    folder = models.CharField(max_length=400, blank=True, db_default="", default="")
    begun = models.DateTimeField(gettext_lazy("the moment it is of"))
    ended = models.DateTimeField()
    size = models.PositiveBigIntegerField(gettext_lazy("bytes"))
    rows = models.PositiveBigIntegerField()
    files = models.PositiveBigIntegerField()
    proven = models.DateTimeField(
        gettext_lazy("when it was last restored and counted again"), null=True
    )

    class Meta:
        ordering = ["-begun", "-pk"]

    def __str__(self):
        return self.name
