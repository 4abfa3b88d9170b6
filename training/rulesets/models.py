"""Versions of rule sets drafted on the site; once approved they stay as they are for ever."""

from datetime import timedelta

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs.rules import rulebook
from training.people import sight

NOTICE = timedelta(hours=1)
"""How long before its first day begins a version must be settled, for all to hear of it."""


def earliest_day(now=None):
    """Return the first day that a version settled at ``now`` may take effect on."""
    now = now or timezone.now()
    return timezone.localdate(now + NOTICE) + timedelta(days=1)


class ApprovedStandsError(Exception):
    """Something would have changed or deleted what was approved: a fault in the program."""


class VersionQuerySet(models.QuerySet):
    def approved(self):
        """Return the versions that are or will be judged by."""
        return self.filter(approved_at__isnull=False, withdrawal=None)

    def update(self, **values):
        self._refuse_approved()
        return super().update(**values)

    def delete(self):
        self._refuse_approved()
        return super().delete()

    # As Django asks of methods that templates and related managers must not call.
    delete.alters_data = True
    delete.queryset_only = True

    def _refuse_approved(self):
        if self.filter(approved_at__isnull=False).exists():
            raise ApprovedStandsError(_("An approved version of a rule set stays as it is."))


def _settled(queryset, user):
    """The rule of sight: drafts are for staff of the whole fleet, what was approved for all."""
    return queryset if user.sees_whole_fleet else queryset.exclude(approved_at=None)


@sight.rule(staff=_settled)
class Version(models.Model):
    """
    A version of a rule set: drafted by one person, approved by another.

    ``text`` is the whole rule set as YAML, complete in itself; ``name``, ``version`` and
    ``effective_from`` are told in it too. ``key`` came with the form that began it, so
    that a double tap begins one. How far it has come is told by what is set: a draft has
    no ``submitted_at``, and one that waits for approval no ``approved_at``.
    """

    key = models.UUIDField(unique=True, editable=False)
    name = models.SlugField(gettext_lazy("rule set"), max_length=40)
    version = models.CharField(max_length=20)
    text = models.TextField()
    effective_from = models.DateField(gettext_lazy("takes effect on"))
    reason = models.TextField(gettext_lazy("why it is changed"), blank=True)
    drafted_by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    drafted_at = models.DateTimeField(default=timezone.now, editable=False)
    changed_at = models.DateTimeField(auto_now=True)
    submitted_at = models.DateTimeField(null=True, blank=True)
    approved_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+", null=True, blank=True
    )
    approved_at = models.DateTimeField(null=True, blank=True)

    objects = VersionQuerySet.as_manager()

    class Meta:
        ordering = ["name", "effective_from", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["name", "version"], name="one_text_a_version"),
            models.CheckConstraint(
                condition=Q(approved_by=None) | ~Q(approved_by=F("drafted_by")),
                name="approved_by_a_second_person",
            ),
            models.CheckConstraint(
                condition=Q(approved_by=None, approved_at=None)
                | Q(approved_by__isnull=False, approved_at__isnull=False),
                name="approved_by_somebody_at_some_time",
            ),
            models.CheckConstraint(
                condition=Q(approved_at=None) | Q(submitted_at__isnull=False),
                name="submitted_before_it_is_approved",
            ),
        ]

    def __str__(self):
        return _("{name}, version {version}").format(name=self.name, version=self.version)

    def save(self, *args, **kwargs):
        if not self._state.adding and self._is_approved_on_disk():
            raise ApprovedStandsError(
                _("{value} is approved and stays as it is.").format(value=self)
            )
        super().save(*args, **kwargs)

    def get_absolute_url(self):
        return reverse("rulesets:version", args=[self.pk])

    def delete(self, *args, **kwargs):
        if self._is_approved_on_disk():
            raise ApprovedStandsError(
                _("{value} is approved and stays as it is.").format(value=self)
            )
        return super().delete(*args, **kwargs)

    def _is_approved_on_disk(self):
        return Version.objects.filter(pk=self.pk, approved_at__isnull=False).exists()

    @property
    def book(self):
        """The Rulebook in the text; RulebookError if it can no longer be read."""
        return rulebook.parse(self.text, str(self))

    @property
    def is_draft(self):
        return self.submitted_at is None

    @property
    def waits(self):
        """Whether a second person is to look at it."""
        return self.submitted_at is not None and self.approved_at is None

    @property
    def is_approved(self):
        return self.approved_at is not None

    @property
    def is_withdrawn(self):
        return hasattr(self, "withdrawal")

    @property
    def standing(self):
        """How far it has come, in words."""
        if self.is_withdrawn:
            return "withdrawn"
        if self.is_approved:
            return "approved"
        return _("waits for approval") if self.waits else "draft"


class Word(models.Model):
    """What one member of staff did with a version and why, with the time; never changed."""

    reason = models.TextField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    made = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        abstract = True
        ordering = ["made", "pk"]


class SentBack(Word):
    """A version was not approved but given back to its drafter."""

    version = models.ForeignKey(Version, models.CASCADE, related_name="sent_back")

    def __str__(self):
        return _("{version} sent back").format(version=self.version)


class WithdrawalRequest(Word):
    """
    That an approved version be withdrawn; it stays approved until a second person agrees.

    ``agreed`` is None until it is decided, and ``decided_by`` None for the machine itself.
    """

    version = models.ForeignKey(Version, models.PROTECT, related_name="withdrawal_requests")
    agreed = models.BooleanField(null=True, editable=False)
    decided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, editable=False, related_name="+"
    )
    decided = models.DateTimeField(null=True, editable=False)

    class Meta(Word.Meta):
        abstract = False
        constraints = [
            models.UniqueConstraint(
                fields=["version"], condition=Q(agreed=None), name="one_withdrawal_asked_each"
            ),
            models.CheckConstraint(
                condition=~Q(agreed=True) | Q(decided_by=None) | ~Q(decided_by=F("by")),
                name="withdrawal_agreed_by_a_second_person",
            ),
            models.CheckConstraint(
                condition=Q(agreed=None, decided=None, decided_by=None)
                | Q(agreed__isnull=False, decided__isnull=False),
                name="withdrawal_decided_at_some_time",
            ),
        ]

    def __str__(self):
        return _("{version}, asked to be withdrawn").format(version=self.version)


class Withdrawal(Word):
    """
    An approved version was taken back before its first day; nothing is judged by it.

    ``by`` asked for it and ``agreed_by`` agreed: None for the machine itself, and for what is
    older than that it takes two.
    """

    version = models.OneToOneField(Version, models.PROTECT, related_name="withdrawal")
    agreed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, editable=False, related_name="+"
    )

    def __str__(self):
        return _("{version} withdrawn").format(version=self.version)


class Impact(models.Model):
    """
    What one text of a version would change: counted bit by bit, kept with its date.

    ``digest`` is of the text that was tried, ``against`` the version it was held against.
    ``todo`` lists what is still to be looked at and ``found`` what came of the rest; see
    ``training.rulesets.impact``. ``revision`` counts the saves, so that two who carry on
    at once do not count anything twice.
    """

    version = models.ForeignKey(Version, models.CASCADE, related_name="impacts")
    digest = models.CharField(max_length=64)
    against = models.CharField(max_length=20)
    begun = models.DateTimeField(default=timezone.now, editable=False)
    finished = models.DateTimeField(null=True, blank=True)
    total = models.PositiveIntegerField(default=0)
    todo = models.JSONField(default=list)
    found = models.JSONField(default=dict)
    revision = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ["begun", "pk"]

    def __str__(self):
        return _("impact of {version}").format(version=self.version)

    @property
    def done(self):
        """How many of the ``total`` things to look at have been."""
        return self.total - len(self.todo)

    @property
    def troubles(self):
        """What the site could no longer do under the text, as sentences."""
        return self.found["troubles"]
