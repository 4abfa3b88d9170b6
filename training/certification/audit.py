"""Marks recomputed and held against those that were given."""

from typing import NamedTuple

from django.utils.translation import gettext as _

from training.exercises import handing
from training.exercises.models import Attempt
from training.recall import sets
from training.recall.models import ReadingSet

from . import exams
from .models import Exam

# What a line's mark rests on; explanations around it may be worded better later.
TELLING = ("key", "outcome", "right", "marks", "out_of", "yours", "measured_text", "allowed_text")
AT_A_TIME = 200  # records held in memory


class Difference(NamedTuple):
    """A mark that does not come out as it was given: ``where``, and what differs."""

    where: str
    what: str


def _lines(findings):
    return [{name: line.get(name) for name in TELLING} for line in findings]


def _compare(where, stored, again, points=None):
    """
    Yield Differences between a ``stored`` attempt, task or reading and Marked ``again``.

    ``points`` are what it earns and out of how many; a reading earns none.
    """
    figures = {"passed": again.passed}
    if points:
        figures |= {"marks": points[0], "out_of": points[1]}
    for name, now in figures.items():
        was = getattr(stored, name)
        if was != now:
            yield Difference(
                where, _("{name} was {was}, comes out as {now}").format(name=name, was=was, now=now)
            )
    was, now = _lines(stored.findings), _lines(line.as_record() for line in again.lines)
    for old, new in zip(was, now, strict=False):
        if old != new:
            yield Difference(
                where,
                _("line {old!r} was {old2}, comes out as {new}").format(
                    old=old["key"], old2=old, new=new
                ),
            )
    if len(was) != len(now):
        yield Difference(
            where, _("there were {was} lines, now {now}").format(was=len(was), now=len(now))
        )


def check_attempt(attempt):
    """Return the Differences of one exercise that was handed in."""
    again = handing.remark(attempt)
    points = (again.marks, again.out_of)
    return list(_compare(_("attempt {pk}").format(pk=attempt.pk), attempt, again, points))


def check_exam(exam):
    """Return the Differences of one exam that was handed in, its tasks and its outcome."""
    found, differences = [], []
    for task in exam.tasks.all():
        again = exams.marked(task)
        found.append((task, again))
        where = _("exam {pk}, task {number}").format(pk=exam.pk, number=task.number)
        differences += _compare(where, task, again, exams.points(exam, again))
    again = exams.result(exam, found)
    for name in ("marks", "out_of", "passed"):
        was, now = getattr(exam, name), getattr(again, name)
        if was != now:
            differences.append(
                Difference(
                    _("exam {pk}").format(pk=exam.pk),
                    _("{name} was {was}, comes out as {now}").format(name=name, was=was, now=now),
                )
            )
    return differences


def check_set(reading_set):
    """Return the Differences of a set of readings, as far as answered, and of what hangs on it."""
    differences = []
    for reading in reading_set.readings.all():
        if reading.answered is not None:
            where = _("set {pk}, reading {number}").format(pk=reading_set.pk, number=reading.number)
            differences += _compare(where, reading, sets.remark(reading))
    check = getattr(reading_set, "season_check", None)
    if check and check.settled:
        slips = sum(reading.passed is False for reading in reading_set.readings.all())
        if check.slips != slips:
            where = _("check {pk} of {code}").format(pk=check.pk, code=check.certificate.code)
            differences.append(
                Difference(
                    where,
                    _("slips was {slips}, comes out as {slips2}").format(
                        slips=check.slips, slips2=slips
                    ),
                )
            )
        if check.passed and (check.slips > check.allowed or check.until <= check.was):
            where = _("check {pk} of {code}").format(pk=check.pk, code=check.certificate.code)
            differences.append(Difference(where, _("passed was True, comes out as False")))
    return differences


def everything():
    """Return (how many records there are to check, an iterator of each one's Differences)."""
    attempts = Attempt.objects.order_by("pk").select_related("assignment")
    handed_in = (
        Exam.objects.filter(handed_in__isnull=False)
        .order_by("pk")
        .select_related("requirements")
        .prefetch_related("tasks")
    )
    asked = (
        ReadingSet.objects.filter(readings__answered__isnull=False)
        .distinct()
        .order_by("pk")
        .select_related("season_check__certificate")
        .prefetch_related("readings")
    )

    def check():
        for attempt in attempts.iterator(chunk_size=AT_A_TIME):
            yield check_attempt(attempt)
        for exam in handed_in.iterator(chunk_size=AT_A_TIME):
            yield check_exam(exam)
        for reading_set in asked.iterator(chunk_size=AT_A_TIME):
            yield check_set(reading_set)

    return attempts.count() + handed_in.count() + asked.count(), check()
