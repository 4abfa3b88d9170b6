"""How long, how short, how thick: a measure with its unit."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import NamedTuple

from django import forms

from rigs import sample, units
from rigs.gear import PORT, Float, Headrope, Rig
from rigs.judge import judge
from rigs.units import FOOT, INCH, UnitError, fathoms, feet_inches

from .base import AnswerForm, Kind, Line, Marked, Task

AT_MOST, AT_LEAST = 1, -1
LENGTH_READ = INCH / 2  # so near an answer counts as the measure meant
SIZE_READ = INCH / 64
LONG = 6 * FOOT  # nobody says so much in inches
STEPS = 60  # halvings: far beyond any tape


class Question(NamedTuple):
    """
    What is asked about a rig.

    ``ask`` makes the question from the rig, ``made`` the rig that has the measure;
    ``edge`` is AT_MOST or AT_LEAST, ``read`` how near in metres an answer has to be.
    """

    ask: Callable
    made: Callable
    edge: int
    read: float = LENGTH_READ


def _with_floats(rig, length):
    """Return ``rig`` with its floats spaced evenly along a headrope of ``length`` metres."""
    last = len(rig.floats) - 1
    spaced = tuple(
        Float((index / last - 0.5) * length, each.diameter) for index, each in enumerate(rig.floats)
    )
    return replace(rig, headrope=Headrope(length), floats=spaced)


def _with_cables(rig, length):
    return replace(
        rig, ground_cables=tuple(replace(each, length=length) for each in rig.ground_cables)
    )


def _with_droppers(rig, **changes):
    return replace(rig, droppers=tuple(replace(each, **changes) for each in rig.droppers))


QUESTIONS = {
    "dropper_length": Question(
        lambda rig: "What is the shortest dropper allowed?",
        lambda rig, value: _with_droppers(rig, length=value),
        AT_LEAST,
    ),
    "dropper_stock": Question(
        lambda rig: "What is the thickest dropper chain allowed?",
        lambda rig, value: _with_droppers(rig, diameter=value),
        AT_MOST,
        SIZE_READ,
    ),
    "footrope_excess": Question(
        lambda rig: (
            f"The footrope is {feet_inches(rig.footrope.length)} long. "
            "What is the shortest headrope allowed?"
        ),
        lambda rig, value: replace(rig, headrope=Headrope(value), floats=None),
        AT_LEAST,
    ),
    "door_to_wing_end": Question(
        lambda rig: (
            f"Both legs are {fathoms(rig.legs[0].top_length)} long. "
            "What is the longest ground cable allowed?"
        ),
        _with_cables,
        AT_MOST,
    ),
    "float_spacing": Question(
        lambda rig: (
            f"{len(rig.floats)} floats are spaced evenly, one at each end of the headrope. "
            "What is the longest headrope allowed?"
        ),
        _with_floats,
        AT_MOST,
    ),
    "sweep_excess_each_side": Question(
        lambda rig: (
            f"From its center to the port wing end the footrope is "
            f"{feet_inches(abs(rig.footrope.end(PORT)))} long. "
            "What is the shortest port half of the sweep allowed?"
        ),
        lambda rig, value: replace(rig, sweep=replace(rig.sweep, port=value)),
        AT_LEAST,
    ),
}
FIRST = ("dropper_length", "dropper_stock", "footrope_excess")


@dataclass(frozen=True, kw_only=True)
class MeasureTask(Task):
    """A rig, and the requirement that sets the measure asked for."""

    rig: Rig
    key: str

    @property
    def question(self):
        return QUESTIONS[self.key]

    def finding(self, value):
        """Return the rule module's Finding on the rig with the measure ``value``, metres."""
        return judge(self.question.made(self.rig, value), self.rulebook).finding(self.key)

    def is_past(self, value):
        """Return whether ``value`` is past the limit as it is told on deck, in metres."""
        finding = self.finding(value)
        return finding.failed or finding.margin <= 0

    def is_right(self, value):
        """
        Return whether the rule holds just up to ``value``: a little beyond it does not.

        The figure that the regulation prints beside the limit is as right as the limit.
        """
        step = self.question.edge * self.question.read
        return not self.finding(value - step).failed and self.is_past(value + step)

    def say(self, value):
        """Return the measure ``value``, metres, in words: a rope's in feet or fathoms."""
        requirement = self.rulebook.requirement(self.key)
        in_inches = requirement.unit == "in" and value > LONG
        return feet_inches(value) if in_inches else requirement.say(value)

    def just_kept(self):
        """Return the measure in metres up to which the rule holds, by asking the judge."""
        low, high = INCH / 16, 1000 * FOOT
        for _ in range(STEPS):
            middle = (low + high) / 2
            if self.is_past(middle) is (self.question.edge == AT_MOST):
                high = middle
            else:
                low = middle
        return (low + high) / 2


class MeasureForm(AnswerForm):
    """A length with its unit."""

    measure = forms.CharField(
        max_length=40,
        help_text="With its unit: feet and inches, inches, fathoms or metric.",
        widget=forms.TextInput(attrs={"autocomplete": "off", "spellcheck": "false"}),
        error_messages={"required": "Write a measure, such as 3 ft 6 in."},
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        edge = self.task.question.edge
        self.fields["measure"].label = "At most" if edge == AT_MOST else "At least"

    def clean_measure(self):
        try:
            return units.parse_length(self.cleaned_data["measure"], bare=None)
        except UnitError as error:
            raise forms.ValidationError(str(error)) from error


class EnterMeasure(Kind):
    """A net's sizes; the trainee works out what the rules allow."""

    slug = "enter-measure"
    title = "Work out the limit"
    summary = "From the sizes of a net, work out the longest or shortest that the rules allow."
    template = "exercises/question.html"
    form_class = MeasureForm
    rulebooks = {
        1: ("no-sweep",),
        2: ("no-sweep", "chain-sweep"),
        3: ("no-sweep", "chain-sweep", "grate"),
    }

    def covers(self, rulebook, difficulty):
        return tuple(
            key
            for key in QUESTIONS
            if rulebook.has(key)
            and not rulebook.requirement(key).by_custom
            and (difficulty > 1 or key in FIRST)
        )

    def generate(self, seed, rulebook, difficulty, focus=()):
        rng = self.rng(seed, rulebook, difficulty)
        rig = sample.legal_rig(rng, rulebook, difficulty)
        key = focus[0] if focus else rng.choice(self.covers(rulebook, difficulty))
        return MeasureTask(seed=seed, rulebook=rulebook, difficulty=difficulty, rig=rig, key=key)

    def shown(self, task):
        return {"ask": task.question.ask(task.rig)}

    def any_answer(self, task):
        return {"measure": "1 ft"}

    def grade(self, task, answer):
        value = self.read(task, answer)["measure"]
        right = task.is_right(value)
        line = Line.of(
            task.finding(value), right=right, marks=int(right), out_of=1, yours=task.say(value)
        )
        return Marked(lines=(line,), passed=right, remarks=tuple(self._remarks(task, right)))

    def _remarks(self, task, right):
        """Yield the measure itself, for whoever missed it."""
        if not right:
            yield f"The limit is {task.say(task.just_kept())}."
