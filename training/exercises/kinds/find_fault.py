"""Where on the drawing is the fault?"""

from dataclasses import dataclass

from django import forms

from rigs import faults, sample
from rigs.drawing.plan import plan_view
from rigs.gear import SIDES, Rig
from rigs.judge import judge

from .base import AnswerForm, Kind, Line, Marked, Picture, Task

# The faults that show on the drawing.
KEYS = ("float_spacing", "dropper_at_centre", "dropper_at_corners", "dropper_spacing")
HEADROPE, CENTRE = "the headrope", "the middle of the footrope"
PLACES = (
    HEADROPE,
    CENTRE,
    *(f"the {side} corner" for side in SIDES),
    *(f"the {side} wing" for side in SIDES),
)


def place_of(finding):
    """Return which of PLACES the failed ``finding`` lies at."""
    spot = finding.spots[0]
    if finding.key == "float_spacing":
        return HEADROPE
    if finding.key == "dropper_at_centre":
        return CENTRE
    return f"the {spot}" if finding.key == "dropper_at_corners" else f"the {spot[0]} wing"


@dataclass(frozen=True, kw_only=True)
class FaultTask(Task):
    """A rig with one fault that shows on the drawing."""

    rig: Rig

    @property
    def verdict(self):
        """The rule module's Verdict on the rig."""
        return judge(self.rig, self.rulebook)

    @property
    def fault(self):
        """The Finding that fails."""
        return self.verdict.failed[0]


class FaultForm(AnswerForm):
    """One place on the drawing."""

    place = forms.ChoiceField(
        label="Where is the fault?",
        choices=[(each, each.capitalize()) for each in PLACES],
        widget=forms.RadioSelect,
        error_messages={"required": "Choose a place."},
    )


class FindFault(Kind):
    """A net drawn with one thing wrong; the trainee finds where."""

    slug = "find-fault"
    title = "Find the fault"
    summary = "One thing is wrong on the drawing of a net: where?"
    template = "exercises/question.html"
    form_class = FaultForm
    rulebooks = {
        1: ("no-sweep",),
        2: ("no-sweep", "chain-sweep"),
        3: ("no-sweep", "chain-sweep", "grate"),
    }

    def covers(self, rulebook, difficulty):
        return KEYS

    def generate(self, seed, rulebook, difficulty, focus=()):
        rng = self.rng(seed, rulebook, difficulty)
        key = focus[0] if focus else rng.choice(KEYS)
        while True:
            rig = sample.legal_rig(rng, rulebook, difficulty)
            try:
                rig = faults.spoil(rig, key, rng, rulebook, difficulty)
            except faults.CannotSpoil:
                continue
            return FaultTask(seed=seed, rulebook=rulebook, difficulty=difficulty, rig=rig)

    def shown(self, task):
        return {
            "ask": "This net has one fault, and it shows on the drawing.",
            "pictures": [Picture("The net's mouth from above", plan_view(task.rig))],
        }

    def any_answer(self, task):
        return {"place": HEADROPE}

    def grade(self, task, answer):
        said = self.read(task, answer)["place"]
        right = said == place_of(task.fault)
        line = Line.of(task.fault, right=right, marks=int(right), out_of=1, yours=said)
        return Marked(
            lines=(line,),
            passed=right,
            draw=lambda: (Picture("The fault marked", plan_view(task.rig, task.verdict)),),
        )
