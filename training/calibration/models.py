"""Rounds, who takes part in them, what each said of each rig, and practice after it."""

import uuid

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs.rules import rulebook
from training.people import sight

from .making import FEWEST_RIGS, MOST_RIGS


@sight.rule(staff=sight.every)
class Round(models.Model):
    """
    The same rigs for several officers to judge.

    The rigs are not stored: ``seed``, the rule set, ``count`` and ``drawn_percent`` make
    them anew, and the rule module says what is true of them. ``key`` comes with the
    request that sets the round up, so that a double tap sets up one.
    """

    title = models.CharField(max_length=120)
    rulebook_name = models.CharField(gettext_lazy("rule set"), max_length=40)
    rulebook_version = models.CharField(gettext_lazy("version"), max_length=20)
    count = models.PositiveSmallIntegerField(
        gettext_lazy("number of rigs"),
        validators=[MinValueValidator(FEWEST_RIGS), MaxValueValidator(MOST_RIGS)],
    )
    drawn_percent = models.PositiveSmallIntegerField(
        gettext_lazy("drawn rather than described, percent"),
        default=50,
        validators=[MaxValueValidator(100)],
    )
    seed = models.PositiveIntegerField()
    due = models.DateField(gettext_lazy("turn in by"), null=True, blank=True)
    closed = models.DateTimeField(null=True, blank=True, editable=False)
    key = models.UUIDField(unique=True, default=uuid.uuid4, editable=False)
    is_demo = models.BooleanField(gettext_lazy("demo data"), default=False, editable=False)
    created = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["-created", "-pk"]

    def __str__(self):
        return self.title

    @property
    def rulebook(self):
        """The rule set that the round goes by, in the version of the day it was set up."""
        return rulebook.load(self.rulebook_name, self.rulebook_version)


@sight.rule(own="officer", staff=sight.of_people("officer"))
class Turn(models.Model):
    """One officer's part in a round: handed in once, when every rig has been judged."""

    round = models.ForeignKey(Round, models.PROTECT, related_name="turns")
    officer = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="turns")
    handed_in = models.DateTimeField(
        gettext_lazy("turned in"), null=True, blank=True, editable=False
    )

    class Meta:
        ordering = ["officer__name", "pk"]
        constraints = [models.UniqueConstraint(fields=["round", "officer"], name="one_turn_each")]

    def __str__(self):
        return f"{self.officer} in {self.round}"


class Call(models.Model):
    """
    What an officer says of one rig: the verdict, and the keys of the rules it fails.

    ``number`` is the rig's in the round; ``revision`` counts the saves.
    """

    class Verdict(models.TextChoices):
        PASSES = "passes", gettext_lazy("meets the rules")
        FAILS = "fails", gettext_lazy("breaks a rule")
        UNSURE = "unsure", gettext_lazy("cannot tell")

    turn = models.ForeignKey(Turn, models.PROTECT, related_name="calls")
    number = models.PositiveSmallIntegerField()
    verdict = models.CharField(max_length=10, choices=Verdict)
    failing = models.JSONField(gettext_lazy("rules it breaks"), default=list, blank=True)
    revision = models.PositiveIntegerField(default=1)
    saved = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["turn", "number"]
        constraints = [models.UniqueConstraint(fields=["turn", "number"], name="one_call_a_rig")]

    def __str__(self):
        return _("{turn}, rig {number}: {get_verdict_display}").format(
            turn=self.turn, number=self.number, get_verdict_display=self.get_verdict_display()
        )


@sight.rule(own="turn__officer", staff=sight.of_people("turn__officer"))
class PracticeRig(models.Model):
    """
    A rig to practice on after a round, made for one rule that its officer departed on.

    ``focus`` lists ``rule`` and whether the rig is to break or to meet it by little, and is
    empty where it cannot be made to do either; with the seed and ``kind_version`` it makes
    the rig anew. ``answer`` is raw; ``calls`` maps the key of each rule that binds the rig to
    whether the officer was right about it. Both are null until the rig is handed in.
    """

    turn = models.ForeignKey(Turn, models.PROTECT, related_name="practice")
    rule = models.CharField(max_length=40)
    kind_version = models.PositiveSmallIntegerField(gettext_lazy("version of the kind"), default=1)
    seed = models.PositiveIntegerField()
    focus = models.JSONField(default=list, blank=True)
    answer = models.JSONField(null=True, blank=True)
    calls = models.JSONField(null=True, blank=True)
    made = models.DateTimeField(default=timezone.now, editable=False)
    handed_in = models.DateTimeField(
        gettext_lazy("turned in"), null=True, blank=True, editable=False
    )

    class Meta:
        ordering = ["turn", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["turn"], condition=Q(handed_in__isnull=True), name="one_open_practice_rig"
            )
        ]

    def __str__(self):
        return _("{turn}, practice on {rule}").format(turn=self.turn, rule=self.rule)
