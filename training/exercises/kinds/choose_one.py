"""Sizes on both sides of a hidden limit: which is the last that still meets the rule?"""

from dataclasses import dataclass

from django import forms
from django.utils.translation import gettext as _

from rigs.requirements.readings import Taken
from rigs.rules.judge import judge_taken
from rigs.rules.rulebook import Requirement
from rigs.words.gear import PORT
from rigs.words.say import gettext_lazy
from rigs.words.units import FOOT, fathoms_and_feet, feet_inches

from .base import AnswerForm, Kind, Line, Marked, Task

OPTIONS = {1: 3, 2: 4, 3: 5}
NONE = "none"


@dataclass(frozen=True)
class OfferedSize:
    """One size that is offered, in SI, and the vessel's length where the rule turns on it."""

    requirement: Requirement
    value: float
    vessel: float | None
    rulebook: object

    @property
    def text(self):
        in_fathoms = self.requirement.unit == "fm"
        return (fathoms_and_feet if in_fathoms else self.requirement.say)(self.value)

    @property
    def finding(self):
        """The rule module's Finding on it."""
        return self.finding_under(self.rulebook)

    def finding_under(self, book):
        """Return what ``book`` finds of it; raise KeyError if it has no such rule."""
        # A gap along a wing, with another dropper at its far end.
        spot = (PORT, 0.0, self.value, False)
        taken = Taken({self.requirement.key: ((self.value,), (spot,))}, self.vessel)
        return judge_taken(taken, book).finding(self.requirement.key)


@dataclass(frozen=True, kw_only=True)
class ChoosingTask(Task):
    """Sizes of one thing, the smallest first, of which none, some or all meet its rule."""

    requirement: Requirement
    options: tuple[OfferedSize, ...]
    vessel: float | None

    @property
    def most(self):
        """Whether the largest that meets the rule is asked for, not the smallest."""
        return self.requirement.is_upper

    @property
    def right(self):
        """The place of the size asked for as text, or NONE."""
        return self.right_under(self.rulebook)

    def right_under(self, book):
        """Return what ``right`` would be under ``book``."""
        met = [at for at, each in enumerate(self.options) if not each.finding_under(book).failed]
        return str(met[-1] if self.most else met[0]) if met else NONE


class ChoosingForm(AnswerForm):
    """One option, or none of them."""

    option = forms.ChoiceField(
        widget=forms.RadioSelect, error_messages={"required": gettext_lazy("Choose one.")}
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        which = "largest" if self.task.most else "smallest"
        self.fields["option"].label = _("Which is the {which} that still meets the rule?").format(
            which=which
        )
        self.fields["option"].choices = [
            *((str(at), each.text) for at, each in enumerate(self.task.options)),
            (NONE, _("None of these meets it")),
        ]


class ChooseOne(Kind):
    """Several sizes and a limit that is not told, somewhere between them or beyond them."""

    slug = "choose-one"
    order = 7
    title = gettext_lazy("Which is the last that meets the rule?")
    summary = gettext_lazy("Several sizes, one rule: find the last one that still meets it.")
    template = "exercises/question.html"
    form_class = ChoosingForm
    seconds = 45
    exam_seconds = 20

    def covers(self, rulebook, difficulty):
        return tuple(r.key for r in rulebook.requirements if r.binds and r.measure.sizes_of)

    def generate(self, seed, rulebook, difficulty, focus=()):
        rng = self.rng(seed, rulebook, difficulty)
        key = focus[0] if focus else rng.choice(self.covers(rulebook, difficulty))
        requirement = rulebook.requirement(key)
        values = requirement.measure.scale.around(rng, requirement, difficulty, OPTIONS[difficulty])
        vessel = _vessel(rng, requirement)
        return ChoosingTask(
            seed=seed,
            rulebook=rulebook,
            difficulty=difficulty,
            requirement=requirement,
            vessel=vessel,
            options=tuple(OfferedSize(requirement, value, vessel, rulebook) for value in values),
        )

    def shown(self, task):
        about = task.requirement.measure.sizes_of
        if task.vessel is not None:
            about += _(", on a vessel of {feet_inches}").format(
                feet_inches=feet_inches(task.vessel)
            )
        return {"ask": _("{about}. Each size is from another rig.").format(about=about)}

    def any_answer(self, task):
        return {"option": "0"}

    def hand(self, task, mind, rng):
        """Go by the rule, or else by the limit that is guessed at."""
        places = [*map(str, range(len(task.options))), NONE]
        if mind.knows(task.requirement):
            slips = mind.slips_on(mind.slips.reading[task.difficulty], rng)
            return {"option": rng.choice(places) if slips else task.right}
        if not mind.directed:
            return {"option": rng.choice(places)}
        met = [
            at
            for at, each in enumerate(task.options)
            if not mind.past(each.value, task.requirement)
        ]
        return {"option": str(met[-1] if task.most else met[0]) if met else NONE}

    def truth(self, task, book):
        """The last size that meets the rule."""
        key = task.requirement.key
        return {key: task.right_under(book)} if book.has(key) else {}

    def grade(self, task, answer):
        said, asked = self.read(task, answer)["option"], task.right
        right = said == asked
        texts = {str(at): each.text for at, each in enumerate(task.options)} | {NONE: "none"}
        # What is told of is the size asked for, or else the one that comes nearest.
        nearest = asked if asked != NONE else str(0 if task.most else len(task.options) - 1)
        finding = task.options[int(nearest)].finding
        line = Line.of(
            finding, right=right, marks=int(right), out_of=1, yours=texts[said], places=()
        )
        return Marked(lines=(line,), passed=right, remarks=self._remarks(task, right, texts))

    def _remarks(self, task, right, texts):
        """Return which one it was, for whoever missed it."""
        if right:
            return ()
        which = "largest" if task.most else "smallest"
        if task.right == NONE:
            return (_("None of these meets the rule."),)
        return (
            _("The {which} that still meets the rule is “{texts}”.").format(
                which=which, texts=texts[task.right]
            ),
        )


def _vessel(rng, requirement):
    """Return the length in metres of a vessel that the rule binds; None if it binds them all."""
    if not requirement.by_vessel:
        return None
    off = rng.randint(1, 12) * FOOT
    if requirement.vessel_over is not None:
        return requirement.vessel_over + off
    return requirement.vessel_up_to - off
