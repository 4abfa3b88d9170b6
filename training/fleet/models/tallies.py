"""
Sums of what the other tables hold, kept up to date so that pages need not count.

Nothing here is known only here: all of it can be thrown away and counted again.
"""

from django.conf import settings
from django.db import models

from training.fleet.stages import Stage

from .groups import Group
from .vessels import Vessel


class VesselState(models.Model):
    """
    Where a vessel stands by its standing events.

    ``first_contact`` is the day of the first of them, ``converted`` the day on which it
    first fished without a sweep, ``went_back`` the day on which it last went back,
    ``since`` the day from which it has been at ``stage``; None where there is none.
    ``counted`` is what UptakeTally holds of the vessel, so that it can be taken out again:
    the harbour and size it is counted under, and each of its moves as the day, the stage
    left (blank for none) and the stage entered.
    """

    vessel = models.OneToOneField(Vessel, models.CASCADE, primary_key=True, related_name="standing")
    stage = models.CharField(max_length=10, choices=Stage, blank=True, db_index=True)
    since = models.DateField(null=True)
    first_contact = models.DateField(null=True)
    converted = models.DateField(null=True)
    went_back = models.DateField(null=True)
    last_event = models.DateField(null=True, db_index=True)
    counted = models.JSONField(default=dict, editable=False)

    def __str__(self):
        return f"{self.vessel}: {self.stage or 'no contact yet'}"


class UptakeTally(models.Model):
    """
    How many vessels came to a stage and how many left it in a month.

    ``month`` is its first day; ``size`` the key of a class of length.
    """

    harbour = models.CharField("harbor", max_length=100)
    size = models.CharField(max_length=10)
    month = models.DateField()
    stage = models.CharField(max_length=10, choices=Stage)
    entered = models.IntegerField(default=0)
    left = models.IntegerField(default=0)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["harbour", "size", "month", "stage"], name="one_uptake_tally"
            )
        ]

    def __str__(self):
        return f"{self.harbour}, {self.size}, {self.month}: {self.stage}"


class PersonTally(models.Model):
    """
    How far a person has come: lessons read, exercises handed in and passed.

    ``lessons_done`` counts the lessons read with all their exercises passed; ``step`` is
    the key of the furthest step of the way that the person has taken, blank for none.
    """

    user = models.OneToOneField(
        settings.AUTH_USER_MODEL, models.CASCADE, primary_key=True, related_name="tally"
    )
    lessons_read = models.PositiveIntegerField(default=0)
    lessons_done = models.PositiveIntegerField(default=0)
    attempts = models.PositiveIntegerField(default=0)
    passed = models.PositiveIntegerField(default=0)
    last = models.DateTimeField("last turned in or read", null=True, db_index=True)
    step = models.CharField(max_length=80, blank=True, db_index=True)

    def __str__(self):
        return f"{self.user}: {self.attempts} attempts"


class PersonRuleTally(models.Model):
    """In how many attempts of a person a rule was put to the test, and missed."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="rule_tallies")
    rule = models.CharField(max_length=40)
    asked = models.PositiveIntegerField(default=0)
    missed = models.PositiveIntegerField(default=0)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["user", "rule"], name="one_person_rule_tally")
        ]

    def __str__(self):
        return f"{self.user}: {self.rule}"


class GroupRuleTally(models.Model):
    """
    The same summed over the members of a group.

    ``people`` were asked; ``people_missed`` of them missed it at least once.
    """

    group = models.ForeignKey(Group, models.CASCADE, related_name="rule_tallies")
    rule = models.CharField(max_length=40)
    asked = models.PositiveIntegerField(default=0)
    missed = models.PositiveIntegerField(default=0)
    people = models.PositiveIntegerField(default=0)
    people_missed = models.PositiveIntegerField(default=0)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["group", "rule"], name="one_group_rule_tally")
        ]

    def __str__(self):
        return f"{self.group}: {self.rule}"
