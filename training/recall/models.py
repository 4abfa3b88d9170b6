"""Sets of readings as they were answered, and what each person remembers by rule."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils import timezone
from django.utils.crypto import salted_hmac
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs.rules import rulebook
from training.people import sight

from . import spacing


@sight.rule(own="user")
class ReadingSet(models.Model):
    """
    A short set of readings, asked of one person.

    ``key`` comes with the request that opens it, so that a double tap opens one.
    ``subject`` says what it is about within its purpose, such as the slug of a lesson.
    """

    class Purpose(models.TextChoices):
        START = "start", gettext_lazy("what you know already")
        LESSON = "lesson", gettext_lazy("a lesson's rules")
        REVIEW = "review", gettext_lazy("what comes back")
        SEASON = "season", gettext_lazy("yearly check")
        CHANGES = "changes", gettext_lazy("what changed in the rules")
        ROUND = "round", gettext_lazy("after a round")

    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="reading_sets")
    purpose = models.CharField(max_length=10, choices=Purpose)
    subject = models.CharField(max_length=120, blank=True)
    key = models.UUIDField(unique=True)
    made = models.DateTimeField(default=timezone.now, editable=False)
    finished = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-made", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["user", "purpose", "subject"],
                condition=Q(finished__isnull=True),
                name="one_open_reading_set_each",
            )
        ]

    def __str__(self):
        return f"{self.get_purpose_display()}, {self.user}"


class SetReading(models.Model):
    """
    One reading of a set; made anew from its seed like an exercise's task.

    ``focus`` is the key of the requirement it asks. ``answer`` is the raw answer, and the
    first stands; ``findings`` is what ``Attempt.findings`` holds for an exercise.
    """

    set = models.ForeignKey(ReadingSet, models.PROTECT, related_name="readings")
    number = models.PositiveSmallIntegerField()
    kind_version = models.PositiveSmallIntegerField(default=1)
    seed = models.PositiveIntegerField()
    difficulty = models.PositiveSmallIntegerField()
    rulebook_name = models.CharField(gettext_lazy("rule set"), max_length=40)
    rulebook_version = models.CharField(gettext_lazy("version"), max_length=20)
    focus = models.CharField(gettext_lazy("rule"), max_length=60)
    answer = models.JSONField(null=True, blank=True)
    passed = models.BooleanField(gettext_lazy("right"), null=True, blank=True)
    findings = models.JSONField(null=True, blank=True)
    answered = models.DateTimeField(null=True, blank=True, db_index=True)

    class Meta:
        verbose_name = gettext_lazy("reading of a set")
        verbose_name_plural = gettext_lazy("readings of sets")
        ordering = ["set", "number"]
        constraints = [
            models.UniqueConstraint(fields=["set", "number"], name="one_reading_a_number"),
            models.CheckConstraint(
                condition=Q(answered__isnull=True) | Q(passed__isnull=False),
                name="an_answered_reading_is_graded",
            ),
        ]

    def __str__(self):
        return _("{set}, reading {number}: {focus}").format(
            set=self.set, number=self.number, focus=self.focus
        )

    @property
    def rulebook(self):
        """The rule set it was made by, in the version of its day."""
        return rulebook.load(self.rulebook_name, self.rulebook_version)

    @property
    def drawn(self):
        """What tells this drawing of the reading from another; the seed would tell the answer."""
        return salted_hmac("recall.reading", f"{self.pk}/{self.seed}").hexdigest()[:16]


class RuleMemory(models.Model):
    """
    What one person remembers of one rule, as ``spacing`` has it.

    It follows from what was answered, by which ``memory.rebuild`` can make it anew. ``due``
    is the day on which the rule comes back, None if it does not.
    """

    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="rule_memories")
    rulebook_name = models.CharField(gettext_lazy("rule set"), max_length=40)
    key = models.CharField(gettext_lazy("rule"), max_length=60)
    step = models.PositiveSmallIntegerField(default=0)
    asked = models.PositiveIntegerField(gettext_lazy("times asked"), default=0)
    right = models.PositiveIntegerField(gettext_lazy("times right"), default=0)
    last_asked = models.DateTimeField()
    last_right = models.DateTimeField(null=True, blank=True)
    due = models.DateField(gettext_lazy("comes back on"), null=True, blank=True, db_index=True)

    class Meta:
        verbose_name = gettext_lazy("rule remembered")
        verbose_name_plural = gettext_lazy("rules remembered")
        ordering = ["user", "rulebook_name", "key"]
        constraints = [
            models.UniqueConstraint(
                fields=["user", "rulebook_name", "key"], name="one_memory_a_rule"
            ),
            models.CheckConstraint(
                condition=Q(right__lte=F("asked")), name="no_more_right_than_asked"
            ),
        ]

    def __str__(self):
        return f"{self.user}: {self.key} of {self.rulebook_name}"

    @property
    def right_last(self):
        """Whether the last answer was right."""
        return self.last_right == self.last_asked

    def state(self, today):
        """Return spacing.KNOWN or spacing.SHAKY as of ``today``, a date."""
        asked = timezone.localdate(self.last_asked)
        return spacing.state(self.step, self.due, self.right_last, asked, today)


@sight.rule(own="user", staff=sight.of_people("user"))
class AskedAgain(models.Model):
    """
    A rule that a person had been right about was asked again, ``days`` later: what has stayed?

    Like RuleMemory it follows from what was answered. Only gaps of spacing.LATER_DAYS or more
    are noted.
    """

    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="asked_again")
    rulebook_name = models.CharField(gettext_lazy("rule set"), max_length=40)
    key = models.CharField(gettext_lazy("rule"), max_length=60)
    days = models.PositiveIntegerField(gettext_lazy("days since it was last asked"))
    right = models.BooleanField(gettext_lazy("right again"))
    asked = models.DateTimeField()

    class Meta:
        verbose_name = gettext_lazy("rule asked again")
        verbose_name_plural = gettext_lazy("rules asked again")
        ordering = ["user", "asked", "pk"]

    def __str__(self):
        return _("{user}: {key} after {days} days").format(
            user=self.user, key=self.key, days=self.days
        )


class PracticeMail(models.Model):
    """Whether a person wants a mail when rules come back, and when the last one went out."""

    user = models.OneToOneField(
        settings.AUTH_USER_MODEL, models.PROTECT, primary_key=True, related_name="practice_mail"
    )
    wanted = models.BooleanField(default=False)
    last_sent = models.DateTimeField(null=True, blank=True)

    class Meta:
        verbose_name = gettext_lazy("choice about practice mails")
        verbose_name_plural = gettext_lazy("choices about practice mails")

    def __str__(self):
        return _("{user}: {value}").format(
            user=self.user, value="wanted" if self.wanted else _("not wanted")
        )
