"""What has been sent to the record store, and what it would not take."""

from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy


class Delivery(models.Model):
    """
    Up to which row of one sort of event everything has been sent.

    Statements are made from the rows anew each time, under the same name, so that
    sending one twice changes nothing at the other end.
    """

    event = models.SlugField(max_length=30, unique=True)
    last = models.PositiveBigIntegerField(
        gettext_lazy("primary key of the last row sent"), default=0
    )
    changed = models.DateTimeField(auto_now=True)

    class Meta:
        verbose_name_plural = gettext_lazy("deliveries")

    def __str__(self):
        return f"{self.event} up to {self.last}"


class Refused(models.Model):
    """A statement that the record store would not take, and what it answered."""

    event = models.SlugField(max_length=30)
    row = models.PositiveBigIntegerField()
    answer = models.TextField()
    made = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["made", "pk"]
        verbose_name_plural = gettext_lazy("refused")
        constraints = [models.UniqueConstraint(fields=["event", "row"], name="one_refusal_each")]

    def __str__(self):
        return f"{self.event} {self.row}"
