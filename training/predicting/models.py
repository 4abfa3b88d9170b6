"""What people said of a net before they saw the verdict."""

from django.conf import settings
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs.rules import rulebook
from training.nets.models import Net
from training.people import sight


@sight.rule(own="user")
class Prediction(models.Model):
    """
    What one person said of each rule of a net, and the net as it was.

    ``said`` is {key of a requirement: met, broken or not sure}. The net is one's own, as
    ``measures`` has it, or drawn: then it is made anew from ``seed`` by the version
    ``kind_version`` of the kind that draws it. ``key`` comes with the form, so that a double
    tap saves one.
    """

    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="predictions")
    key = models.UUIDField()
    net = models.ForeignKey(Net, models.SET_NULL, null=True, blank=True, related_name="+")
    net_name = models.CharField(max_length=80, blank=True)
    measures = models.JSONField(gettext_lazy("in SI"), null=True, blank=True)
    seed = models.PositiveIntegerField(null=True, blank=True)
    kind_version = models.PositiveSmallIntegerField(default=1)
    rulebook_name = models.CharField(gettext_lazy("rule set"), max_length=40)
    rulebook_version = models.CharField(gettext_lazy("version"), max_length=20)
    said = models.JSONField()
    made = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["-made", "-pk"]
        constraints = [
            models.UniqueConstraint(fields=["user", "key"], name="one_prediction_for_one_form"),
            models.CheckConstraint(
                condition=models.Q(measures__isnull=False) | models.Q(seed__isnull=False),
                name="a_prediction_has_its_net",
            ),
        ]

    def __str__(self):
        return _("{user}: {value}").format(user=self.user, value=self.net_name or _("a drawn net"))

    @property
    def rulebook(self):
        """The rule set it was judged by, in the version of its day."""
        return rulebook.load(self.rulebook_name, self.rulebook_version)
