"""Who had themselves erased."""

from django.conf import settings
from django.db import models
from django.utils import timezone


class Erasure(models.Model):
    """A person had all that names them erased; what is left of them is a nameless account."""

    person = models.OneToOneField(
        settings.AUTH_USER_MODEL, models.PROTECT, primary_key=True, related_name="erasure"
    )
    made = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["made"]

    def __str__(self):
        return f"{self.person}, {self.made:%Y-%m-%d}"
