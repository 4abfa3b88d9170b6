"""Jobs that people and the clock ask for, and the workers that do them."""

from datetime import timedelta

from django.conf import settings
from django.db import models
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext_lazy

from training.people import sight


def _place(job, name):
    """Return where the file of ``job`` is kept; its key is nothing that anybody guesses."""
    return f"{job.folder}/{name}"


@sight.rule(own="owner")
class Job(models.Model):
    """
    A piece of work of one ``kind``, for its ``owner``; of the site's own if that is None.

    ``key`` is that of the form that asked for it: the same form sent twice makes one job.
    ``about`` says what it is about, in numbers and keys alone, and of a file the address that
    it was asked for at; ``at`` is where it goes on after a stop. Of its ``total`` parts so
    many are ``done``; both are 0 until they are known. ``claim`` is the key of the run that
    has it: a run that lost it writes nothing more. ``task`` is its place in the queue,
    ``tries`` how often it was begun.

    ``result`` has what is said of it at the end, in numbers and keys; ``file`` what it made,
    kept until ``kept_until``. ``seen`` is when its owner looked at its end.
    """

    class State(models.TextChoices):
        WAITING = "waiting", gettext_lazy("waits for its turn")
        WORKING = "working", gettext_lazy("is being worked on")
        DONE = "done", gettext_lazy("is done")
        STOPPED = "stopped", gettext_lazy("was stopped")
        FAILED = "failed", gettext_lazy("did not work out")

    GOING = (State.WAITING, State.WORKING)

    key = models.UUIDField(unique=True, editable=False)
    kind = models.CharField(max_length=40)
    owner = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.CASCADE, null=True, related_name="jobs"
    )
    about = models.JSONField(default=dict)
    at = models.JSONField(default=dict)
    total = models.PositiveIntegerField(default=0)
    done = models.PositiveIntegerField(default=0)
    state = models.CharField(max_length=10, choices=State, default=State.WAITING)
    stop_asked = models.BooleanField(default=False)
    claim = models.UUIDField(null=True)
    worker = models.CharField(max_length=64, blank=True)
    task = models.UUIDField(null=True)
    tries = models.PositiveSmallIntegerField(default=0)
    result = models.JSONField(default=dict)
    file = models.FileField(upload_to=_place, max_length=200, blank=True)
    file_type = models.CharField(max_length=100, blank=True)
    kept_until = models.DateTimeField(null=True)
    made = models.DateTimeField(default=timezone.now, editable=False)
    begun = models.DateTimeField(null=True)
    beat = models.DateTimeField(null=True)
    ended = models.DateTimeField(null=True)
    seen = models.DateTimeField(null=True)

    class Meta:
        ordering = ["-made", "-pk"]
        indexes = [
            models.Index(fields=["owner", "-made"], name="job_owner_made"),
            models.Index(fields=["state", "beat"], name="job_state_beat"),
            models.Index(fields=["kept_until"], name="job_kept_until"),
        ]

    def __str__(self):
        return f"{self.kind} {self.pk}"

    def get_absolute_url(self):
        return reverse("work:job", args=[self.key])

    @property
    def folder(self):
        """Where its files are kept."""
        return f"work/{self.key}"

    @property
    def is_going(self):
        """Whether it is not at its end: it waits or is being worked on."""
        return self.state in self.GOING

    @property
    def percent(self):
        """How much of it is done, a whole number; all of it only once it is."""
        return min(99, self.done * 100 // self.total) if self.total else 0


# After so long without a sign of life a worker is taken for dead.
SILENT = timedelta(seconds=60)


@sight.rule(staff=sight.every)
class Hand(models.Model):
    """A worker: its ``name``, since when it works, and when it last gave a sign of life."""

    name = models.CharField(max_length=64, unique=True)
    begun = models.DateTimeField(default=timezone.now)
    beat = models.DateTimeField(default=timezone.now, db_index=True)

    class Meta:
        ordering = ["begun", "pk"]

    def __str__(self):
        return self.name

    @classmethod
    def alive(cls):
        """Return the workers that gave a sign of life lately."""
        return cls.objects.filter(beat__gte=timezone.now() - SILENT)
