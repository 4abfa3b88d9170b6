"""The groups in which people train, and when they meet."""

import uuid
from datetime import timedelta

from django.conf import settings
from django.db import models
from django.db.models import F, Prefetch, Q
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.deck.codes import is_short, new_code, tidy_code

from .. import sight
from .users import Role


class GroupQuerySet(models.QuerySet):
    def with_code(self, code):
        """Return the group that people join by ``code``, None if there is none."""
        return self.filter(code=tidy_code(code), is_open=True).first()


@sight.rule(staff=sight.of_harbor("harbor"))
class Group(models.Model):
    """People who train together: a harbor's crews, a class, an agency's officers."""

    JOINING_ROLES = [(role.value, role.label) for role in (Role.TRAINEE, Role.OFFICER)]

    name = models.CharField(max_length=100, unique=True)
    code = models.CharField(
        max_length=40,
        unique=True,
        default=new_code,
        help_text=gettext_lazy(
            "People type this to join. Capitals, spaces and dashes make no difference."
        ),
    )
    harbor = models.CharField(gettext_lazy("harbor"), max_length=100, blank=True)
    role = models.CharField(
        gettext_lazy("members sign up as"),
        max_length=10,
        choices=JOINING_ROLES,
        default=Role.TRAINEE,
        help_text=gettext_lazy("Anyone who has the code gets this role."),
    )
    is_open = models.BooleanField(gettext_lazy("takes new members"), default=True)
    is_demo = models.BooleanField(gettext_lazy("demo data"), default=False, editable=False)

    objects = GroupQuerySet.as_manager()

    class Meta:
        ordering = ["name"]

    def __str__(self):
        return self.name

    def save(self, *args, **kwargs):
        self.code = tidy_code(self.code)
        super().save(*args, **kwargs)

    @property
    def has_short_code(self):
        """Whether others may guess the code: one from before codes had to be long."""
        return is_short(self.code)


class Membership(models.Model):
    """One person in one group."""

    group = models.ForeignKey(Group, models.PROTECT, related_name="memberships")
    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="memberships")
    joined = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["joined", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["group", "user"], name="one_membership_each")
        ]

    def __str__(self):
        return f"{self.user} in {self.group}"


def with_groups(path="memberships"):
    """
    Return what fetches beforehand the memberships at ``path`` of many people, with their groups.

    By a join: SQLite cannot be asked for a thousand things by their keys as Django does it.
    """
    return Prefetch(path, Membership.objects.select_related("group"))


EARLY = LATE = timedelta(hours=2)
"""How long before a session and after it people may say that they are there (by custom)."""


@sight.rule(staff=sight.of_harbor("group__harbor"))
class Session(models.Model):
    """A meeting of a group: a dockside evening, a day at the net shed."""

    group = models.ForeignKey(Group, models.CASCADE, related_name="sessions")
    title = models.CharField(max_length=120)
    place = models.CharField(max_length=120, blank=True)
    starts = models.DateTimeField(db_index=True)
    ends = models.DateTimeField()
    note = models.TextField(blank=True)
    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    # Shown in the room and on the poster; whoever has it can say "I am here".
    code = models.CharField(max_length=40, unique=True, default=new_code, editable=False)
    # People who came and have no account; None if nobody counted them.
    others = models.PositiveSmallIntegerField(null=True, blank=True, editable=False)
    called_off = models.DateTimeField(null=True, blank=True, editable=False)
    changed = models.DateTimeField(auto_now=True)

    class Meta:
        ordering = ["starts", "pk"]
        constraints = [
            models.CheckConstraint(condition=Q(ends__gt=F("starts")), name="session_takes_time")
        ]

    def __str__(self):
        return self.title

    @property
    def when(self):
        """When it is, in words and in the site's own time; a second day is named."""
        starts, ends = map(timezone.localtime, (self.starts, self.ends))
        words = (
            _("{day}, {begins} to {finishes}")
            if starts.date() == ends.date()
            else _("{day}, {begins} to {finishes} on {last}")
        )
        return words.format(
            day=date_format(starts, "l, F j, Y"),
            begins=date_format(starts, "g:i a"),
            finishes=date_format(ends, "g:i a"),
            last=date_format(ends, "l"),
        )

    def takes_arrivals(self, now=None):
        """Return whether people may say at ``now`` that they are here."""
        now = now or timezone.now()
        return not self.called_off and self.starts - EARLY <= now <= self.ends + LATE
