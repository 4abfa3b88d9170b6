"""Registers that were handed in to be imported, what it would do, and what it did."""

from django.conf import settings
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy

from training.people import sight
from training.work.models import Job


def _theirs(queryset, user):
    """All for whoever looks after the whole fleet; others see no rows of other harbors."""
    return queryset if sight.harbors_of(user) is None else queryset.filter(owner=user)


@sight.rule(own="owner", staff=_theirs)
class ImportDraft(models.Model):
    """
    The rows of a register as read from a file, waiting for their ``owner`` to say yes.

    ``sheets`` is all that the file holds: of each sheet its name and its lines, a line being
    its number and its cells, all text. ``sheet`` is the index of the chosen one, ``top`` the
    number of the line with the headings; ``headers`` and ``rows`` are cut out by them.
    ``columns`` says where each of our columns stands, by key, None until it is known;
    ``answers`` what was said of what is unclear, None until then. ``outcomes`` is what
    importing each row would do, as the dry run found it and showed it, [] until it did.
    ``job`` is the work that it waits for, or was last done with it. ``applied`` is when it was
    imported, or stopped on the way; ``added`` and ``changed`` how many vessels. What it wrote,
    and what it takes to undo it, are its ``writes``. ``undone`` is when that was,
    ``stayed`` what was left as it was then, in words.

    ``done`` is empty; it held what the writes hold, and is there for versions before them.
    """

    key = models.UUIDField(primary_key=True, editable=False)
    owner = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.CASCADE, related_name="import_drafts"
    )
    filename = models.CharField(max_length=200)
    sheets = models.JSONField(default=list)
    sheet = models.PositiveSmallIntegerField(default=0)
    top = models.PositiveIntegerField(default=1)
    headers = models.JSONField(default=list)
    rows = models.JSONField(default=list)
    columns = models.JSONField(null=True)
    answers = models.JSONField(null=True)
    outcomes = models.JSONField(default=list)
    made = models.DateTimeField(default=timezone.now, db_index=True, editable=False)
    applied = models.DateTimeField(null=True, editable=False)
    added = models.PositiveIntegerField(default=0)
    changed = models.PositiveIntegerField(default=0)
    done = models.JSONField(default=list)
    undone = models.DateTimeField(null=True, editable=False)
    undone_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, related_name="+"
    )
    stayed = models.JSONField(default=list)
    job = models.ForeignKey(Job, models.SET_NULL, null=True, related_name="+")

    class Meta:
        ordering = ["-made"]

    def __str__(self):
        return f"{self.filename} of {self.owner}"

    @property
    def is_busy(self):
        """Whether a job is at it that is not at its end."""
        return self.job is not None and self.job.is_going


@sight.rule(own="draft__owner")
class ImportWrite(models.Model):
    """
    What importing one ``line`` of a draft writes, and wrote.

    ``vessel`` is the number of the vessel, of a new one once it is there; ``values`` what is
    written to it by field, ``before`` what stood there then, None for a new one; ``tells`` the
    stage and day of a new event, None for none, and ``event`` its number. ``stayed`` says
    why undoing left something of it.
    """

    class State(models.TextChoices):
        WAITING = "waiting", gettext_lazy("not written yet")
        WRITTEN = "written", gettext_lazy("written")
        LEFT = "left", gettext_lazy("left out")
        UNDONE = "undone", gettext_lazy("undone")

    draft = models.ForeignKey(ImportDraft, models.CASCADE, related_name="writes")
    line = models.PositiveIntegerField()
    vessel = models.PositiveBigIntegerField(null=True)
    values = models.JSONField(default=dict)
    before = models.JSONField(null=True)
    tells = models.JSONField(null=True)
    event = models.PositiveBigIntegerField(null=True)
    is_new = models.BooleanField(default=False)
    state = models.CharField(max_length=10, choices=State, default=State.WAITING)
    stayed = models.JSONField(default=list)

    class Meta:
        # Changes first: they may free a name or a number.
        ordering = ["is_new", "line"]
        indexes = [models.Index(fields=["draft", "state", "is_new", "line"], name="write_next")]
        constraints = [models.UniqueConstraint(fields=["draft", "line"], name="one_write_a_line")]

    def __str__(self):
        return f"{self.draft_id}: {self.line}"


@sight.rule(staff=sight.every)
class HeadingMemory(models.Model):
    """
    What a heading of some register was said to mean: the ``key`` of our column, blank for none.

    ``heading`` in plain words; ``unit`` that of bare lengths under it, blank if nobody said.
    """

    LONGEST = 200

    heading = models.CharField(max_length=LONGEST, unique=True)
    key = models.CharField(max_length=20, blank=True)
    unit = models.CharField(max_length=2, blank=True)

    class Meta:
        ordering = ["heading"]
        verbose_name_plural = gettext_lazy("heading memories")

    def __str__(self):
        return f"{self.heading}: {self.key}"
