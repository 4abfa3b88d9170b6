"""Check sheets: what an officer found on deck, every save of it, and photos."""

import uuid

from django.conf import settings
from django.db import models
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs.check import sheet
from rigs.check.entry import read
from rigs.rules import rulebook
from rigs.words.days import long_day
from training.people import sight


class CheckSheetQuerySet(models.QuerySet):
    def finished(self):
        """Return the sheets that were handed in."""
        return self.exclude(finished=None)


@sight.rule(own="officer", staff=sight.every)
class CheckSheet(models.Model):
    """
    One check of one vessel's rig, as it was last saved.

    ``typed`` are the entries as written and ``measures`` the same in SI, by question's
    name. The rule set is the version in force on ``day``. ``revision`` and ``device`` say
    which save is shown; every save is kept as a CheckRevision.
    """

    key = models.UUIDField(unique=True, editable=False)
    officer = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="check_sheets"
    )
    vessel_name = models.CharField(gettext_lazy("vessel"), max_length=80)
    harbor = models.CharField(gettext_lazy("harbor"), max_length=80)
    position = models.CharField(max_length=80, blank=True)
    day = models.DateField()
    rulebook_name = models.CharField(gettext_lazy("rule set"), max_length=40)
    rulebook_version = models.CharField(gettext_lazy("its version"), max_length=20)
    typed = models.JSONField(gettext_lazy("as typed"), default=dict)
    measures = models.JSONField(gettext_lazy("in SI"), default=dict)
    notes = models.TextField(blank=True)
    photo_keys = models.JSONField(gettext_lazy("photos"), default=list)
    passed = models.BooleanField(null=True, editable=False)
    outside = models.PositiveSmallIntegerField(default=0, editable=False)
    within = models.PositiveSmallIntegerField(gettext_lazy("inside"), default=0, editable=False)
    not_measured = models.PositiveSmallIntegerField(default=0, editable=False)
    revision = models.PositiveIntegerField(default=0, editable=False)
    device = models.CharField(max_length=36, blank=True, editable=False)
    created = models.DateTimeField(default=timezone.now, editable=False)
    changed = models.DateTimeField(auto_now=True)
    finished = models.DateTimeField(
        gettext_lazy("turned in"), null=True, blank=True, editable=False
    )

    objects = CheckSheetQuerySet.as_manager()

    class Meta:
        ordering = ["-day", "-created", "-pk"]

    def __str__(self):
        return f"{self.vessel_name}, {long_day(self.day)}"

    def get_absolute_url(self):
        return reverse("checks:check", args=[self.key])

    @property
    def rulebook(self):
        """The rule set it is judged by, in the version of its day."""
        return rulebook.load(self.rulebook_name, self.rulebook_version)

    @property
    def verdict(self):
        """The judge.Verdict on what was measured."""
        return sheet.judged(self.measures, self.rulebook, self.day)

    @property
    def tally(self):
        """How much lies outside and within the clauses, and how much was not measured."""
        return sheet.Tally(self.outside, self.within, self.not_measured)

    @property
    def read(self):
        """The entry.Read of what was typed."""
        return read(self.typed)

    @property
    def unread(self):
        """Why entries could not be read, by question's name."""
        return self.read.unread

    @property
    def shown_photos(self):
        """The photos that belong to what is shown and have arrived, in their order."""
        there = {str(photo.key): photo for photo in self.photos.all()}
        return [there[key] for key in self.photo_keys if key in there]

    @property
    def photos_to_come(self):
        """How many photos belong to the sheet that have not arrived yet."""
        return len(self.photo_keys) - len(self.shown_photos)

    def judge(self):
        """Read the entries anew and set what comes of them."""
        self.measures = self.read.measures
        verdict = self.verdict
        self.passed = verdict.legal
        self.outside, self.within, self.not_measured, __ = sheet.tally(verdict)


class CheckRevision(models.Model):
    """
    One save of a sheet, kept for good.

    ``device`` and ``number`` are made up where it was saved, so that the same save sent
    twice is one. ``content`` is all that was on the sheet. A save after handing in is
    shown only if it gives a ``reason``.
    """

    sheet = models.ForeignKey(CheckSheet, models.CASCADE, related_name="revisions")
    device = models.CharField(max_length=36)
    number = models.PositiveIntegerField()
    content = models.JSONField()
    hands_in = models.BooleanField(gettext_lazy("turns it in"), default=False)
    reason = models.CharField(max_length=300, blank=True)
    received = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["number", "device"]
        constraints = [
            models.UniqueConstraint(
                fields=["sheet", "device", "number"], name="one_revision_for_one_save"
            )
        ]

    def __str__(self):
        return _("{sheet}: save {number}").format(sheet=self.sheet, number=self.number)

    @property
    def is_shown(self):
        """Whether the sheet is as this save left it."""
        return (self.number, self.device) == (self.sheet.revision, self.sheet.device)


def _place(photo, name):
    # Of what the sender calls it nothing is kept.
    return f"checks/{uuid.uuid4()}.jpg"


class CheckPhoto(models.Model):
    """A photo that belongs to a sheet, without what a camera writes about place and owner."""

    sheet = models.ForeignKey(CheckSheet, models.CASCADE, related_name="photos")
    key = models.UUIDField(unique=True, editable=False)
    image = models.FileField(upload_to=_place)
    received = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["received", "pk"]

    def __str__(self):
        return _("Photo of {sheet}").format(sheet=self.sheet)
