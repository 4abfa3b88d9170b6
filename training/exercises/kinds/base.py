"""What every kind of exercise is made of."""

import random
from abc import ABC, abstractmethod
from collections.abc import Callable
from dataclasses import asdict, dataclass
from itertools import product

from django import forms
from django.utils.safestring import mark_safe

from rigs.drawing import svg
from rigs.drawing.scene import WIDTH
from rigs.rules import wording
from rigs.rules.judge import FAIL, PASS
from rigs.rules.rulebook import LEVELS, Rulebook, find_in_force, load, nearest, taught

from .foretelling import TABLE, Foretold, Part, Piece, both, value

EASIEST, HARDEST = 1, 3


class BadAnswer(ValueError):
    """An answer that cannot be read, and so not be marked; it carries the form's errors."""


@dataclass(frozen=True, kw_only=True)
class Task:
    """What is set: made from a seed, and the same for ever from the same seed."""

    seed: int
    rulebook: Rulebook
    difficulty: int


@dataclass(frozen=True, kw_only=True)
class Line:
    """
    One line of a marked answer, as kept in ``Attempt.findings``.

    ``outcome`` is what the rule module found (``pass`` or ``fail``), ``right`` whether
    the trainee was right about it; ``marks`` may be negative where a wrong answer costs.
    ``basis`` is "regulation" or "practice" as in a rule set, empty where neither asks for
    it but the task itself. ``sentence`` is what a finding says as a whole, empty for lines that
    report none. The rest is text for the page, named as in a ``rigs.rules.judge.Finding``.
    """

    key: str
    title: str
    outcome: str
    right: bool
    marks: int
    out_of: int
    yours: str = ""
    measured_text: str = ""
    allowed_text: str = ""
    margin_text: str = ""
    basis: str = ""
    clause: str = ""
    source: str = ""
    why: str = ""
    remedy: str = ""
    places: tuple[str, ...] = ()
    sentence: str = ""

    @classmethod
    def of(cls, finding, **changes):
        """Return the line that reports ``finding``, a ``rigs.rules.judge.Finding``."""
        words = {
            "key": finding.key,
            "title": finding.title,
            "outcome": FAIL if finding.failed else PASS,
            "measured_text": finding.measured_text,
            "allowed_text": finding.allowed_text,
            "margin_text": finding.margin_text,
            "basis": finding.basis,
            "clause": finding.clause,
            "source": wording.source(finding.requirement),
            "sentence": wording.sentence(finding),
            "why": finding.requirement.why,
            "remedy": finding.remedy,
            "places": finding.places,
        }
        return cls(**(words | changes))

    def as_record(self):
        """Return the line as plain values for JSON."""
        return {**asdict(self), "places": list(self.places)}


@dataclass(frozen=True)
class Picture:
    """A drawing for a page: a ``rigs.drawing`` scene and what it shows."""

    title: str
    scene: object

    @property
    def is_wide(self):
        """Whether the drawing is made to be scrolled along, not to fit a page."""
        return self.scene.width > WIDTH

    @property
    def svg(self):
        """The drawing as SVG, which escapes its own words."""
        return mark_safe(svg.render(self.scene))  # noqa: S308

    @property
    def to_scale(self):
        """The drawing as SVG at a pixel to the unit, however wide the page."""
        return mark_safe(svg.render(self.scene, sized=True))  # noqa: S308


@dataclass(frozen=True)
class Marked:
    """
    An answer marked: a mark a requirement, and remarks that cost nothing.

    ``draw`` returns Pictures; it is called only when they are looked at, since handing
    in needs none. ``table_by`` is the template that shows ``table``.
    """

    lines: tuple[Line, ...]
    passed: bool
    remarks: tuple[str, ...] = ()
    table: tuple[dict, ...] = ()
    table_by: str = TABLE
    draw: Callable = tuple

    @property
    def pictures(self):
        """The answer drawn, as Pictures."""
        return tuple(self.draw())

    @property
    def marks(self):
        """The sum of all marks, never less than nought."""
        return max(0, sum(line.marks for line in self.lines))

    @property
    def out_of(self):
        return sum(line.out_of for line in self.lines)


MOST_LETTERS = 20_000
"""More than the longest answer has, the names of its fields along with it."""


class AnswerForm(forms.Form):
    """A form for the answer to one task, which its subclasses find in ``task``."""

    task = None

    @classmethod
    def to(cls, task):
        """Return the form class for answers to ``task``."""
        return type(cls.__name__, (cls,), {"task": task, "__module__": cls.__module__})

    def raw(self):
        """Return what was typed, field by field, as it came; the form must be bound."""
        return {
            name: field.widget.value_from_datadict(self.data, self.files, self.add_prefix(name))
            for name, field in self.fields.items()
        }

    @property
    def is_too_long(self):
        """Whether more was typed than anybody types: an exam keeps what it cannot read, too."""
        return len(str(self.raw())) > MOST_LETTERS


class Kind(ABC):
    """
    A kind of exercise: one public class in one file of this package, where it is found.

    It brings its own parts. ``finding`` refuses a kind that lacks one of them:

    - ``slug``, its name in addresses and records; ``title`` and ``summary``, for people;
    - ``template``, which sets a task and extends ``layout``;
    - ``form_class``, or ``form``: what an answer is read by;
    - ``seconds`` that a careful person takes for a task, its result included;
    - ``generate``, ``grade`` and ``any_answer``;
    - ``hand``, how a modelled person answers, in the demo and in the trials of exams;
    - ``truth``, what the rules make true of a task.

    ``version`` goes up whenever other tasks come of the same seeds, or the same answer is
    graded otherwise. The class as it was then stays, under another name in a file of its own,
    with the same slug and its old version: what was set by it goes by it for ever.
    """

    slug = ""
    version = 1
    title = ""
    summary = ""
    order = 100
    """Kinds are shown smallest first, and those with the same by their slugs."""
    template = ""
    form_class = AnswerForm
    seconds = 0
    exam_seconds = 90
    """How long a question takes in an exam, for somebody who knows it."""
    covers_all = False
    """Whether every task turns on all that the kind covers, whatever its focus."""

    def rng(self, seed, rulebook, difficulty):
        """
        Return the random numbers for one task.

        Seeded by a text, which ``random`` hashes the same way in every process.
        """
        return random.Random(f"{self.slug}/{seed}/{rulebook.name}/{rulebook.version}/{difficulty}")

    def suits(self, rulebook):
        """Return whether tasks can be drawn from the Rulebook, wherever it is taught."""
        return True

    def drawn_from(self, difficulty, on=None):
        """
        Return the names of the rule sets that tasks are drawn from: those taught that suit it.

        By the versions nearest to the date ``on``, or the latest.
        """
        names = taught(difficulty, self.slug, on)
        books = [nearest(name, on) if on else load(name) for name in names]
        return tuple(book.name for book in books if self.suits(book))

    @property
    def rulebooks(self):
        """The names of the rule sets that tasks are drawn from, by difficulty."""
        return {level: self.drawn_from(level) for level in LEVELS}

    def pick_rulebook(self, seed, difficulty, on):
        """
        Return the Rulebook for a new task: one of its rule sets that holds on the date ``on``.

        None if none of them has a version for that day.
        """
        held = [find_in_force(name, on) for name in self.drawn_from(difficulty, on)]
        held = [book for book in held if book is not None]
        return random.Random(f"{self.slug}/{seed}").choice(held) if held else None

    def covers(self, rulebook, difficulty):
        """Return the keys of the requirements that a task can be made to turn on."""
        return ()

    def is_met_in(self, lesson):
        """Return whether readers of ``lesson``, a Lesson, meet tasks of the kind."""
        return self.slug in lesson.kinds

    @abstractmethod
    def generate(self, seed, rulebook, difficulty, focus=()):
        """
        Return the Task for ``seed``: the same arguments give the same task for ever.

        ``focus`` holds keys of requirements that the task must turn on, each one of
        what ``covers`` returns; at most one of them unless ``covers_all``. Keep no right answer
        in the task: grade by asking ``rigs``.
        """

    def form(self, task):
        """Return the Django form class for answers to ``task``."""
        return self.form_class.to(task)

    def shown(self, task):
        """Return what the template needs to set ``task``, as a dict."""
        return {}

    def read(self, task, answer):
        """
        Return the cleaned values of ``answer``, a raw answer as ``AnswerForm.raw`` gives.

        Raise BadAnswer if it cannot be read.
        """
        form = self.form(task)(answer)
        if not form.is_valid():
            raise BadAnswer(form.errors)
        return form.cleaned_data

    @abstractmethod
    def grade(self, task, answer):
        """Return ``answer``, raw, as Marked; raise BadAnswer if it cannot be read."""

    @abstractmethod
    def any_answer(self, task):
        """Return some raw answer to ``task`` that can be read, right or wrong."""

    @abstractmethod
    def hand(self, task, mind, rng):
        """
        Return the raw answer to ``task`` of ``mind``, a ``hands.mind.Mind``.

        ``rng`` is a random.Random, for what falls out by chance. Who knows all and never slips
        is right.
        """

    @abstractmethod
    def truth(self, task, book):
        """
        Return what ``book`` makes true of ``task``, as values by the key of the rule.

        A kind whose tasks no rule set decides, such as one on the order of work, says
        ``truth = None``.
        """

    def foretold(self, task):
        """
        Return what ``grade`` says of every answer to ``task``, as a Foretold.

        It is told without signal, once the answer is in. Here each answer is graded that a form of
        choices can be given; a kind with another form tells its parts. None: it tells nothing
        before the answer has reached the site.
        """
        fields = self.form(task)().fields
        if not all(_is_one_choice(each) for each in fields.values()):
            return None
        pieces = {}
        for chosen in product(*(_offered(each) for each in fields.values())):
            marked = self.grade(task, dict(zip(fields, chosen, strict=True)))
            pieces["/".join(chosen)] = Piece(
                marked.lines,
                marked.remarks,
                passed=marked.passed,
                table=marked.table,
                table_by=marked.table_by,
            )
        return Foretold(
            (Part(both(*map(value, fields)), pieces),),
            draw=lambda: self.grade(task, self.any_answer(task)).pictures,
        )

    def changed(self, task, book):
        """Return the keys of the rules by which ``task`` comes out otherwise under ``book``."""
        if self.truth is None:
            return frozenset()
        was, now = self.truth(task, task.rulebook), self.truth(task, book)
        return frozenset(key for key in {*was, *now} if was.get(key) != now.get(key))

    def unanswered(self, task):
        """Return no answer at all as Marked: nothing for every line that gives marks."""
        lines = self.grade(task, self.any_answer(task)).lines
        lost = (
            Line(
                key=line.key,
                title=line.title,
                outcome=FAIL,
                right=False,
                marks=0,
                out_of=line.out_of,
                yours="nothing",
                clause=line.clause,
                source=line.source,
                why=line.why,
            )
            for line in lines
            if line.out_of
        )
        return Marked(lines=tuple(lost), passed=False)


def _is_one_choice(field):
    return isinstance(field, forms.ChoiceField) and not isinstance(field, forms.MultipleChoiceField)


def _offered(field):
    """Return the choices of a field, as a browser sends them."""
    return [str(value) for value, __ in field.choices]
