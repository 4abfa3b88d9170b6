"""The answers to exams and the judges' opinions, as the statistics want them."""

from collections import Counter, defaultdict
from typing import NamedTuple

from django.utils.translation import gettext as _

from rigs.statistics import items, standard
from rigs.statistics.agreement import share
from rigs.statistics.steadiness import Shape
from training.exercises.kinds.one_reading import OneReading

from . import blueprints
from .models import Exam, ExamTask

MOST_MISSES = 3
COIN = 0.5


class Template(NamedTuple):
    """
    A place that every exam of a set of requirements fills with a task of its own numbers.

    ``rule`` is the key of the rule that the task was made for, empty if for none; ``number``
    tells apart those that are otherwise alike, from 1. In what order they come says nothing.
    """

    kind: str
    difficulty: int
    rulebook: str
    rule: str
    number: int

    @property
    def group(self):
        """What its answers are counted with: those on its rule, or those of its kind."""
        return self.rule if self.kind == OneReading.slug else self.kind


class CountedAs(NamedTuple):
    """Questions that are counted together; ``guessed`` is the share that guessing gets right."""

    title: str
    about: str = ""
    guessed: float = 0


def by_rule(template):
    """Return the CountedAs of short questions on the rule of ``template``; else of its kind."""
    if template.kind != OneReading.slug:
        return CountedAs(blueprints.title_of_kind(template.kind))
    title = blueprints.title_of(template.rule, [template.rulebook])
    return CountedAs(title, blueprints.book_of(template.rulebook).title, COIN)


def by_kind(template):
    """Return the CountedAs of questions of the kind and level of ``template``."""
    guessed = COIN if template.kind == OneReading.slug else 0
    return CountedAs(
        _("{title}, level {level}").format(
            title=blueprints.title_of_kind(template.kind), level=template.difficulty
        ),
        guessed=guessed,
    )


def first_sittings(requirements):
    """
    Return the first exam that each candidate handed in for ``requirements``, oldest first.

    Later sittings are of people who have seen such an exam before and failed it: with
    them in, one person would count several times.
    """
    found = {}
    exams = Exam.objects.filter(requirements=requirements, handed_in__isnull=False, out_of__gt=0)
    for exam in exams.order_by("handed_in", "pk"):
        found.setdefault(exam.user_id, exam)
    return list(found.values())


def pool_of(exams):
    """
    Return the Pool of ``exams``, an item for each Template that they fill.

    A template is worth the most marks that any of its tasks could give; where a task
    could give fewer, its marks are scaled up, so that its share stays what it was.

    Raises MeasureError without exams.
    """
    shares, worth = defaultdict(dict), {}
    for task, template in _placed(exams):
        shares[task.exam_id][template] = task.marks / task.out_of
        worth[template] = max(task.out_of, worth.get(template, 0))
    marks = [
        {template: share * worth[template] for template, share in row.items()}
        for row in shares.values()
    ]
    return items.pool(marks, worth)


def _placed(exams):
    """Yield the marked tasks of ``exams``, each with the Template that it fills."""
    alike = Counter()
    tasks = ExamTask.objects.filter(exam__in=exams, out_of__gt=0).order_by("exam_id", "number")
    for task in tasks:
        rule = task.focus[0] if task.focus else ""
        place = (task.kind, task.difficulty, task.rulebook_name, rule)
        alike[task.exam_id, place] += 1
        yield task, Template(*place, alike[task.exam_id, place])


class Miss(NamedTuple):
    """A rule or other line of a task, and how many ``of`` the answers to it were wrong."""

    title: str
    count: int
    of: int


def misses(exams, most=MOST_MISSES):
    """
    Return the Misses of each CountedAs by kind in ``exams``, at most so many, worst first.

    The tasks of a kind offer other choices in every exam, so that it is by rules,
    not by choices, that wrong answers can be counted together.
    """
    wrong, asked = defaultdict(Counter), defaultdict(Counter)
    for task, template in _placed(exams):
        group, lines = by_kind(template), task.findings or ()
        asked[group].update(sorted({line["title"] for line in lines}))
        wrong[group].update(sorted({line["title"] for line in lines if not line["right"]}))
    return {
        group: [
            Miss(title, count, titles[title]) for title, count in wrong[group].most_common(most)
        ]
        for group, titles in asked.items()
    }


class Taken(NamedTuple):
    """
    How those did whose exams were alike: a Shape, and by person how many they had right of each
    of its groups.

    Exams are alike if they asked as many questions on each rule, and passed by the same
    requirements. Of those asked in different ways over time the latest are taken.
    """

    shape: Shape
    right: list


def taken_alike(exams):
    """
    Return the Taken of ``exams``, each somebody's first; None if none is graded by questions.

    Exams from before every question gave one point are left out.
    """
    asked, right, unlike = defaultdict(Counter), defaultdict(Counter), set()
    for task, template in _placed(exams):
        asked[task.exam_id][template.group] += 1
        right[task.exam_id][template.group] += task.marks
        if task.out_of != 1:
            unlike.add(task.exam_id)
    exams = [
        exam
        for exam in exams
        if asked[exam.pk] and exam.must_slips is not None and exam.pk not in unlike
    ]
    if not exams:
        return None
    last = exams[-1]
    groups = sorted(asked[last.pk])
    counts = tuple(asked[last.pk][group] for group in groups)
    alike = [exam for exam in exams if _shape(exam, asked) == _shape(last, asked)]
    shape = Shape(
        asked=counts,
        # Rounded up: 70 percent of 9 points are 7.
        needed=-(-last.pass_percent * sum(counts) // 100),
        slips={groups.index(key): last.must_slips for key in last.must_pass if key in groups},
    )
    return Taken(shape, [[right[exam.pk][group] for group in groups] for exam in alike])


def _shape(exam, asked):
    """Return what has to be the same in two exams that are alike."""
    rules = tuple(sorted(exam.must_pass))
    return asked[exam.pk], exam.pass_percent, rules, exam.must_slips


def would_pass(exams, cut):
    """
    Return the agreement.Share of ``exams`` that would pass if ``cut``, a share of the points, did.

    The rules that must be right count as they did on the day.
    """
    tasks = defaultdict(list)
    for task in ExamTask.objects.filter(exam__in=exams):
        tasks[task.exam_id].append(task)
    passing = [
        standard.passes(exam.marks / exam.out_of, cut) and _must_held(exam, tasks[exam.pk])
        for exam in exams
    ]
    return share(sum(passing), len(passing))


def _must_held(exam, tasks):
    """Return whether each rule that must be right had no more slips than allowed."""
    if exam.must_slips is None:
        lines = [line for task in tasks for line in task.findings or () if not line["right"]]
        return not {line["key"].split(":")[0] for line in lines} & set(exam.must_pass)
    readings = [task for task in tasks if task.kind == OneReading.slug]
    wrong = Counter(task.focus[0] for task in readings if not task.passed)
    return all(wrong[key] <= exam.must_slips for key in exam.must_pass)
