"""Several of several readings: which break their rules?"""

from dataclasses import dataclass

from django import forms

from .base import AnswerForm, Kind, Line, Marked, Task
from .readings import Reading, draw, told_alone

OPTIONS = {1: 4, 2: 5, 3: 6}


@dataclass(frozen=True, kw_only=True)
class SpottingTask(Task):
    """Readings of as many requirements; at least one is broken and one kept."""

    options: tuple[Reading, ...]


class SpottingForm(AnswerForm):
    """All that break their rule."""

    broken = forms.MultipleChoiceField(
        label="Which of these break a rule?",
        help_text="Check every one that does. There is at least one.",
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": "Check at least one."},
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["broken"].choices = [
            (each.requirement.key, each.full_text) for each in self.task.options
        ]


class ChooseSeveral(Kind):
    """Readings off a deck, some of which are near misses."""

    slug = "choose-several"
    title = "Which readings break a rule?"
    summary = "A list of readings: check every one that breaks its rule."
    template = "exercises/question.html"
    form_class = SpottingForm
    rulebooks = {
        1: ("no-sweep",),
        2: ("no-sweep", "chain-sweep"),
        3: ("no-sweep", "chain-sweep", "grate"),
    }

    def covers(self, rulebook, difficulty):
        return told_alone(rulebook)

    def generate(self, seed, rulebook, difficulty, focus=()):
        rng = self.rng(seed, rulebook, difficulty)
        keys = list(told_alone(rulebook))
        rng.shuffle(keys)
        keys.sort(key=lambda key: key not in focus)
        keys = keys[: OPTIONS[difficulty]]
        broken = rng.randint(1, len(keys) - 1)
        options = [
            draw(rng, rulebook, difficulty, key, index < broken) for index, key in enumerate(keys)
        ]
        rng.shuffle(options)
        return SpottingTask(
            seed=seed, rulebook=rulebook, difficulty=difficulty, options=tuple(options)
        )

    def shown(self, task):
        return {"ask": "Each of these was read off a different rig."}

    def any_answer(self, task):
        return {"broken": [task.options[0].requirement.key]}

    def grade(self, task, answer):
        ticked = set(self.read(task, answer)["broken"])
        lines = []
        for each in task.options:
            finding, said = each.finding, each.requirement.key in ticked
            right = finding.failed is said
            told = "breaks the rule" if said else "meets the rule"
            lines.append(Line.of(finding, right=right, marks=int(right), out_of=1, yours=told))
        return Marked(lines=tuple(lines), passed=all(line.right for line in lines))
