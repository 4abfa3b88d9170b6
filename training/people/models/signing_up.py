"""Who may make an account: those with a group's code, or everybody."""

from django.conf import settings
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy

from .. import sight


class SignUpChoiceQuerySet(models.QuerySet):
    def without_code(self):
        """Return whether people may sign up without a code now; not until somebody allows it."""
        latest = self.order_by("made", "pk").last()
        return latest is not None and latest.without_code


@sight.rule(staff=sight.every)
class SignUpChoice(models.Model):
    """What staff decided about signing up without a group's code; the latest holds."""

    without_code = models.BooleanField(gettext_lazy("without a code"))
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    made = models.DateTimeField(default=timezone.now, editable=False)

    objects = SignUpChoiceQuerySet.as_manager()

    class Meta:
        ordering = ["-made", "-pk"]

    def __str__(self):
        return f"{self.made:%Y-%m-%d}: {self.without_code}"
