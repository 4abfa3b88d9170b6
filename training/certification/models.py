"""RequirementsList, exams, marks and certificates: what a certificate rests on is never edited."""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs.rules import rulebook
from training.people import sight

from .codes import new_code

MOST_QUESTIONS = 120
"""Questions of one kind and level that an exam may have."""
MOST_ASKED = 12
"""Questions on one rule that must be right that an exam may have."""


class Requirements(models.Model):
    """
    What a certificate asks of a person, and for how long it then holds.

    ``must_pass`` lists the keys of requirements that every exam asks ``must_asked`` times
    each, and of which at most ``must_slips`` answers may be wrong; ``rulebooks`` the names
    of the rule sets that exams are drawn from. It changes by an approved ``Change`` alone.
    """

    class Track(models.TextChoices):
        FISHERMAN = "fisherman", gettext_lazy("fishermen")
        OFFICER = "officer", gettext_lazy("officers")

    class AfterErasure(models.TextChoices):
        NAMELESS = "nameless", gettext_lazy("stays valid without a name")
        KEEP = "keep", gettext_lazy("keeps the name until it ends")
        TAKE_BACK = "take back", gettext_lazy("is withdrawn")

    slug = models.SlugField(unique=True)
    title = models.CharField(max_length=120)
    track = models.CharField(max_length=10, choices=Track)
    summary = models.TextField(blank=True)
    rulebooks = models.JSONField(gettext_lazy("rule sets"), default=list)
    must_pass = models.JSONField(gettext_lazy("rules that must be right"), default=list, blank=True)
    must_asked = models.PositiveSmallIntegerField(
        gettext_lazy("questions on each rule that must be right"),
        default=4,
        validators=[MinValueValidator(1), MaxValueValidator(MOST_ASKED)],
    )
    must_slips = models.PositiveSmallIntegerField(
        gettext_lazy("slips allowed in each of them"), default=1
    )
    pass_percent = models.PositiveSmallIntegerField(
        gettext_lazy("percent to pass"), validators=[MinValueValidator(1), MaxValueValidator(100)]
    )
    attempts_allowed = models.PositiveSmallIntegerField(
        gettext_lazy("attempts allowed"), default=3, validators=[MinValueValidator(1)]
    )
    waiting_days = models.PositiveSmallIntegerField(
        gettext_lazy("days to wait between attempts"), default=1
    )
    minutes = models.PositiveSmallIntegerField(
        gettext_lazy("time limit, minutes"), null=True, blank=True
    )
    months_valid = models.PositiveSmallIntegerField(
        gettext_lazy("months valid"), default=24, validators=[MinValueValidator(1)]
    )
    after_erasure = models.CharField(
        gettext_lazy("if the holder deletes the account, the certificate"),
        max_length=10,
        choices=AfterErasure,
        default=AfterErasure.NAMELESS,
    )
    is_open = models.BooleanField(gettext_lazy("open for exams"), default=True)
    is_demo = models.BooleanField(gettext_lazy("demo data"), default=False, editable=False)
    created = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        verbose_name = gettext_lazy("requirements of a certificate")
        verbose_name_plural = gettext_lazy("requirements of certificates")
        ordering = ["track", "title"]

    def __str__(self):
        return self.title


class RequirementsPart(models.Model):
    """So many tasks of one kind and difficulty in every exam of a set of requirements."""

    requirements = models.ForeignKey(
        Requirements, models.CASCADE, verbose_name=gettext_lazy("certificate"), related_name="parts"
    )
    kind = models.SlugField(max_length=40)
    difficulty = models.PositiveSmallIntegerField(
        validators=[MinValueValidator(1), MaxValueValidator(3)]
    )
    count = models.PositiveSmallIntegerField(
        validators=[MinValueValidator(1), MaxValueValidator(MOST_QUESTIONS)]
    )

    class Meta:
        verbose_name = gettext_lazy("questions of an exam")
        verbose_name_plural = gettext_lazy("questions of exams")
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["requirements", "kind", "difficulty"], name="one_part_each"
            )
        ]

    def __str__(self):
        return _("{count} of {kind}, difficulty {difficulty}").format(
            count=self.count, kind=self.kind, difficulty=self.difficulty
        )


@sight.rule(own="user", staff=sight.of_people("user"))
class Exam(models.Model):
    """
    One person's sitting of a set of requirements: begun, saved task by task, handed in once.

    ``key`` comes with the request that begins it, so that a double tap begins one.
    ``pass_percent`` and the three about rules that must be right are the requirements's as they
    were when it was begun. ``must_slips`` is null for one begun before slips were allowed.
    Marks are null until it is handed in. ``reasons`` says in sentences why it was or
    was not passed.
    """

    requirements = models.ForeignKey(
        Requirements, models.PROTECT, verbose_name=gettext_lazy("certificate"), related_name="exams"
    )
    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="exams")
    key = models.UUIDField(unique=True)
    seed = models.PositiveIntegerField()
    pass_percent = models.PositiveSmallIntegerField()
    must_pass = models.JSONField(default=list, blank=True)
    must_asked = models.PositiveSmallIntegerField(null=True, blank=True)
    must_slips = models.PositiveSmallIntegerField(null=True, blank=True)
    begun = models.DateTimeField(gettext_lazy("started"), default=timezone.now, editable=False)
    deadline = models.DateTimeField(null=True, blank=True)
    handed_in = models.DateTimeField(
        gettext_lazy("turned in"), null=True, blank=True, db_index=True
    )
    marks = models.PositiveSmallIntegerField(gettext_lazy("points"), null=True, blank=True)
    out_of = models.PositiveSmallIntegerField(null=True, blank=True)
    passed = models.BooleanField(null=True, blank=True)
    reasons = models.JSONField(default=list, blank=True)

    class Meta:
        verbose_name = gettext_lazy("exam")
        verbose_name_plural = gettext_lazy("exams")
        ordering = ["-begun", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["user", "requirements"],
                condition=Q(handed_in__isnull=True),
                name="one_open_exam_each",
            ),
            models.CheckConstraint(
                condition=Q(handed_in__isnull=True) | Q(marks__lte=F("out_of")),
                name="exam_marks_within_reach",
            ),
        ]

    def __str__(self):
        return f"{self.requirements} by {self.user}"


class ExamTask(models.Model):
    """
    One task of an exam; made anew from its seed like an exercise's.

    ``focus`` is what the kind is given as such: for a reading its rule and the side of the
    limit on which it lies, so that exams cover the same rules whatever their numbers.
    ``answer`` is the raw answer last saved, null before the first; ``revision`` counts
    the saves. Marks and findings are null until the exam is handed in.
    """

    exam = models.ForeignKey(
        Exam, models.PROTECT, verbose_name=gettext_lazy("exam"), related_name="tasks"
    )
    number = models.PositiveSmallIntegerField()
    kind = models.SlugField(max_length=40)
    kind_version = models.PositiveSmallIntegerField(gettext_lazy("version of the kind"), default=1)
    seed = models.PositiveIntegerField()
    difficulty = models.PositiveSmallIntegerField()
    rulebook_name = models.CharField(gettext_lazy("rule set"), max_length=40)
    rulebook_version = models.CharField(gettext_lazy("version"), max_length=20)
    focus = models.JSONField(default=list, blank=True)
    answer = models.JSONField(null=True, blank=True)
    revision = models.PositiveIntegerField(default=0)
    saved = models.DateTimeField(null=True, blank=True)
    marks = models.PositiveSmallIntegerField(gettext_lazy("points"), null=True, blank=True)
    out_of = models.PositiveSmallIntegerField(null=True, blank=True)
    passed = models.BooleanField(null=True, blank=True)
    findings = models.JSONField(null=True, blank=True)

    class Meta:
        verbose_name = gettext_lazy("exam question")
        verbose_name_plural = gettext_lazy("exam questions")
        ordering = ["exam", "number"]
        constraints = [models.UniqueConstraint(fields=["exam", "number"], name="one_task_a_number")]

    def __str__(self):
        return _("{exam}, task {number}").format(exam=self.exam, number=self.number)

    @property
    def rulebook(self):
        """The rule set the task was made by, in the version of its day."""
        return rulebook.load(self.rulebook_name, self.rulebook_version)


class Correction(models.Model):
    """
    A change to the outcome of an exam, made by staff with a reason.

    The exam itself stays as it was marked; its latest correction is what counts.
    """

    exam = models.ForeignKey(
        Exam, models.PROTECT, verbose_name=gettext_lazy("exam"), related_name="corrections"
    )
    passed = models.BooleanField()
    reason = models.TextField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    made = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["made", "pk"]

    def __str__(self):
        return _("{exam}: {value}").format(
            exam=self.exam, value="passed" if self.passed else _("not passed")
        )


@sight.rule(own="exam__user", staff=sight.of_people("exam__user"))
class Certificate(models.Model):
    """
    Issued once for a passed exam.

    ``code`` is what a stranger types or scans to verify it; ``show_name`` whether the
    verify page may name the holder. ``rulebooks`` maps the name of each rule set that
    the exam went by to its version on that day.
    """

    exam = models.OneToOneField(
        Exam, models.PROTECT, verbose_name=gettext_lazy("exam"), related_name="certificate"
    )
    code = models.CharField(max_length=20, unique=True, default=new_code)
    holder_name = models.CharField(max_length=150)
    show_name = models.BooleanField(default=False)
    issued = models.DateTimeField(default=timezone.now, editable=False)
    expires = models.DateTimeField()
    rulebooks = models.JSONField(default=dict)

    class Meta:
        ordering = ["-issued", "-pk"]

    def __str__(self):
        return f"{self.code}: {self.holder_name}"


class Revocation(models.Model):
    """A certificate taken back, by whom and why; there is no way to undo it but a new exam."""

    certificate = models.OneToOneField(Certificate, models.PROTECT, related_name="revocation")
    reason = models.TextField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    made = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["made", "pk"]

    def __str__(self):
        return _("{certificate} revoked").format(certificate=self.certificate)


class Refresher(models.Model):
    """
    The holder of a certificate has gone through what changed in its rule sets.

    ``answers`` maps each changed rule to what the holder said it is now. ``set`` are the
    readings of these rules: it counts once they are finished, or if none can be asked.
    """

    certificate = models.ForeignKey(Certificate, models.PROTECT, related_name="refreshers")
    rulebooks = models.JSONField(gettext_lazy("rule sets gone through to"), default=dict)
    answers = models.JSONField(default=dict, blank=True)
    set = models.OneToOneField(
        "recall.ReadingSet",
        models.PROTECT,
        verbose_name=gettext_lazy("readings"),
        null=True,
        blank=True,
        related_name="refresher",
    )
    made = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["made", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["certificate", "rulebooks"], name="one_refresher_each")
        ]

    def __str__(self):
        return _("{certificate} refreshed").format(certificate=self.certificate)

    @property
    def is_finished(self):
        """Whether all of it is gone through, the readings too."""
        return self.set is None or self.set.finished is not None


class Reminder(models.Model):
    """A mail to the holder of a certificate, ``days`` or fewer before it runs out."""

    certificate = models.ForeignKey(Certificate, models.CASCADE, related_name="reminders")
    days = models.PositiveSmallIntegerField()
    made = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["made", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["certificate", "days"], name="one_reminder_each")
        ]

    def __str__(self):
        return _("{certificate}, {days} days before").format(
            certificate=self.certificate, days=self.days
        )


class Judgement(models.Model):
    """
    One judge's expected share right on one kind of task, for setting a pass mark.

    ``share`` is of minimally competent candidates, between 0 and 1. A later judgement
    by the same judge on the same part stands for the earlier, which is kept; but one made
    ``after_seeing`` what others expect does not stand for one made alone.
    """

    part = models.ForeignKey(RequirementsPart, models.PROTECT, related_name="judgements")
    judge = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    share = models.FloatField(validators=[MinValueValidator(0), MaxValueValidator(1)])
    made = models.DateTimeField(default=timezone.now, editable=False)
    after_seeing = models.BooleanField(
        gettext_lazy("after seeing the others"), default=False, editable=False
    )

    class Meta:
        verbose_name = gettext_lazy("estimate for an exam")
        verbose_name_plural = gettext_lazy("estimates for an exam")
        ordering = ["made", "pk"]

    def __str__(self):
        return f"{self.judge} on {self.part}: {self.share}"


class Seen(models.Model):
    """That a judge was shown what others expect of a part, from ``first`` on."""

    part = models.ForeignKey(RequirementsPart, models.CASCADE, related_name="+")
    judge = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    first = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["part", "judge"], name="one_sight_each")]

    def __str__(self):
        return f"{self.judge}, {self.part}: {self.first}"


# Django looks for models in this module.
from .change_models import Change  # noqa: E402, F401
from .fair.models import (  # noqa: E402, F401
    CodeTry,
    Conditions,
    Grant,
    Proposal,
    ResultQuestion,
    RevocationProposal,
    SeasonCheck,
    Signature,
    Supervision,
)
