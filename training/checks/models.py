"""Check sheets: what an officer found on deck, every reading, every save of it, and photos."""

import uuid

from django.conf import settings
from django.db import models
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs.check import log, whole
from rigs.check.entry import read
from rigs.check.sheet import Tally
from rigs.rules import rulebook
from rigs.words.days import long_day
from training.people import sight

from . import near

LONGEST_NAME = 100
"""The most letters of the names that a phone makes up."""


class CheckSheetQuerySet(models.QuerySet):
    def finished(self):
        """Return the sheets that were handed in."""
        return self.exclude(finished=None)


@sight.rule(own="officer", staff=near.seen)
class CheckSheet(models.Model):
    """
    One check of one vessel's rig, as it was last saved.

    ``typed`` are the entries that count, as written, and ``measures`` the same in SI, by
    question's name; all that were ever made are its CheckReadings. ``reasons`` say why a
    question was not measured, ``photo_lines`` which one a photo is of. The rule sets, that of
    the gear and that of the fishery if one is named, are the versions in force on ``day``.
    Sheets of several nets on one vessel share their ``boarding``. ``code`` opens the skipper's
    copy. ``revision`` and ``device`` say which save is shown; every save is kept as a
    CheckRevision.
    """

    key = models.UUIDField(unique=True, editable=False)
    officer = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="check_sheets"
    )
    vessel_name = models.CharField(gettext_lazy("vessel"), max_length=80)
    head = models.JSONField(gettext_lazy("who and when"), default=dict)
    at_sea = models.BooleanField(default=False)
    harbor = models.CharField(gettext_lazy("harbor"), max_length=80, blank=True)
    position = models.CharField(max_length=80, blank=True)
    day = models.DateField()
    rulebook_name = models.CharField(gettext_lazy("rule set"), max_length=40)
    rulebook_version = models.CharField(gettext_lazy("its version"), max_length=20)
    fishery_name = models.CharField(gettext_lazy("fishery"), max_length=40, blank=True)
    fishery_version = models.CharField(
        gettext_lazy("version of the fishery's rules"), max_length=20, blank=True
    )
    boarding = models.CharField(max_length=36, blank=True, db_index=True)
    typed = models.JSONField(gettext_lazy("as typed"), default=dict)
    measures = models.JSONField(gettext_lazy("in SI"), default=dict)
    reasons = models.JSONField(gettext_lazy("why not measured"), default=dict)
    notes = models.TextField(blank=True)
    photo_keys = models.JSONField(gettext_lazy("photos"), default=list)
    photo_lines = models.JSONField(gettext_lazy("what the photos are of"), default=dict)
    signatures = models.JSONField(default=list)
    code = models.CharField(
        gettext_lazy("code of the skipper's copy"), max_length=12, blank=True, editable=False
    )
    passed = models.BooleanField(null=True, editable=False)
    outside = models.PositiveSmallIntegerField(default=0, editable=False)
    within = models.PositiveSmallIntegerField(gettext_lazy("inside"), default=0, editable=False)
    not_measured = models.PositiveSmallIntegerField(default=0, editable=False)
    rests_on_told = models.PositiveSmallIntegerField(
        gettext_lazy("of these, rests on what somebody said"), default=0, editable=False
    )
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
        constraints = [
            models.UniqueConstraint(
                fields=["code"], condition=~models.Q(code=""), name="one_sheet_of_a_code"
            )
        ]

    def __str__(self):
        return f"{self.vessel_name}, {long_day(self.day)}"

    def get_absolute_url(self):
        return reverse("checks:check", args=[self.key])

    @property
    def rulebook(self):
        """The rule set for its gear, in the version of its day."""
        return rulebook.load(self.rulebook_name, self.rulebook_version)

    @property
    def fishery(self):
        """The rule set of its fishery, in the version of its day; None if none is named."""
        if not self.fishery_name:
            return None
        return rulebook.load(self.fishery_name, self.fishery_version)

    @property
    def books(self):
        """The rule sets that it is judged by: the gear's, and the fishery's if one is named."""
        return whole.books_of(self.rulebook, self.fishery)

    @property
    def versions(self):
        """The versions of its rule sets, by their names."""
        found = {self.rulebook_name: self.rulebook_version}
        return found | ({self.fishery_name: self.fishery_version} if self.fishery_name else {})

    @property
    def verdict(self):
        """The whole.Whole on what was found."""
        return whole.judged(self.measures, self.books, self.day, self.position)

    @property
    def log(self):
        """All entries ever made on it as log.Logged, in their order; not what came too late."""
        return tuple(row.entry_of_log for row in self.readings.all() if not row.late)

    @property
    def told(self):
        """The names of the questions whose answer was told, not measured."""
        return log.told(self.log)

    @property
    def tally(self):
        """How much lies outside and within the clauses, and how much was not measured."""
        return Tally(self.outside, self.within, self.not_measured, self.rests_on_told)

    @property
    def place(self):
        """Where it was: the position at sea, the harbor in port."""
        parts = (self.position, self.harbor) if self.at_sea else (self.harbor, self.position)
        return ", ".join(part for part in parts if part)

    @property
    def corrections(self):
        """The saves that corrected it after it was turned in, the latest last."""
        return self.revisions.exclude(reason="").order_by("number", "device")

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

    @property
    def siblings(self):
        """The other sheets of the same boarding, as a queryset."""
        others = CheckSheet.objects.exclude(pk=self.pk)
        return others.filter(boarding=self.boarding) if self.boarding else others.none()

    def judge(self):
        """Read the entries anew and set what comes of them."""
        self.measures = self.read.measures
        verdict = self.verdict
        self.passed = verdict.legal
        self.outside, self.within, self.not_measured, self.rests_on_told = verdict.tally(self.told)


class CheckReading(models.Model):
    """
    One entry in answer to one question, kept for good, as it was last written.

    ``entry`` is its name, made up where it was written. ``rail`` is when, by the clock there,
    as ISO text, empty if that was not recorded; ``arrived`` when the site first had it.
    ``struck`` is when it was struck, as ISO text, and ``why``. ``number``, ``device`` and
    ``place`` say where it stands in the newest save that has it, and so its order. ``late``
    is what came after the sheet was turned in without a reason: it does not count.
    """

    sheet = models.ForeignKey(CheckSheet, models.CASCADE, related_name="readings")
    entry = models.CharField(max_length=LONGEST_NAME)
    name = models.CharField(gettext_lazy("question"), max_length=LONGEST_NAME)
    text = models.TextField(gettext_lazy("as typed"))
    how = models.CharField(gettext_lazy("how it was found"), max_length=10, blank=True)
    tool = models.CharField(gettext_lazy("instrument"), max_length=LONGEST_NAME, blank=True)
    rail = models.CharField(gettext_lazy("time at the rail"), max_length=40, blank=True)
    arrived = models.DateTimeField(default=timezone.now, editable=False)
    struck = models.CharField(max_length=40, blank=True)
    why = models.TextField(gettext_lazy("why it was struck"), blank=True)
    number = models.PositiveIntegerField(default=0)
    device = models.CharField(max_length=36, blank=True)
    place = models.PositiveIntegerField(default=0)
    late = models.BooleanField(gettext_lazy("came too late"), default=False)

    class Meta:
        ordering = ["number", "device", "place", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["sheet", "entry"], name="one_reading_for_one_entry")
        ]

    def __str__(self):
        return f"{self.name}: {self.text}"

    @property
    def entry_of_log(self):
        """It as a log.Logged."""
        return log.Logged(
            self.entry, self.name, self.text, self.how, self.tool, self.rail, self.struck, self.why
        )


class CheckRevision(models.Model):
    """
    One save of a sheet, kept for good.

    ``device`` and ``number`` are made up where it was saved, so that the same save sent
    twice is one. ``content`` is all that was on the sheet. A save after handing in is
    shown only if it gives a ``reason``. ``said`` is what the phone showed and by which
    versions; ``parted`` the words on how the site found otherwise, empty if it did not.
    """

    sheet = models.ForeignKey(CheckSheet, models.CASCADE, related_name="revisions")
    device = models.CharField(max_length=36)
    number = models.PositiveIntegerField()
    content = models.JSONField()
    hands_in = models.BooleanField(gettext_lazy("turns it in"), default=False)
    reason = models.CharField(max_length=300, blank=True)
    said = models.JSONField(gettext_lazy("what the phone showed"), default=dict)
    parted = models.TextField(gettext_lazy("how the site found otherwise"), blank=True)
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


@sight.rule(own="officer", staff=sight.of_harbor("content__harbor", or_own="officer"))
class CheckThrown(models.Model):
    """A sheet that its officer threw away on the phone, with the reason; never one turned in."""

    key = models.UUIDField(unique=True, editable=False)
    officer = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="thrown_sheets"
    )
    reason = models.CharField(max_length=300)
    at = models.CharField(gettext_lazy("when, by the phone's clock"), max_length=40, blank=True)
    content = models.JSONField()
    received = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["-received", "-pk"]

    def __str__(self):
        return str(self.content.get("vessel_name") or self.key)

    @property
    def answers(self):
        """What was typed on it, by question's name, as (name, text)."""
        typed = self.content.get("typed")
        return sorted(typed.items()) if isinstance(typed, dict) else []


class CopyTry(models.Model):
    """A wrong code tried for a skipper's copy, from an address of which only a digest is kept."""

    address = models.CharField(max_length=64, db_index=True)
    at = models.DateTimeField(default=timezone.now, editable=False)

    def __str__(self):
        return f"{self.at}"
