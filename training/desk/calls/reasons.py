"""
The reasons to call somebody: each says whom, over the sums, and why in a sentence.

A reason's ``found(now)`` is a queryset of people or vessels, those whom it is most urgent
to call first, with what ``why`` needs to say so.
"""

from datetime import timedelta

from django.db.models import Exists, F, Min, OuterRef, Q, Subquery
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from rigs.words.say import gettext_lazy
from training.certification.certificates import holding
from training.certification.exams import TRACKS
from training.certification.models import Exam, Requirements
from training.register.models import AdoptionEvent, Crew, Vessel
from training.register.stages import Known, Stage

from ..missed import requirement_called
from ..models import CallNote, PersonRuleTally
from ..trainees import certified, finished, people
from ..way import EARNED, course_of
from . import numbers

# Added to a certificate's number, it keeps SQLite from looking through all exams of the
# requirements, which are many, for those of one person, which are few.
PLAIN = 0


def _day(moment):
    """Return the day of ``moment``, a date or an aware datetime, in words."""
    if hasattr(moment, "hour"):
        moment = timezone.localtime(moment)
    return date_format(moment, "F j, Y")


def _today(now, days=0):
    return timezone.localdate(now) - timedelta(days=days)


class Reason:
    """One reason; ``of`` is what is called, "person" or "vessel"."""

    key = title = of = ""

    def found(self, now):
        """Return a queryset of those to call at ``now``, an aware datetime."""
        raise NotImplementedError

    def why(self, called):
        """Return a sentence for one of ``found``."""
        raise NotImplementedError


class CallAgain(Reason):
    """The day has come on which they are to be called again: the last call that says decides."""

    def __init__(self, of, title):
        self.of, self.key, self.title = of, f"call-again-{of}", title

    def found(self, now):
        calls = CallNote.objects.standing().deciding()
        later = calls.filter(**{self.of: OuterRef(self.of)}).filter(
            Q(made__gt=OuterRef("made")) | Q(made=OuterRef("made"), pk__gt=OuterRef("pk"))
        )
        due = calls.filter(again__lte=_today(now), **{f"{self.of}__isnull": False})
        due = due.exclude(Exists(later))
        agreed = Subquery(due.filter(**{self.of: OuterRef("pk")}).values("again")[:1])
        every = people() if self.of == "person" else Vessel.objects.all()
        found = every.filter(pk__in=due.values(self.of)).annotate(again=agreed)
        return found.order_by("again", "pk")

    def why(self, called):
        return _("To be called again on {day}.").format(day=_day(called.again))


class GoneBack(Reason):
    key, of = "gone-back", "vessel"
    title = gettext_lazy("Back to using a sweep")

    def found(self, now):
        since = _today(now, numbers.BACK_DAYS)
        vessels = Vessel.objects.filter(standing__stage=Stage.BACK, standing__since__gte=since)
        return vessels.order_by("-standing__since", "pk")

    def why(self, called):
        return _("Went back to the sweep on {day}.").format(day=_day(called.standing.since))


class NotChecked(Reason):
    key, of = "not-checked", "vessel"
    title = gettext_lazy("Fishing without a sweep, no check with nothing outside")

    def found(self, now):
        # Looked up once, and not vessel by vessel.
        checked = AdoptionEvent.objects.standing().filter(stage=Stage.CHECKED).values("vessel")
        vessels = Vessel.objects.filter(
            standing__stage=Stage.CONVERTED,
            standing__since__lte=_today(now, numbers.CHECK_DAYS),
            standing__since__gte=_today(now, numbers.GIVEN_UP_DAYS),
        )
        return vessels.exclude(pk__in=checked).order_by("-standing__since", "pk")

    def why(self, called):
        return _("Without a sweep since {day}. No check sheet yet with nothing outside.").format(
            day=_day(called.standing.since)
        )


class NoPlan(Reason):
    key, of = "no-plan", "vessel"
    title = gettext_lazy("Crew member certified, no net planned")

    def found(self, now):
        # Of a certificate that staff were told of the site does not know how long it holds.
        told = AdoptionEvent.objects.standing().filter(stage=Stage.CREWED)
        told = told.exclude(known=Known.CERTIFICATE).values("vessel")
        holders = Crew.objects.filter(user__tally__certified_until__gt=now, until=None)
        vessels = Vessel.objects.filter(
            Q(pk__in=holders.values("vessel")) | Q(pk__in=told),
            standing__stage=Stage.CREWED,
            standing__since__lte=_today(now, numbers.PLAN_DAYS),
        )
        return vessels.order_by("standing__since", "pk")

    def why(self, called):
        return _("Has had a crew member certified since {day}. No net is planned yet.").format(
            day=_day(called.standing.since)
        )


class OnlyTold(Reason):
    key, of = "only-told", "vessel"
    title = gettext_lazy("Talked to long ago, nothing since")

    def found(self, now):
        vessels = Vessel.objects.filter(
            standing__stage=Stage.TOLD, standing__last_event__lte=_today(now, numbers.TOLD_DAYS)
        )
        return vessels.order_by("standing__last_event", "pk")

    def why(self, called):
        return _("Last talked to on {day}, nothing since.").format(
            day=_day(called.standing.last_event)
        )


class RunsOut(Reason):
    key, of = "runs-out", "person"
    title = gettext_lazy("Certificate ends soon")

    def found(self, now):
        soon = now + timedelta(days=numbers.EXPIRY_DAYS)
        counts = holding(now)
        later = counts.alias(same=F("exam__requirements") + PLAIN).filter(
            exam__user=OuterRef("exam__user"),
            same=OuterRef("exam__requirements"),
            expires__gt=OuterRef("expires"),
        )
        ending = counts.filter(expires__lte=soon).exclude(Exists(later))
        found = people().filter(exams__certificate__in=ending.values("pk"))
        return found.annotate(ends=Min("exams__certificate__expires")).order_by("ends", "pk")

    def why(self, called):
        return _("The certificate ends on {day}, and there is no newer one.").format(
            day=_day(called.ends)
        )


class MayRetry(Reason):
    key, of = "exam-missed", "person"
    title = gettext_lazy("Exam not passed, and no other started")

    def found(self, now):
        since = now - timedelta(days=numbers.RETRY_DAYS)
        later = Exam.objects.alias(same=F("requirements") + PLAIN).filter(
            user=OuterRef("user"), same=OuterRef("requirements"), begun__gt=OuterRef("begun")
        )
        waited = Q(pk=None)  # nobody, where there is no requirements
        for pk, days in Requirements.objects.values_list("pk", "waiting_days"):
            waited |= Q(requirements=pk, handed_in__lte=now - timedelta(days=days))
        missed = Exam.objects.filter(
            waited, handed_in__gte=since, passed=False, corrections=None
        ).exclude(Exists(later))
        found = people().filter(exams__in=missed.values("pk"))
        return found.annotate(sat=Min("exams__handed_in")).order_by("sat", "pk")

    def why(self, called):
        return _("Did not pass the exam of {day}. May take it again, has not started.").format(
            day=_day(called.sat)
        )


class NoExam(Reason):
    key, of = "no-exam", "person"
    title = gettext_lazy("All lessons finished, no exam started yet")

    def found(self, now):
        tracks = set(Requirements.objects.filter(is_open=True).values_list("track", flat=True))
        roles = [role for role, track in TRACKS.items() if track in tracks]
        begun = Exam.objects.filter(user=OuterRef("pk"))
        # Said by itself as well, for the database has an index of it.
        fewest = min(len(course_of(role)) for role in TRACKS)
        through = people().filter(finished(), role__in=roles, tally__lessons_done__gte=fewest)
        found = through.exclude(Exists(begun))
        return found.order_by("tally__last", "pk")

    def why(self, called):
        return _("Finished all {count} lessons and never started an exam.").format(
            count=len(course_of(called.role))
        )


class SameRule(Reason):
    key, of = "same-rule", "person"
    title = gettext_lazy("The same rule missed {MISSES} times or more").format(
        MISSES=numbers.MISSES
    )

    def found(self, now):
        active = now - timedelta(days=numbers.ACTIVE_DAYS)
        worst = PersonRuleTally.objects.filter(
            user=OuterRef("pk"), missed__gte=numbers.MISSES
        ).order_by("-missed", "rule")
        found = people().filter(tally__last__gte=active).exclude(certified(now))
        found = found.annotate(
            misses=Subquery(worst.values("missed")[:1]),
            rule=Subquery(worst.values("rule")[:1]),
        )
        return found.filter(misses__isnull=False).order_by("-misses", "pk")

    def why(self, called):
        title = requirement_called(called.rule).title
        return _("Missed “{title}” {misses} times, and still trains.").format(
            title=title, misses=called.misses
        )


class Stopped(Reason):
    key, of = "stopped", "person"
    title = gettext_lazy("Started, then stopped")

    def found(self, now):
        since = now - timedelta(days=numbers.GIVEN_UP_DAYS)
        quiet = now - timedelta(days=numbers.QUIET_DAYS)
        found = people().filter(tally__last__lte=quiet, tally__last__gte=since)
        return found.exclude(certified(now)).order_by("-tally__last", "pk")

    def why(self, called):
        last, until = _day(called.tally.last), called.tally.certified_until
        if called.tally.step != EARNED:
            return _("Last active on {day}, not certified yet.").format(day=last)
        if until is None:
            return _("Last active on {day}, certificate taken back.").format(day=last)
        return _("Last active on {day}, certificate ran out on {until}.").format(
            day=last, until=_day(until)
        )


# By how much it matters to call at once (common practice, no source).
REASONS = (
    CallAgain("person", gettext_lazy("People to be called again")),
    CallAgain("vessel", gettext_lazy("Vessels to be called again")),
    GoneBack(),
    RunsOut(),
    MayRetry(),
    NoExam(),
    NotChecked(),
    SameRule(),
    NoPlan(),
    Stopped(),
    OnlyTold(),
)


def reason_called(key):
    """Return the Reason called ``key``, None if there is none."""
    return next((reason for reason in REASONS if reason.key == key), None)
