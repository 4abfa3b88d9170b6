"""What the page of a sheet shows: each finding with every reading it rests on."""

from datetime import datetime
from typing import NamedTuple

from django.utils import timezone
from django.utils.translation import gettext as _

from rigs.check import log, remarks, whole
from rigs.check.steps import QUESTIONS
from rigs.check.told import called
from rigs.rules.judge import Finding
from rigs.rules.outcomes import PASS
from rigs.rules.wording import about_memory

from .head_form import head_words


class ReadingShown(NamedTuple):
    """
    One reading in words.

    ``rail`` is when it was taken, None where that was not recorded, and ``struck`` when it
    was struck, None if it was not; ``beside`` says that an earlier one holds as well.
    """

    words: str
    how: str
    rail: datetime | None
    arrived: datetime
    struck: datetime | None
    why: str
    beside: bool
    late: bool


class QuestionShown(NamedTuple):
    """A question by its ``label``, with its Readings, oldest first, and why there is none."""

    label: str
    readings: list[ReadingShown]
    reason: str = ""


class FindingShown(NamedTuple):
    """A finding, what is said behind it, and the questions it rests on."""

    finding: Finding
    remark: str
    asked: list[QuestionShown]

    @property
    def readings(self):
        """All the Readings it rests on."""
        return [reading for each in self.asked for reading in each.readings]

    @property
    def is_folded(self):
        """Whether its Readings are plain enough to be folded: within, and none but what holds."""
        rows = self.readings
        is_plain = not any(each.struck or each.beside or each.late for each in rows)
        return bool(rows) and is_plain and self.finding.outcome == PASS


def _moment(text):
    return datetime.fromisoformat(text) if text else None


def label_of(name):
    """Return how the question ``name`` is called on a page; its bare name if nobody asks it now."""
    return called(QUESTIONS[name]).replace("“", "").replace("”", "") if name in QUESTIONS else name


def _reading(row, typed, beside):
    entry = row.entry_of_log
    return ReadingShown(
        log.worked_out(entry, typed) or row.text,
        log.how_words(entry),
        _moment(row.rail),
        row.arrived,
        _moment(row.struck),
        row.why,
        beside,
        row.late,
    )


def readings(sheet):
    """Return the Readings of ``sheet`` by question's name, oldest first."""
    found, holding = {}, set()
    for row in sheet.readings.all():
        if not row.text.strip():
            continue
        beside = row.name in holding and not row.struck and not row.late
        found.setdefault(row.name, []).append(_reading(row, sheet.typed, beside))
        if not row.struck and not row.late:
            holding.add(row.name)
    return found


def beside(sheet):
    """Return the remarks.Behind of ``sheet``: what stands behind its findings."""
    books = sheet.books

    def judge(answers):
        return whole.judged(answers, books, sheet.day, sheet.position).findings

    return remarks.noted(sheet.typed, sheet.log, sheet.reasons, judge)


def findings(sheet, verdict):
    """
    Return four lists of what ``verdict`` says of ``sheet``: each FindingShown of what counts,
    of what is done by custom and of what only warns, and each QuestionShown on which none rests.
    """
    rows, noted = readings(sheet), beside(sheet)
    seen = set()

    def shown(finding):
        asked = finding.requirement.measure.sheet
        names = [name for name in QUESTIONS if asked and name in asked.names and name in rows]
        seen.update(names)
        told = [
            QuestionShown(label_of(name), rows[name], sheet.reasons.get(name, "")) for name in names
        ]
        return FindingShown(finding, remarks.remark(finding, noted), told)

    counted = [shown(each) for each in verdict.failed + verdict.not_measured + verdict.passed]
    customs = [shown(each) for each in verdict.customs]
    warnings = [shown(each) for each in verdict.warnings]
    rest = [QuestionShown(label_of(name), told) for name, told in rows.items() if name not in seen]
    return counted, customs, warnings, rest


def photos(sheet):
    """Return (photo, what it is of) of the photos of ``sheet`` that have arrived."""
    lines = sheet.photo_lines
    return [
        (photo, label_of(name) if (name := lines.get(str(photo.key), "")) else "")
        for photo in sheet.shown_photos
    ]


def photos_taken_off(sheet):
    """Return the photos of ``sheet`` that an earlier save had and that were taken off since."""
    return [photo for photo in sheet.photos.all() if str(photo.key) not in sheet.photo_keys]


def signatures(sheet):
    """Return the signatures on ``sheet``: who, when, and the paths to draw."""
    return [
        {
            "role": role_words(each["role"]),
            "name": each.get("name", ""),
            "at": _moment_or_none(each.get("at", "")),
            "refused": each.get("refused", False),
            "paths": [
                " ".join(f"{'L' if n else 'M'}{x} {y}" for n, (x, y) in enumerate(points))
                for points in each.get("strokes", [])
            ],
        }
        for each in sheet.signatures
    ]


def role_words(role):
    """Return who signs as ``role``."""
    return {"officer": _("Officer"), "skipper": _("Skipper"), "witness": _("Witness")}[role]


def _moment_or_none(text):
    try:
        found = _moment(text)
    except ValueError:
        return None
    return timezone.make_aware(found) if found and timezone.is_naive(found) else found


def context(sheet):
    """Return what the body of a page about ``sheet`` takes."""
    verdict = sheet.verdict
    counted, customs, warnings, rest = findings(sheet, verdict)
    return {
        "sheet": sheet,
        "books": verdict.rulebooks,
        "from_memory": about_memory(verdict.findings),
        "head": head_words(sheet.head),
        "findings": counted,
        "customs": customs,
        "warnings": warnings,
        "rest": rest,
        "covers_trip": any(each.finding.requirement.of_trip for each in counted),
        "photos": photos(sheet),
        "signatures": signatures(sheet),
        "parted": [save for save in sheet.revisions.order_by("received", "pk") if save.parted],
        "corrections": list(sheet.corrections),
        "unread": len(sheet.unread),
        "timed": all(each.rail for each in sheet.readings.all()),
    }
