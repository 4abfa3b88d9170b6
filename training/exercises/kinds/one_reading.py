"""One reading off one rig, with its limit hidden: is the rule met or broken?"""

from dataclasses import dataclass

from django import forms
from django.utils.translation import gettext as _

from rigs.make import near
from rigs.rules.judge import judge
from rigs.rules.rulebook import Requirement
from rigs.words.gear import Rig
from rigs.words.say import gettext_lazy

from .base import AnswerForm, Kind, Line, Marked, Task

MET, BROKEN = "met", "broken"
SIDES = {MET: False, BROKEN: True}


@dataclass(frozen=True, kw_only=True)
class ReadingTask(Task):
    """What was noted of one rig, ``lines`` of text, to be judged by one requirement."""

    requirement: Requirement
    rig: Rig
    lines: tuple[str, ...]

    @property
    def reading(self):
        """What was noted, as one text."""
        return " ".join(self.lines)

    @property
    def finding(self):
        """The rule module's Finding on it."""
        return judge(self.rig, self.rulebook).finding(self.requirement.key)

    @property
    def broken(self):
        """Whether the rule is broken: the rule module says so."""
        return self.finding.failed

    @property
    def right(self):
        """The side that is right, MET or BROKEN."""
        return BROKEN if self.broken else MET


class ReadingForm(AnswerForm):
    """The rule is met, or it is broken."""

    said = forms.ChoiceField(
        label=gettext_lazy("Are the rules met here, or is one broken?"),
        choices=[(MET, gettext_lazy("Met")), (BROKEN, gettext_lazy("Broken"))],
        widget=forms.RadioSelect,
        error_messages={"required": gettext_lazy("Choose one: met or broken.")},
    )


class OneReading(Kind):
    """
    A short question: one rule, one reading, no limit in sight.

    The first of ``focus`` names the rule. A second, MET or BROKEN, asks for that side; without
    it a fair coin from the seed decides.
    """

    slug = "one-reading"
    order = 12
    title = gettext_lazy("Met or broken?")
    summary = gettext_lazy("One reading off a rig: say if it meets the rule or breaks it.")
    template = "exercises/one_reading.html"
    form_class = ReadingForm
    seconds = 30
    exam_seconds = 15

    def covers(self, rulebook, difficulty):
        return near.keys(rulebook)

    def is_met_in(self, lesson):
        # Each of its rules is asked by readings.
        return bool(lesson.rules) or super().is_met_in(lesson)

    def generate(self, seed, rulebook, difficulty, focus=()):
        rng = self.rng(seed, rulebook, difficulty)
        key, side = rng.choice(near.keys(rulebook)), rng.choice((MET, BROKEN))
        if focus:
            key, *sides = focus
            side = sides[0] if sides else side
        made = near.draw(rng, rulebook, key, SIDES[side], difficulty)
        return ReadingTask(
            seed=seed,
            rulebook=rulebook,
            difficulty=difficulty,
            requirement=rulebook.requirement(key),
            rig=made.rig,
            lines=made.lines,
        )

    def shown(self, task):
        return {"about": near.about(task.requirement)}

    def any_answer(self, task):
        return {"said": MET}

    def hand(self, task, mind, rng):
        return {"said": BROKEN if mind.reading_breaks(task.finding, task.difficulty, rng) else MET}

    def truth(self, task, book):
        """Whether the reading breaks its rule."""
        key = task.requirement.key
        return {key: key in judge(task.rig, book).failed_keys}

    def grade(self, task, answer):
        said = self.read(task, answer)["said"]
        finding = task.finding
        right = finding.failed is SIDES[said]
        line = Line.of(finding, right=right, marks=int(right), out_of=1, yours=said)
        return Marked(
            lines=(line,),
            passed=right,
            remarks=(_("What was read: {reading}").format(reading=task.reading),),
        )
