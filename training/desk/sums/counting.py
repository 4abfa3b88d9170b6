"""What the sums of people should be, counted from the records themselves."""

from collections import Counter, defaultdict
from itertools import chain

from django.db.models import (
    Case,
    CharField,
    Count,
    Exists,
    Max,
    OuterRef,
    Q,
    Subquery,
    Value,
    When,
)
from django.db.models.functions import Cast, Coalesce

from rigs.rules import rulebook
from training.certification.certificates import never_taken_back
from training.certification.models import Certificate, Correction, Exam
from training.deck.prepared import Prepared
from training.exercises.models import Attempt
from training.lessons.models import LessonRead
from training.people.models import Membership, Role, User
from training.recall.models import RuleMemory
from training.recall.remembered import KNOWN_ALREADY, passed_sets

from ..missed import rules_put
from ..models import GroupRuleTally, PersonRuleTally, PersonTally
from ..way import BEGUN, EARNED, PASSED, Facts, how_far

ATTEMPTS_AT_ONCE = 500


def _text(value):
    return Value(value, output_field=CharField())


def facts_of(pks):
    """Return {pk: Facts} of the people with these ``pks``, in one query."""
    found = {}
    for pk, what, value, more in _FACTS.rows(pks):
        facts = found.setdefault(pk, Facts("", set(), set(), {}, set(), set()))
        if what == "role":
            found[pk] = facts._replace(role=value)
        elif what == "passed":
            facts.passed[value] = int(more)
        elif what == "right":
            facts.right.add((value, more))
        else:
            getattr(facts, what).add(value.removesuffix(KNOWN_ALREADY))
    return found


def _rows_of_facts(pks):
    """Return a queryset of (pk of a person, name of a field of Facts, what is in it, and more)."""
    role = Case(When(is_superuser=True, then=_text(Role.STAFF)), default="role")
    # What the latest correction says is what the exam came to.
    corrections = Correction.objects.filter(exam=OuterRef("pk")).order_by("-made", "-pk")
    exams = Exam.objects.filter(user__in=pks).alias(
        came_to=Coalesce(Subquery(corrections.values("passed")[:1]), "passed")
    )
    certificate = Exists(Certificate.objects.filter(exam=OuterRef("pk")))
    outcome = Case(
        When(certificate, came_to=True, then=_text(EARNED)),
        When(came_to=True, then=_text(PASSED)),
        default=_text(BEGUN),
    )
    nothing = _text("")
    parts = (
        (User.objects.filter(pk__in=pks), "pk", "role", role, nothing),
        (LessonRead.objects.filter(user__in=pks), "user_id", "read", "slug", nothing),
        (passed_sets().filter(user__in=pks), "user_id", "known", "subject", nothing),
        (
            Attempt.objects.passes_of(pks),
            "assignment__user_id",
            "passed",
            "assignment__kind",
            Cast("times", CharField()),
        ),
        (
            RuleMemory.objects.filter(user__in=pks, right__gt=0),
            "user_id",
            "right",
            "rulebook_name",
            "key",
        ),
        (exams, "user_id", "exams", outcome, nothing),
    )
    first, *others = (
        rows.order_by().values_list(person, _text(what), value, more)
        for rows, person, what, value, more in parts
    )
    # A union, so that a kind passed a hundred times comes once.
    return first.union(*others)


_FACTS = Prepared(_rows_of_facts)


def last_of(pks):
    """Return {pk: when the person last read, handed in or sat for something}."""
    moments = (
        (LessonRead.objects.filter(user__in=pks), "user_id", "read_at"),
        (Attempt.objects.filter(assignment__user__in=pks), "assignment__user_id", "handed_in"),
        (Exam.objects.filter(user__in=pks), "user_id", Coalesce("handed_in", "begun")),
    )
    latest = (
        rows.order_by().values_list(person).annotate(latest=Max(moment))
        for rows, person, moment in moments
    )
    found = {}
    for pk, moment in chain.from_iterable(latest):
        found[pk] = max(moment, found.get(pk, moment))
    return found


def certified_until(person):
    """Return the expression for until when ``person``, its path to a number, was ever certified."""
    theirs = never_taken_back().filter(exam__user=OuterRef(person)).order_by("-expires")
    return Subquery(theirs.values("expires")[:1])


def person_tallies(pks):
    """Return {pk: PersonTally}, not saved, of the people with these ``pks``."""
    attempts = Attempt.objects.filter(assignment__user__in=pks).order_by()
    counts = {
        pk: (every, passes)
        for pk, every, passes in attempts.values_list("assignment__user_id").annotate(
            every=Count("pk"), passes=Count("pk", filter=Q(passed=True))
        )
    }
    last = last_of(pks)
    until = dict(
        User.objects.filter(pk__in=pks).values_list("pk", certified_until("pk")).order_by()
    )
    found = {}
    for pk, facts in facts_of(pks).items():
        every, passes = counts.get(pk, (0, 0))
        found[pk] = PersonTally(
            user_id=pk,
            attempts=every,
            passed=passes,
            last=last.get(pk),
            certified_until=until.get(pk),
            **how_far(facts)._asdict(),
        )
    return found


def person_rule_tallies(pks):
    """Return {(pk, rule): PersonRuleTally}, not saved, of the people with these ``pks``."""
    asked, missed = Counter(), Counter()
    rows = Attempt.objects.filter(assignment__user__in=pks).order_by()
    rows = rows.values_list(
        "assignment__user_id",
        "findings",
        "assignment__rulebook_name",
        "assignment__rulebook_version",
    )
    for pk, findings, name, version in rows.iterator(chunk_size=ATTEMPTS_AT_ONCE):
        for rule, was_missed in rules_put(findings, rulebook.load(name, version)).items():
            asked[pk, rule] += 1
            missed[pk, rule] += was_missed
    return {
        (pk, rule): PersonRuleTally(user_id=pk, rule=rule, asked=number, missed=missed[pk, rule])
        for (pk, rule), number in asked.items()
    }


def group_rule_tallies(group_pk):
    """Return {rule: GroupRuleTally}, not saved, summed over the members of a group."""
    members = Membership.objects.filter(group=group_pk).values("user")
    shares = PersonRuleTally.objects.filter(user__in=members)
    found = defaultdict(Counter)
    for rule, asked, missed in shares.values_list("rule", "asked", "missed"):
        found[rule].update(asked=asked, missed=missed, people=1, people_missed=missed > 0)
    return {
        rule: GroupRuleTally(group_id=group_pk, rule=rule, **sums) for rule, sums in found.items()
    }
