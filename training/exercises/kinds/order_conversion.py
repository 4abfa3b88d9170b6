"""Set the steps of a conversion in order."""

from dataclasses import dataclass

from django import forms

from rigs import faults, plan, sample
from rigs.describe import describe
from rigs.gear import Rig
from rigs.judge import FAIL, PASS
from rigs.plan import order
from rigs.rulebook import nearest
from rigs.wording import FROM_MEMORY

from .base import AnswerForm, Kind, Line, Marked, Task

NOW = "chain-sweep"  # what the net is before it is converted

# What is wrong with the net besides its sweep, by difficulty: each adds a step.
SPOILT = {1: (), 2: ("float_spacing",), 3: ("float_spacing", "legs_equal")}


@dataclass(frozen=True, kw_only=True)
class OrderTask(Task):
    """
    One net with a sweep, and the steps of its plan in a jumble.

    ``jumbled`` holds the steps' keys in the order they are shown in.
    """

    rig: Rig
    jumbled: tuple[str, ...]

    @property
    def steps(self):
        """The rule module's steps for this net, in the order of its plan."""
        return _steps(self.rig, self.rulebook)

    @property
    def shown_steps(self):
        """The same steps as they are shown."""
        by_key = {step.key: step for step in self.steps}
        return tuple(by_key[key] for key in self.jumbled)


def _steps(rig, book):
    """Return the steps of converting ``rig`` with the heaviest chain that ``book`` allows."""
    limits = [
        book.requirement(key).limit for key in ("dropper_stock", "dropper_length", "float_diameter")
    ]
    chain, length, ball = limits
    return plan.plan(rig, book, plan.Choices(chain, 1, length, ball)).steps


class OrderForm(AnswerForm):
    """A number for every step, each number once."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        steps = self.task.shown_steps
        numbers = [("", "No."), *((str(n), str(n)) for n in range(1, len(steps) + 1))]
        for step in steps:
            self.fields[step.key] = forms.TypedChoiceField(
                label=step.title,
                choices=numbers,
                coerce=int,
                widget=forms.Select(attrs={"class": "form-select"}),
                error_messages={"required": "Give this step a number."},
            )

    def clean(self):
        cleaned = super().clean()
        given = {}
        for name, number in cleaned.items():
            given.setdefault(number, []).append(name)
        for number, names in given.items():
            for name in names[1:]:
                first = self.fields[names[0]].label
                self.add_error(name, f"“{first}” has number {number} too. Use each number once.")
        return cleaned

    @property
    def rows(self):
        """Each step with its field, as shown."""
        return [{"step": step, "field": self[step.key]} for step in self.task.shown_steps]


class OrderConversion(Kind):
    """A plan's steps in a jumble; the trainee puts them in an order that works."""

    slug = "order-conversion"
    title = "Put the steps in order"
    summary = "Put the steps of taking a sweep off in an order that works."
    template = "exercises/order_conversion.html"
    form_class = OrderForm
    rulebooks = dict.fromkeys(SPOILT, ("no-sweep",))

    def generate(self, seed, rulebook, difficulty, focus=()):
        rng = self.rng(seed, rulebook, difficulty)
        rig = self._net(rng, rulebook, difficulty)
        steps = _steps(rig, rulebook)
        keys = [step.key for step in steps]
        jumbled = keys[:]
        while order.is_kept(steps, jumbled):
            rng.shuffle(jumbled)
        return OrderTask(
            seed=seed,
            rulebook=rulebook,
            difficulty=difficulty,
            rig=rig,
            jumbled=tuple(jumbled),
        )

    @staticmethod
    def _net(rng, goal, difficulty):
        """
        Return a net with a sweep, sound but for what its difficulty spoils.

        Sound by the rules of the day from which ``goal``, the task's rule set, holds: no
        version that comes later can change the net, so that the task stays the same.
        """
        book = nearest(NOW, goal.effective_from)
        rig = sample.legal_rig(rng, book, difficulty)
        for key in SPOILT[difficulty]:
            rig = faults.spoil(rig, key, rng, book, difficulty)
        return rig

    def shown(self, task):
        return {"description": describe(task.rig), "from_memory": FROM_MEMORY}

    def any_answer(self, task):
        return {key: str(n) for n, key in enumerate(task.jumbled, 1)}

    def grade(self, task, answer):
        numbers = self.read(task, answer)
        keys = sorted(numbers, key=numbers.get)
        needs = order.needs(task.steps)
        lines = tuple(self._line(need, numbers, keys) for need in needs)
        passed = all(line.right for line in lines)
        return Marked(lines=lines, passed=passed, remarks=tuple(self._remarks(task, keys, passed)))

    @staticmethod
    def _line(need, numbers, keys):
        met = need.is_met(keys)
        first, then = need
        return Line(
            key=need.key,
            title=f"“{first.title}” before “{then.title}”",
            outcome=PASS if met else FAIL,
            right=met,
            marks=int(met),
            out_of=1,
            yours=f"number {numbers[first.key]} and number {numbers[then.key]}",
            measured_text=f"“{first.title}” has to be done first",
            why=first.why,
            source="The order of work comes from common practice. It has no written source.",
        )

    @staticmethod
    def _remarks(task, keys, passed):
        steps = task.steps
        if not passed:
            told = "; ".join(f"{n}. {step.title}" for n, step in enumerate(steps, 1))
            yield f"One order that works: {told}."
        by_key = {step.key: step for step in steps}
        free = [
            f"“{by_key[one].title}” and “{by_key[other].title}”"
            for one, other in zip(keys, keys[1:], strict=False)
            if order.may_swap(steps, one, other)
        ]
        if passed and free:
            yield f"These can be done in either order: {'; '.join(free)}."
