"""What was set, what was answered, and what it was worth: kept for ever."""

from django.conf import settings
from django.db import models
from django.db.models import Count, Q
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs.rules import rulebook
from training.people import sight


class AssignmentQuerySet(models.QuerySet):
    def open(self):
        """Return the assignments not handed in yet."""
        return self.filter(is_open=True)

    def at_sea(self):
        """Return the assignments set for where there is no signal, and not handed in yet."""
        return self.filter(taken__isnull=False, attempt=None)


@sight.rule(own="user")
class Assignment(models.Model):
    """
    One task set to one person.

    The task itself is not stored: kind and its version, seed, difficulty, focus and rule set
    make it anew, the same every time. ``is_mixed`` says that it belongs to mixed practice, in
    which it can be passed over: it stays open then, and comes back. ``taken`` is when it was set
    to be taken along to where there is no signal: such a one is never the open one of its kind.
    """

    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="assignments")
    kind = models.SlugField(max_length=40)
    kind_version = models.PositiveSmallIntegerField(gettext_lazy("version of the kind"), default=1)
    seed = models.PositiveIntegerField()
    difficulty = models.PositiveSmallIntegerField()
    rulebook_name = models.CharField(gettext_lazy("rule set"), max_length=40)
    rulebook_version = models.CharField(gettext_lazy("version"), max_length=20)
    focus = models.JSONField(gettext_lazy("rules it turns on"), default=list, blank=True)
    is_mixed = models.BooleanField(gettext_lazy("of mixed practice"), default=False)
    passed_over = models.DateTimeField(null=True, blank=True, editable=False)
    created = models.DateTimeField(default=timezone.now, editable=False)
    taken = models.DateTimeField(gettext_lazy("set for sea"), null=True, blank=True, editable=False)
    is_open = models.BooleanField(default=True)

    objects = AssignmentQuerySet.as_manager()

    class Meta:
        ordering = ["-created", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["user", "kind"], condition=Q(is_open=True), name="one_open_assignment_each"
            ),
            models.CheckConstraint(
                condition=Q(taken=None) | Q(is_open=False), name="none_set_for_sea_is_open"
            ),
        ]

    def __str__(self):
        return _("{kind} for {user}").format(kind=self.kind, user=self.user)

    @property
    def rulebook(self):
        """The rule set the task was made by, in the version of its day."""
        return rulebook.load(self.rulebook_name, self.rulebook_version)


class AttemptQuerySet(models.QuerySet):
    def by(self, user):
        """Return what ``user`` has handed in."""
        return self.filter(assignment__user=user)

    def passes(self):
        return self.filter(passed=True)

    def passes_of(self, pks):
        """Return a row a person of ``pks`` and kind they passed, with how many ``times``."""
        theirs = self.passes().filter(assignment__user__in=pks).order_by()
        return theirs.values("assignment__user_id", "assignment__kind").annotate(times=Count("pk"))


@sight.rule(own="assignment__user", staff=sight.of_people("assignment__user"))
class Attempt(models.Model):
    """
    An assignment handed in: the answer as it was given, and how it was marked.

    ``answer`` is the raw answer, before anything is read into it; ``findings`` a list
    of lines as made by ``kinds.base.Line``; ``remarks`` a list of sentences. What was answered
    without signal was ``noted`` then, by the phone's clock, and handed in when it arrived;
    ``told`` is how many points the phone told its owner meanwhile.
    """

    assignment = models.OneToOneField(Assignment, models.PROTECT, related_name="attempt")
    answer = models.JSONField()
    marks = models.PositiveSmallIntegerField(gettext_lazy("points"))
    out_of = models.PositiveSmallIntegerField()
    passed = models.BooleanField()
    findings = models.JSONField()
    remarks = models.JSONField(default=list, blank=True)
    handed_in = models.DateTimeField(
        gettext_lazy("turned in"), default=timezone.now, editable=False, db_index=True
    )
    noted = models.DateTimeField(
        gettext_lazy("answered on the phone"), null=True, blank=True, editable=False
    )
    told = models.PositiveSmallIntegerField(
        gettext_lazy("points shown on the phone"), null=True, blank=True, editable=False
    )

    objects = AttemptQuerySet.as_manager()

    class Meta:
        ordering = ["-handed_in", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(marks__lte=models.F("out_of")), name="no_more_marks_than_there_are"
            )
        ]

    def __str__(self):
        return f"{self.assignment}: {self.marks} of {self.out_of}"

    @property
    def was_told_otherwise(self):
        """Whether the phone told other points than the site gave."""
        return self.told is not None and self.told != self.marks
