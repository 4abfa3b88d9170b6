"""What an exam was taken under, what was asked about it, and who decided: all with dates."""

import uuid

from django.conf import settings
from django.core.validators import MaxValueValidator
from django.db import models
from django.db.models import F, Q
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.people import sight

from ..codes import new_supervision_code

# So that a night is enough for the exam that needs most, and no deadline is without end.
MOST_EXTRA = 200


@sight.rule(own="by", staff=sight.of_harbor("group__harbor", or_own="by"))
class Supervision(models.Model):
    """
    An exam opened at a meeting: for one certificate, at a place, for some hours, by a code.

    ``by`` opened it, is there all the time and signs for who was there. With a ``group``
    only its members may use the code. ``closed`` is when it was ended before its time.
    ``key`` comes with the request that opens it, so that a double tap opens one.
    """

    requirements = models.ForeignKey(
        "certification.Requirements",
        models.PROTECT,
        verbose_name=gettext_lazy("certificate"),
        related_name="supervisions",
    )
    group = models.ForeignKey(
        "people.Group", models.PROTECT, null=True, blank=True, related_name="supervisions"
    )
    place = models.CharField(max_length=120)
    starts = models.DateTimeField()
    ends = models.DateTimeField(db_index=True)
    code = models.CharField(max_length=12, unique=True, default=new_supervision_code)
    key = models.UUIDField(unique=True, default=uuid.uuid4, editable=False)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    made = models.DateTimeField(default=timezone.now, editable=False)
    closed = models.DateTimeField(null=True, blank=True)

    class Meta:
        verbose_name = gettext_lazy("supervised exam")
        verbose_name_plural = gettext_lazy("supervised exams")
        ordering = ["-starts", "-pk"]
        constraints = [
            models.CheckConstraint(condition=Q(ends__gt=F("starts")), name="supervision_takes_time")
        ]

    def __str__(self):
        return f"{self.requirements}, {self.place}"


class CodeTry(models.Model):
    """A code of a supervised exam that somebody typed and that was none; kept for minutes."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="code_tries")
    made = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        verbose_name = gettext_lazy("wrong code")
        verbose_name_plural = gettext_lazy("wrong codes")
        ordering = ["made", "pk"]

    def __str__(self):
        return f"{self.user}, {self.made:%Y-%m-%d %H:%M}"


@sight.rule(own="exam__user", staff=sight.of_people("exam__user"))
class Conditions(models.Model):
    """
    What one exam was begun under.

    Each exam has them from its first moment; one without is older than they are, and
    nothing is known. ``supervision`` is null for an exam begun without a code.
    ``extra_percent`` and ``read_aloud`` are what was granted when it was begun.
    """

    exam = models.OneToOneField(
        "certification.Exam",
        models.CASCADE,
        primary_key=True,
        verbose_name=gettext_lazy("exam"),
        related_name="conditions",
    )
    supervision = models.ForeignKey(
        Supervision, models.PROTECT, null=True, blank=True, related_name="entries"
    )
    extra_percent = models.PositiveSmallIntegerField(gettext_lazy("extra time, percent"), default=0)
    read_aloud = models.BooleanField(default=False)

    class Meta:
        verbose_name = gettext_lazy("conditions of an exam")
        verbose_name_plural = gettext_lazy("conditions of exams")

    def __str__(self):
        return _("conditions of {exam}").format(exam=self.exam)


class Signature(models.Model):
    """
    What the supervisor says of one person's exam: who it was, and that they were there.

    A later one of the same exam counts in place of the earlier, which is kept.
    """

    class How(models.TextChoices):
        DOCUMENT = "document", gettext_lazy("I saw an identity paper")
        KNOWN = "known", gettext_lazy("I know this person")
        NOT = "not", gettext_lazy("I cannot say who it was, or they were not here all the time")

    conditions = models.ForeignKey(Conditions, models.CASCADE, related_name="signatures")
    how = models.CharField(max_length=10, choices=How)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    made = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        verbose_name = gettext_lazy("signature for identity")
        verbose_name_plural = gettext_lazy("signatures for identity")
        ordering = ["made", "pk"]

    def __str__(self):
        return f"{self.conditions}: {self.get_how_display()}"

    @property
    def confirms(self):
        """Whether the supervisor stands by who took the exam."""
        return self.how != self.How.NOT


@sight.rule(own="user", staff=sight.of_people("user"))
class Grant(models.Model):
    """
    Extra time or reading aloud in the exams of one person for one certificate.

    The latest is what counts, so that one of nothing ends those before it. ``reason`` is
    between the person and the staff.
    """

    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="exam_grants")
    requirements = models.ForeignKey(
        "certification.Requirements",
        models.PROTECT,
        verbose_name=gettext_lazy("certificate"),
        related_name="grants",
    )
    extra_percent = models.PositiveSmallIntegerField(
        gettext_lazy("extra time, percent"), default=0, validators=[MaxValueValidator(MOST_EXTRA)]
    )
    read_aloud = models.BooleanField(default=False)
    reason = models.TextField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    made = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        verbose_name = gettext_lazy("grant for an exam")
        verbose_name_plural = gettext_lazy("grants for exams")
        ordering = ["made", "pk"]

    def __str__(self):
        return _("{user}, {requirements}: {extra_percent} percent").format(
            user=self.user, requirements=self.requirements, extra_percent=self.extra_percent
        )


@sight.rule(own="exam__user", staff=sight.of_people("exam__user"))
class ResultQuestion(models.Model):
    """
    What a person asks about the result of an exam, and what staff answer.

    One at a time is open. ``key`` comes with the page, so that a double tap asks once.
    """

    exam = models.ForeignKey(
        "certification.Exam",
        models.PROTECT,
        verbose_name=gettext_lazy("exam"),
        related_name="questions",
    )
    key = models.UUIDField(unique=True)
    text = models.TextField(gettext_lazy("question"))
    asked = models.DateTimeField(default=timezone.now, editable=False)
    answer = models.TextField(blank=True)
    answered = models.DateTimeField(null=True, blank=True)
    answered_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        verbose_name = gettext_lazy("question about a result")
        verbose_name_plural = gettext_lazy("questions about results")
        ordering = ["asked", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["exam"], condition=Q(answered=None), name="one_open_question_an_exam"
            )
        ]

    def __str__(self):
        return f"{self.exam}, {self.asked:%Y-%m-%d}"


@sight.rule(staff=sight.of_people("exam__user"))
class Proposal(models.Model):
    """
    A correction that one member of staff proposes and another decides on.

    Nothing changes before it is approved; then the Correction is made, which is what
    counts. ``question`` is the person's question that led to it. A correction without a
    proposal is from the days before two were asked for.
    """

    exam = models.ForeignKey(
        "certification.Exam",
        models.PROTECT,
        verbose_name=gettext_lazy("exam"),
        related_name="proposals",
    )
    key = models.UUIDField(unique=True)
    passed = models.BooleanField()
    reason = models.TextField()
    question = models.ForeignKey(
        ResultQuestion, models.SET_NULL, null=True, blank=True, related_name="proposals"
    )
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    made = models.DateTimeField(default=timezone.now, editable=False)
    decided = models.DateTimeField(null=True, blank=True)
    decided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    refusal = models.TextField(gettext_lazy("why not"), blank=True)
    correction = models.OneToOneField(
        "certification.Correction",
        models.PROTECT,
        null=True,
        blank=True,
        related_name="proposal",
    )

    class Meta:
        verbose_name = gettext_lazy("proposed correction")
        verbose_name_plural = gettext_lazy("proposed corrections")
        ordering = ["made", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["exam"], condition=Q(decided=None), name="one_open_proposal_an_exam"
            ),
            models.CheckConstraint(
                condition=Q(decided_by=None) | ~Q(decided_by=F("by")),
                name="correction_takes_two",
            ),
        ]

    def __str__(self):
        return _("{exam}: {value}, proposed").format(
            exam=self.exam, value="passed" if self.passed else _("not passed")
        )


@sight.rule(staff=sight.of_people("certificate__exam__user"))
class RevocationProposal(models.Model):
    """
    That a certificate be withdrawn: one member of staff proposes, another decides.

    Nothing changes before it is approved; then the Revocation is made, which is what counts.
    """

    certificate = models.ForeignKey(
        "certification.Certificate", models.PROTECT, related_name="revocation_proposals"
    )
    reason = models.TextField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    made = models.DateTimeField(default=timezone.now, editable=False)
    decided = models.DateTimeField(null=True, blank=True)
    decided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    approved = models.BooleanField(null=True, blank=True)

    class Meta:
        verbose_name = gettext_lazy("proposed withdrawal")
        verbose_name_plural = gettext_lazy("proposed withdrawals")
        ordering = ["made", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["certificate"],
                condition=Q(decided=None),
                name="one_open_withdrawal_a_certificate",
            ),
            models.CheckConstraint(
                condition=Q(decided_by=None) | ~Q(decided_by=F("by")),
                name="withdrawal_takes_two",
            ),
        ]

    def __str__(self):
        return _("{certificate}, to be withdrawn").format(certificate=self.certificate)


class SeasonCheck(models.Model):
    """
    The short check by which the holder of a certificate renews it.

    Nothing is known of how it went until its set is finished. ``asked``, ``slips`` and
    ``allowed`` are then readings; ``was`` and ``until`` the end of the certificate before
    and after, both null if it was not passed.
    """

    certificate = models.ForeignKey(
        "certification.Certificate", models.PROTECT, related_name="checks"
    )
    set = models.OneToOneField(
        "recall.ReadingSet",
        models.PROTECT,
        verbose_name=gettext_lazy("readings"),
        related_name="season_check",
    )
    begun = models.DateTimeField(gettext_lazy("started"), default=timezone.now, editable=False)
    settled = models.DateTimeField(null=True, blank=True)
    asked = models.PositiveSmallIntegerField(null=True, blank=True)
    slips = models.PositiveSmallIntegerField(null=True, blank=True)
    allowed = models.PositiveSmallIntegerField(gettext_lazy("slips allowed"), null=True, blank=True)
    passed = models.BooleanField(null=True, blank=True)
    was = models.DateTimeField(gettext_lazy("valid until, before"), null=True, blank=True)
    until = models.DateTimeField(gettext_lazy("valid until, after"), null=True, blank=True)

    class Meta:
        verbose_name = gettext_lazy("check of a certificate")
        verbose_name_plural = gettext_lazy("checks of certificates")
        ordering = ["begun", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(settled=None, until=None)
                | Q(passed=False, until=None)
                | Q(passed=True, until__gt=F("was")),
                name="only_a_passed_check_renews",
            )
        ]

    def __str__(self):
        return _("check of {certificate}").format(certificate=self.certificate)
