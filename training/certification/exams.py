"""Exams: begun, saved task by task, handed in once, marked."""

import secrets
from datetime import datetime, timedelta
from itertools import takewhile
from typing import NamedTuple

from django.db import transaction
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from rigs.rules import rulebook
from training.deck.plain import percent_number
from training.exercises import kinds
from training.exercises.handing import SEEDS
from training.exercises.kinds.base import BadAnswer
from training.people.models import Role, User

from . import blueprints, certificates, recalled
from .fair import conditions
from .fair.models import Supervision
from .models import Exam, ExamTask, Requirements
from .spread import READING

TRACKS = {Role.TRAINEE: Requirements.Track.FISHERMAN, Role.OFFICER: Requirements.Track.OFFICER}


class MayNotBegin(ValueError):
    """An exam that may not be begun; the message says why, and what would help."""


class ExamClosed(ValueError):
    """A save that came after the exam was handed in or its time was up."""


class StaleAnswer(ValueError):
    """A save by someone who had not seen the answer saved last, from another device."""


class Result(NamedTuple):
    """What an exam as a whole comes to; ``reasons`` are sentences."""

    marks: int
    out_of: int
    passed: bool
    reasons: list[str]


def open_to(user):
    """Return the Requirements of which ``user`` may take exams."""
    return Requirements.objects.filter(is_open=True, track=TRACKS.get(user.role, ""))


def outcome(exam):
    """Return whether ``exam`` counts as passed: its latest correction, if any, decides."""
    corrections = list(exam.corrections.all())
    return corrections[-1].passed if corrections else exam.passed


# Beginning ---------------------------------------------------------------


def hindrance(user, requirements, now=None):
    """Return a sentence that says why ``user`` may not begin an exam now; empty if he may."""
    now = now or timezone.now()
    if not requirements.is_open:
        return _("This certificate is not open right now.")
    if TRACKS.get(user.role) != requirements.track:
        return _("This certificate is for {get_track_display}.").format(
            get_track_display=requirements.get_track_display()
        )
    if gone := blueprints.lapsed(requirements.rulebooks, timezone.localdate(now)):
        return _(
            "{gone} This exam cannot be started until they have one. Ask the training staff."
        ).format(gone=gone)
    failed = _failed(user, requirements)
    if len(failed) >= requirements.attempts_allowed:
        return _(
            "You have used all {attempts_allowed} attempts. Talk to the training staff about "
            "what to do next."
        ).format(attempts_allowed=requirements.attempts_allowed)
    if failed:
        again = failed[0].handed_in + timedelta(days=requirements.waiting_days)
        if now < again:
            day = date_format(timezone.localtime(again), "F j, Y, g:i a")
            return _(
                "You may try again from {day}. Use the time for the lessons you missed points in."
            ).format(day=day)
    return ""


def attempts_left(user, requirements):
    """Return how many more exams of ``requirements`` the ``user`` may begin before passing one."""
    return max(0, requirements.attempts_allowed - len(_failed(user, requirements)))


def _failed(user, requirements):
    """Return the exams that ``user`` failed since he passed last, latest first."""
    past = (
        Exam.objects.filter(user=user, requirements=requirements, handed_in__isnull=False)
        .order_by("-handed_in", "-pk")
        .prefetch_related("corrections")
    )
    # A pass wipes the slate: whoever renews starts with all attempts again.
    return list(takewhile(lambda exam: not outcome(exam), past))


class Opening(NamedTuple):
    """
    How an exam begins: at which moment, else now, and from which seed, else one at random.

    With a ``supervision`` it ends when that does, at the latest.
    """

    now: datetime | None = None
    seed: int | None = None
    supervision: Supervision | None = None


AT_ONCE = Opening()


def begin(user, requirements, key, opening=AT_ONCE):
    """
    Return the exam of ``user`` begun with ``key``, a UUID, beginning it if need be.

    The same key gives the same exam, and while one is open there is no other, however
    many ask at once. Raise MayNotBegin if attempts are used up or the wait is not over, or if the
    requirements has become one that no exam can be made of.
    """
    now = opening.now or timezone.now()
    # Before the transaction, since a refusal in there would undo it.
    open_exam(user, requirements, now)
    with transaction.atomic():
        # Held until the exam is there, so that a second tap waits and then finds it.
        User.objects.select_for_update(no_key=True).get(pk=user.pk)
        found = Exam.objects.filter(key=key, user=user).first() or open_exam(
            user, requirements, now
        )
        if found:
            return found
        if why := hindrance(user, requirements, now):
            raise MayNotBegin(why)
        try:
            seed = secrets.randbelow(SEEDS) if opening.seed is None else opening.seed
            return _make(user, requirements, key, opening._replace(now=now, seed=seed))
        except blueprints.RequirementsError as error:
            raise MayNotBegin(
                _("No exam can be made right now. {error}").format(error=error)
            ) from error


def open_exam(user, requirements, now=None):
    """Return the exam of ``user`` that can still be worked on, or None."""
    found = Exam.objects.filter(
        user=user, requirements=requirements, handed_in__isnull=True
    ).first()
    return None if found is None or close_if_over(found, now) else found


def _make(user, requirements, key, opening):
    now, seed, supervision = opening
    exam = Exam.objects.create(
        requirements=requirements,
        user=user,
        key=key,
        seed=seed,
        pass_percent=requirements.pass_percent,
        must_pass=requirements.must_pass,
        must_asked=requirements.must_asked,
        must_slips=requirements.must_slips,
        begun=now,
        deadline=conditions.deadline(user, requirements, now, supervision),
    )
    conditions.note(exam, supervision)
    today = timezone.localdate(now)
    tasks = []
    for number, spec in enumerate(blueprints.compose(requirements, seed, today), 1):
        slot, book = spec.slot, rulebook.in_force(spec.slot.rulebook, today)
        tasks.append(
            ExamTask(
                exam=exam,
                number=number,
                kind=slot.kind,
                kind_version=kinds.get(slot.kind).version,
                seed=spec.seed,
                difficulty=slot.difficulty,
                rulebook_name=book.name,
                rulebook_version=book.version,
                focus=list(spec.focus),
            )
        )
    ExamTask.objects.bulk_create(tasks)
    return exam


# Working on it -----------------------------------------------------------


def kind_of(exam_task):
    """Return the Kind that made ``exam_task``, in its version of that day."""
    return kinds.get(exam_task.kind, exam_task.kind_version)


def task_of(exam_task):
    """Return the exercises' Task of ``exam_task``, made anew from its seed."""
    return kind_of(exam_task).generate(
        exam_task.seed, exam_task.rulebook, exam_task.difficulty, tuple(exam_task.focus)
    )


def trouble(exam_task):
    """Return why the answer saved last gives no marks, in a sentence; empty if it can be read."""
    if exam_task.answer is None:
        return _("Not answered yet.")
    form = kind_of(exam_task).form(task_of(exam_task))(exam_task.answer)
    return " ".join(message for errors in form.errors.values() for message in errors)


def save(exam_task, answer, revision, now=None):
    """
    Save ``answer``, raw, and return the task's new revision; saved means on disk.

    ``revision`` is that of the answer the writer had seen. The same answer sent twice is
    saved once. Raise StaleAnswer if another device saved since, and ExamClosed if the
    exam is handed in or its time is up; then it is handed in as it was saved.
    """
    with transaction.atomic():
        exam = Exam.objects.select_for_update().get(pk=exam_task.exam_id)
        if exam.handed_in is None and not close_if_over(exam, now):
            return _write(exam_task, answer, revision, now or timezone.now())
    # Raised out here, or the closing above would be undone.
    if exam.deadline and exam.handed_in >= exam.deadline:
        raise ExamClosed(
            _(
                "The time is up. The exam was turned in with what was saved by then. This change "
                "came too late."
            )
        )
    raise ExamClosed(_("This exam is already turned in. Nothing can be changed."))


def _write(exam_task, answer, revision, now):
    latest = ExamTask.objects.get(pk=exam_task.pk)
    if latest.answer == answer:
        return latest.revision
    if revision != latest.revision:
        raise StaleAnswer(
            _(
                "You saved this question in another window. Compare the two. Saving again "
                "replaces that answer."
            )
        )
    latest.answer, latest.saved, latest.revision = answer, now, latest.revision + 1
    latest.save(update_fields=["answer", "saved", "revision"])
    return latest.revision


def close_if_over(exam, now=None):
    """Hand ``exam`` in if its time is up; return whether that was so."""
    now = now or timezone.now()
    if exam.handed_in or exam.deadline is None or now < exam.deadline:
        return False
    hand_in(exam, now)
    return True


# Marking -----------------------------------------------------------------


def marked(exam_task):
    """
    Return ``exam_task`` as Marked, from its seed, rule set and raw answer alone.

    An answer that cannot be read counts as none.
    """
    kind, task = kind_of(exam_task), task_of(exam_task)
    if exam_task.answer is None:
        return kind.unanswered(task)
    try:
        return kind.grade(task, exam_task.answer)
    except BadAnswer:
        return kind.unanswered(task)


def points(exam, each):
    """
    Return the points that Marked ``each`` earns in ``exam``, and out of how many.

    All questions weigh alike: right is one point, and anything less is none. An exam from
    before slips were allowed is given the kind's own marks, as on its day.
    """
    return (each.marks, each.out_of) if exam.must_slips is None else (int(each.passed), 1)


def result(exam, found):
    """
    Return the Result of ``exam``; ``found`` are (ExamTask, Marked) of all its tasks.

    It is passed if the points reach the percent to pass, and if of the readings of each rule
    that must be right no more are wrong than the slips allowed. Other questions do not
    count for that, though they may be about the same rule.
    """
    earned = [points(exam, each) for __, each in found]
    marks, out_of = sum(each for each, __ in earned), sum(most for __, most in earned)
    enough = marks * 100 >= exam.pass_percent * out_of
    reasons = []
    if exam.deadline and exam.handed_in == exam.deadline:
        reasons.append(_("The time was up. What was saved by then was turned in."))
    reach = "reaches" if enough else _("does not reach")
    reasons.append(
        _(
            "{marks} of {out_of} points is {percent} percent, which {reach} the {pass_percent} "
            "percent to pass."
        ).format(
            marks=marks,
            out_of=out_of,
            percent=_percent(marks, out_of, exam.pass_percent),
            reach=reach,
            pass_percent=exam.pass_percent,
        )
    )
    slipped, told = _all_lines(exam, found) if exam.must_slips is None else _must(exam, found)
    return Result(marks, out_of, enough and not slipped, reasons + told)


def _percent(marks, out_of, needed):
    """Return ``marks`` out of ``out_of`` in percent, for beside the percent that is ``needed``."""
    number = percent_number(marks / out_of)
    if marks * 100 < needed * out_of and number == str(needed):
        # Nobody is to read the pass mark where it was missed: tenths, rounded down.
        return f"{marks * 1000 // out_of / 10:.1f}"
    return number


def _must(exam, found):
    """Return whether a rule that must be right had too many slips, and a sentence on each."""
    too_many, told = False, []
    for key in exam.must_pass:
        answers = [
            each.passed for task, each in found if task.kind == READING and task.focus[0] == key
        ]
        wrong = answers.count(False)
        too_many = too_many or wrong > exam.must_slips
        title = blueprints.title_of(key, exam.requirements.rulebooks)
        told.append(
            _("“{title}”: {value} of {answers} right. ").format(
                title=title, value=len(answers) - wrong, answers=len(answers)
            )
            + _slips_text(wrong, exam.must_slips)
        )
    return too_many, told


def _slips_text(wrong, allowed):
    allows = ngettext(
        "{value} slip is allowed in this rule",
        "{value} slips are allowed in this rule",
        allowed,
    ).format(value=allowed or "no")
    return (
        _("That is too many slips: {allows}.").format(allows=allows)
        if wrong > allowed
        else f"{allows.capitalize()}."
    )


def _all_lines(exam, found):
    """Return what ``_must`` does for an exam of which every line had to be right, as once."""
    wrong = {}
    for key in exam.must_pass:
        numbers = [
            task.number
            for task, each in found
            if any(line.key.split(":")[0] == key and not line.right for line in each.lines)
        ]
        if numbers:
            wrong[key] = numbers
    told = []
    for key, numbers in wrong.items():
        title = blueprints.title_of(key, exam.requirements.rulebooks)
        task = "question" if len(numbers) == 1 else "questions"
        numbers = ", ".join(map(str, numbers))
        told.append(
            _("“{title}” must be right, and was wrong in {task} {numbers}.").format(
                title=title, task=task, numbers=numbers
            )
        )
    if exam.must_pass and not wrong:
        told.append(_("Every rule that must be right was right."))
    return bool(wrong), told


@transaction.atomic
def hand_in(exam, now=None):
    """
    Mark ``exam`` and return it; a pass has its certificate issued at once.

    Safe to call twice, at once even: what the first call marked stands.
    """
    now = now or timezone.now()
    # Held until the marks are saved, so that a second hand-in waits and then finds them.
    held = Exam.objects.select_for_update().select_related("requirements").get(pk=exam.pk)
    if held.handed_in is None:
        held.handed_in = min(now, held.deadline) if held.deadline else now
        found = [(task, marked(task)) for task in held.tasks.all()]
        for task, each in found:
            task.marks, task.out_of = points(held, each)
            task.passed = each.passed
            task.findings = [line.as_record() for line in each.lines]
        ExamTask.objects.bulk_update(
            [task for task, __ in found], ["marks", "out_of", "passed", "findings"]
        )
        held.marks, held.out_of, held.passed, held.reasons = result(held, found)
        held.save(update_fields=["handed_in", "marks", "out_of", "passed", "reasons"])
        recalled.note(held)
        if held.passed:
            certificates.issue(held)
    exam.refresh_from_db()
    return exam
