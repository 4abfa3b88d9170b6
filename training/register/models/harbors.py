"""The harbors of the fleet, and how else people write them."""

from django.db import models
from django.utils.translation import gettext_lazy

from training.people import sight


@sight.rule(staff=sight.of_harbor("name"))
class Harbor(models.Model):
    """
    A harbor of the fleet.

    Vessels, groups and reaches hold its ``name``; ``harbors.rename`` changes it in all of them.
    """

    name = models.CharField(gettext_lazy("harbor"), max_length=100, unique=True)

    class Meta:
        ordering = ["name"]

    def __str__(self):
        return self.name


@sight.rule(staff=sight.of_harbor("harbor__name"))
class HarborSpelling(models.Model):
    """
    One way to write a harbor, its own name among them.

    ``plain`` is the same as it is compared, so that no text means two harbors.
    """

    harbor = models.ForeignKey(Harbor, models.CASCADE, related_name="spellings")
    text = models.CharField(max_length=100)
    plain = models.CharField(max_length=200, unique=True, editable=False)

    class Meta:
        ordering = ["text"]

    def __str__(self):
        return self.text
