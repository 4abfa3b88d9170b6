"""One of several readings: which keeps, or which breaks, the rule?"""

from dataclasses import dataclass

from django import forms

from rigs.rulebook import Requirement

from .base import AnswerForm, Kind, Line, Marked, Task
from .readings import Reading, draw, measured

OPTIONS = {1: 3, 2: 4, 3: 5}
FEWEST = 3
DRAWS = 12  # readings of each sort to choose the options from


@dataclass(frozen=True, kw_only=True)
class ChoosingTask(Task):
    """Readings of one requirement; ``breaking`` says which sort is asked for."""

    requirement: Requirement
    breaking: bool
    options: tuple[Reading, ...]


class ChoosingForm(AnswerForm):
    """One option."""

    option = forms.ChoiceField(widget=forms.RadioSelect, error_messages={"required": "Choose one."})

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        does = "breaks" if self.task.breaking else "meets"
        self.fields["option"].label = f"Which of these {does} the rule?"
        self.fields["option"].choices = [
            (str(index), each.text) for index, each in enumerate(self.task.options)
        ]


class ChooseOne(Kind):
    """Readings off several rigs, one of which is the odd one."""

    slug = "choose-one"
    title = "Which one breaks the rule?"
    summary = "Several rigs, one rule: find the one that breaks it, or the one that meets it."
    template = "exercises/question.html"
    form_class = ChoosingForm
    rulebooks = {
        1: ("no-sweep",),
        2: ("no-sweep", "chain-sweep"),
        3: ("no-sweep", "chain-sweep", "grate"),
    }

    def covers(self, rulebook, difficulty):
        return measured(rulebook)

    def generate(self, seed, rulebook, difficulty, focus=()):
        rng = self.rng(seed, rulebook, difficulty)
        key = focus[0] if focus else rng.choice(measured(rulebook))
        while True:
            breaking = rng.random() < 0.5
            odd = draw(rng, rulebook, difficulty, key, breaking)
            others = {}
            for _ in range(DRAWS):
                each = draw(rng, rulebook, difficulty, key, not breaking)
                others.setdefault(each.text, each)
            options = [odd, *list(others.values())[: OPTIONS[difficulty] - 1]]
            # Where there is but one size that breaks or keeps a rule, it is the odd one.
            if len(options) >= FEWEST:
                break
        rng.shuffle(options)
        return ChoosingTask(
            seed=seed,
            rulebook=rulebook,
            difficulty=difficulty,
            requirement=rulebook.requirement(key),
            breaking=breaking,
            options=tuple(options),
        )

    def shown(self, task):
        odd = "breaks the rule" if task.breaking else "meets the rule"
        title, count = task.requirement.title, len(task.options)
        return {"ask": f"{title}, as measured on {count} rigs. Only one {odd}."}

    def any_answer(self, task):
        return {"option": "0"}

    def grade(self, task, answer):
        chosen = task.options[int(self.read(task, answer)["option"])]
        finding = chosen.finding
        right = finding.failed is task.breaking
        line = Line.of(finding, right=right, marks=int(right), out_of=1, yours=chosen.text)
        return Marked(lines=(line,), passed=right, remarks=tuple(self._remarks(task, right)))

    def _remarks(self, task, right):
        """Yield which one it was, for whoever missed it."""
        if not right:
            odd = next(each for each in task.options if each.finding.failed is task.breaking)
            does = "breaks" if task.breaking else "meets"
            yield f"The one that {does} the rule is “{odd.text}”."
