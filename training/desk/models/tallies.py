"""
Sums of what the other tables hold, kept up to date so that pages need not count.

Nothing here is known only here: all of it can be thrown away and counted again.
"""

from django.conf import settings
from django.db import models
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.people.models.groups import Group


class PersonTally(models.Model):
    """
    How far a person has come: lessons read, exercises handed in and passed.

    ``lessons_done`` counts the lessons read with all their exercises passed; ``step`` is
    the key of the furthest step of the way that the person has taken, blank for none.
    ``certified_until`` is the last moment of the certificates that were not taken back,
    gone by or to come: whether the person is certified is asked of the day.
    """

    user = models.OneToOneField(
        settings.AUTH_USER_MODEL, models.CASCADE, primary_key=True, related_name="tally"
    )
    lessons_read = models.PositiveIntegerField(default=0)
    lessons_done = models.PositiveIntegerField(default=0)
    attempts = models.PositiveIntegerField(default=0)
    passed = models.PositiveIntegerField(default=0)
    last = models.DateTimeField(gettext_lazy("last turned in or read"), null=True, db_index=True)
    step = models.CharField(max_length=80, blank=True, db_index=True)
    certified_until = models.DateTimeField(null=True, blank=True, db_index=True)

    class Meta:
        # To find those who are through among many who are not.
        indexes = [models.Index(fields=["lessons_done"], name="tally_lessons_done")]

    def __str__(self):
        return _("{user}: {attempts} attempts").format(user=self.user, attempts=self.attempts)


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
        # The rule that each missed most comes first.
        indexes = [models.Index(fields=["user", "-missed", "rule"], name="tally_most_missed")]

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
