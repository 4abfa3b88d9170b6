"""How long, how short, how many: a limit worked out from the sizes of one net."""

from dataclasses import dataclass, replace
from functools import cached_property

from django import forms
from django.utils.translation import gettext as _

from rigs import requirements
from rigs.requirements.worked_out.base import AT_MOST, COUNT
from rigs.rules.judge import judge
from rigs.rules.rulebook import ROUNDING
from rigs.words import units
from rigs.words.gear import Rig
from rigs.words.say import gettext_lazy
from rigs.words.units import FOOT, INCH, UnitError

from .base import AnswerForm, Kind, Line, Marked, Task
from .foretelling import (
    Foretold,
    Part,
    Piece,
    around,
    length,
    number,
    said,
    stretches,
    typed,
    whatever,
)


def _questions():
    """Return all that the requirements can be asked to be worked out by, {name: WorkedOut}."""
    found = {each for measure in requirements.all() for each in measure.worked_out}
    return {each.name: each for each in sorted(found, key=lambda each: each.order)}


QUESTIONS = _questions()
KEYS = {
    name: tuple(measure.key for measure in requirements.all() if question in measure.worked_out)
    for name, question in QUESTIONS.items()
}
"""The requirements that can set the answer to each, of which that does which binds the rig."""

INSIDE = INCH  # so far inside the limit an answer still reads at it, on a long tape
BEYOND = INCH / 2  # so far beyond: a length typed in metres or fathoms to two decimals
LONGEST, MOST = 1000 * FOOT, 999
WRONG_BY = 9 / 8  # who works it out wrong is off by an eighth (an assumption)
STEPS = 60  # halvings: far beyond any tape


@dataclass(frozen=True, kw_only=True)
class MeasureTask(Task):
    """The parts of a net that are told, in ``rig``, and which of QUESTIONS is asked."""

    rig: Rig
    asked: str

    @property
    def question(self):
        return QUESTIONS[self.asked]

    @property
    def key(self):
        """The key of the requirement that sets the answer."""
        return _binding(self.asked, self.rig, self.rulebook)

    @property
    def counted(self):
        """Whether the answer is a number of things, not a length."""
        return self.question.unit == COUNT

    def finding(self, value):
        """Return the rule module's Finding on the rig with ``value``, metres or a count."""
        return judge(self.question.made(self.rig, value, self.rulebook), self.rulebook).finding(
            self.key
        )

    def _keeps(self, value, limit):
        """Return whether what the judge reads off the rig with ``value`` keeps ``limit``."""
        requirement = self.rulebook.requirement(self.key)
        over = self.finding(value).measured - limit
        return (over if requirement.test in ("at most", "every") else -over) <= ROUNDING

    def is_right(self, value):
        """
        Return whether the rule holds just up to ``value``, as near as a tape tells.

        The figure that the regulation prints beside the limit is as right as the limit.
        """
        if self.counted:
            return value == self.just_kept
        requirement = self.rulebook.requirement(self.key)
        printed = requirement.metric.size if requirement.metric else requirement.limit
        edge = self.question.edge
        return any(
            self._keeps(value - edge * BEYOND, limit)
            and not self._keeps(value + edge * INSIDE, limit)
            for limit in {requirement.limit, printed}
        )

    @cached_property
    def just_kept(self):
        """The last answer that keeps the rule, metres or a count, by asking the judge."""
        at_most = self.question.edge == AT_MOST
        low, high = (0, MOST) if self.counted else (INCH / 16, LONGEST)
        if self.counted:
            while high - low > 1:
                middle = (low + high) // 2
                low, high = (low, middle) if not self.finding(middle).failed else (middle, high)
            return high
        limit = self.rulebook.requirement(self.key).limit
        for __ in range(STEPS):
            middle = (low + high) / 2
            if self._keeps(middle, limit) is at_most:
                low = middle
            else:
                high = middle
        return low if at_most else high

    @property
    def right_text(self):
        """The right answer as somebody types it."""
        return str(self.just_kept) if self.counted else units.inches(self.just_kept)


def _binding(asked, rig, book):
    """Return the key of that requirement that sets what is ``asked`` of ``rig``, or ""."""
    return next(
        (
            key
            for key in KEYS[asked]
            if book.has(key) and book.requirement(key).applies_to(rig, None)
        ),
        "",
    )


class MeasureForm(AnswerForm):
    """A length with its unit, or a number of things."""

    measure = forms.CharField(
        max_length=40,
        help_text=gettext_lazy("With its unit: feet and inches, inches, fathoms or metric."),
        widget=forms.TextInput(attrs={"autocomplete": "off", "spellcheck": "false"}),
        error_messages={"required": gettext_lazy("Enter a length, such as 3 ft 6 in.")},
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        question = self.task.question
        field = self.fields["measure"]
        if self.task.counted:
            field.help_text = _("A number, such as 12. The fewest {things} that will do.").format(
                things=question.things[1]
            )
            field.error_messages["required"] = _("Enter a number, such as 12.")
            field.widget.attrs["inputmode"] = "numeric"
            field.label = _("At least")
        else:
            field.label = _("At most") if question.edge == AT_MOST else _("At least")

    def clean_measure(self):
        said = self.cleaned_data["measure"]
        return self._count(said) if self.task.counted else self._length(said)

    @staticmethod
    def _count(said):
        number = said.split()[0] if said.split() else ""
        if not (number.isascii() and number.isdecimal()) or len(number) > len(str(MOST)):
            raise forms.ValidationError(
                _("“{said}” is not a whole number up to {MOST}. Write it like 12.").format(
                    said=said, MOST=MOST
                )
            )
        return int(number)

    @staticmethod
    def _length(said):
        try:
            return units.parse_length(said, bare=None)
        except UnitError as error:
            raise forms.ValidationError(str(error)) from error


class EnterMeasure(Kind):
    """A net's sizes; the trainee works out what the rules allow."""

    slug = "enter-measure"
    order = 9
    title = gettext_lazy("Work out the limit")
    summary = gettext_lazy(
        "From the sizes of a net, work out how long, how short or how few the rules allow."
    )
    template = "exercises/enter_measure.html"
    form_class = MeasureForm
    seconds = 60

    def covers(self, rulebook, difficulty):
        found = dict.fromkeys(
            key for asked in _askable(rulebook, difficulty) for key in KEYS[asked]
        )
        return tuple(key for key in found if _is_law(rulebook, key))

    def generate(self, seed, rulebook, difficulty, focus=()):
        rng = self.rng(seed, rulebook, difficulty)
        askable = _askable(rulebook, difficulty)
        if focus:
            askable = [asked for asked in askable if focus[0] in KEYS[asked]]
        asked = rng.choice(askable)
        question = QUESTIONS[asked]
        while True:
            rig = question.draw(rng, rulebook, difficulty)
            if _binding(asked, rig, rulebook) in (focus or KEYS[asked]):
                return MeasureTask(
                    seed=seed, rulebook=rulebook, difficulty=difficulty, rig=rig, asked=asked
                )

    def shown(self, task):
        return {
            "ask": task.question.asked(task.rig, task.difficulty),
            "facts": task.question.facts(task.rig, task.difficulty),
        }

    def any_answer(self, task):
        return {"measure": "1" if task.counted else "1 ft"}

    def hand(self, task, mind, rng):
        """Work it out by the limit that the person knows, or goes by without knowing it."""
        requirement = task.rulebook.requirement(task.key)
        if not mind.knows(requirement):
            task = _by(task, replace(requirement, limit=mind.limit(requirement), metric=None))
        elif mind.slips_on(mind.slips.work[task.difficulty], rng):
            value = task.just_kept * WRONG_BY
            return {"measure": str(round(value) + 1) if task.counted else units.inches(value)}
        return {"measure": task.right_text}

    def truth(self, task, book):
        """Up to where the rule holds."""
        under = replace(task, rulebook=book)
        return {under.key: round(under.just_kept, 6)} if under.key else {}

    def grade(self, task, answer):
        value = self.read(task, answer)["measure"]
        right = task.is_right(value)
        # A hair beyond the limit is right, and must not be told as broken.
        finding = task.finding(task.just_kept if right else value)
        line = Line.of(
            finding, right=right, marks=int(right), out_of=1, yours=task.question.say(value)
        )
        return Marked(lines=(line,), passed=right, remarks=tuple(self._remarks(task, value, right)))

    def foretold(self, task):
        """Tell of each stretch of answers, right, too much or too little, by the one limit."""

        def graded(value):
            return self.grade(task, {"measure": str(value) if task.counted else typed(value)})

        def outcome(value):
            line = graded(value).lines[0]
            return line.right, line.outcome

        best = task.just_kept
        if task.counted:
            inside = sorted({0, best - 1, best, best + 1} - {-1})
            read = number("measure", [each - 0.5 for each in inside[1:]])
        else:
            printed = task.rulebook.requirement(task.key).metric
            near = around(best, *((printed.size,) if printed else ()))
            ends, inside = stretches(outcome, [*near, best / 2, best * 2, LONGEST / 2])
            read = length("measure", ends)
        pieces = {str(at): self._told(task, graded(each)) for at, each in enumerate(inside)}
        return Foretold((Part(read, pieces),))

    @staticmethod
    def _told(task, marked):
        """Return the Piece for all answers that come out as that which was ``marked``."""
        (line,) = marked.lines
        if line.right:
            return Piece((said(line, "measure"),), marked.remarks, passed=marked.passed)
        best = _("The limit for this net is {say}.").format(say=task.question.say(task.just_kept))
        return Piece((whatever(line, "measure"),), (best,), passed=marked.passed)

    @staticmethod
    def _remarks(task, value, right):
        """Yield the answer itself for whoever missed it, and by how much it was missed."""
        if right:
            return
        question, best = task.question, task.just_kept
        off = question.say(abs(value - best))
        if task.finding(value).failed:
            said = f"{off} {question.past}"
        elif task.counted:
            said = _("the rules are met with {off} {spare}").format(off=off, spare=question.spare)
        else:
            said = _("it could be {off} {spare} and still meet the rule").format(
                off=off, spare=question.spare
            )
        yield _("The limit for this net is {say}. Your answer: {said}.").format(
            say=question.say(best), said=said
        )


def _by(task, believed):
    """Return ``task`` under rules in which the requirement ``believed`` stands for its like."""
    book = task.rulebook
    others = tuple(believed if r.key == believed.key else r for r in book.requirements)
    return replace(task, rulebook=replace(book, requirements=others))


def _is_law(rulebook, key):
    return rulebook.has(key) and rulebook.requirement(key).binds


def _askable(rulebook, difficulty):
    """Return the names of the questions that ``rulebook`` can answer by law."""
    return [
        name
        for name, question in QUESTIONS.items()
        if difficulty in question.levels and any(_is_law(rulebook, key) for key in KEYS[name])
    ]
