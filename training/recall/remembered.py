"""What people remember of each rule, and which lessons they passed by their readings."""

from collections import defaultdict

from django.db.models import Exists, OuterRef

from training.deck.prepared import Prepared

from .models import ReadingSet, RuleMemory, SetReading

KNOWN_ALREADY = "/known"
"""What follows a lesson's slug as the subject of a set by which the lesson is passed."""


_MEMORIES = Prepared(lambda pks: RuleMemory.objects.filter(user__in=pks).order_by())


def by_rule(users):
    """Return {pk of a person: {(rule set, key): their RuleMemory}}, in one query."""
    found = defaultdict(dict)
    for row in _MEMORIES.objects(RuleMemory, [user.pk for user in users]):
        found[row.user_id][row.rulebook_name, row.key] = row
    return found


def latest(memory, rule):
    """Return of ``memory``, as ``by_rule`` has it of one person, the last on a course.Rule."""
    rows = [memory[each] for each in rule.alike if each in memory]
    return max(rows, key=lambda row: row.last_asked, default=None)


def passed_sets():
    """Return the sets by which lessons are passed: finished, and every reading right."""
    readings = SetReading.objects.filter(set=OuterRef("pk"))
    return ReadingSet.objects.filter(
        Exists(readings),
        ~Exists(readings.filter(passed=False)),
        purpose="lesson",
        subject__endswith=KNOWN_ALREADY,
        finished__isnull=False,
    )
