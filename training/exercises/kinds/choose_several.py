"""Several readings, each of another rule: which break theirs?"""

from collections import defaultdict
from dataclasses import dataclass

from django import forms
from django.utils.translation import gettext as _

from rigs.make import near
from rigs.rules.judge import judge
from rigs.rules.rulebook import Requirement
from rigs.words.gear import Rig
from rigs.words.say import gettext_lazy

from .base import AnswerForm, Kind, Line, Marked, Task
from .foretelling import WRONG, Foretold, Part, Piece, tally, ticked, wrong

OPTIONS = {1: 4, 2: 5, 3: 6}
NONE = "none"


@dataclass(frozen=True)
class Reading:
    """What was noted off one rig, as ``lines`` of text, to be judged by one requirement."""

    requirement: Requirement
    rig: Rig
    lines: tuple[str, ...]
    rulebook: object

    @property
    def finding(self):
        """The rule module's Finding on it."""
        return judge(self.rig, self.rulebook).finding(self.requirement.key)

    @property
    def text(self):
        """What was noted, and of what."""
        return f"{near.about(self.requirement)}. {' '.join(self.lines)}"


@dataclass(frozen=True, kw_only=True)
class SpottingTask(Task):
    """Readings of as many requirements, of which none, some or all are broken."""

    options: tuple[Reading, ...]

    @property
    def right(self):
        """The keys of what is broken as a list, or NONE alone."""
        return [each.requirement.key for each in self.options if each.finding.failed] or [NONE]


class SpottingForm(AnswerForm):
    """All that break their rule, or none."""

    broken = forms.MultipleChoiceField(
        label=gettext_lazy("Which of these break a rule?"),
        help_text=gettext_lazy("Check every one that does. It can be none of them."),
        widget=forms.CheckboxSelectMultiple,
        error_messages={
            "required": gettext_lazy("Check each that breaks a rule, or “None of these”.")
        },
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["broken"].choices = [
            *((each.requirement.key, each.text) for each in self.task.options),
            (NONE, _("None of these")),
        ]

    def clean_broken(self):
        said = self.cleaned_data["broken"]
        if NONE in said and len(said) > 1:
            raise forms.ValidationError(
                _("You checked readings and “None of these” too. Leave one or the other.")
            )
        return said


class ChooseSeveral(Kind):
    """Readings off several rigs, each as likely to break its rule as to meet it."""

    slug = "choose-several"
    order = 8
    title = gettext_lazy("Which readings break a rule?")
    summary = gettext_lazy("A list of readings: check every one that breaks its rule.")
    template = "exercises/question.html"
    form_class = SpottingForm
    seconds = 60

    def covers(self, rulebook, difficulty):
        return near.keys(rulebook)

    def generate(self, seed, rulebook, difficulty, focus=()):
        rng = self.rng(seed, rulebook, difficulty)
        keys = list(near.keys(rulebook))
        rng.shuffle(keys)
        keys.sort(key=lambda key: key not in focus)
        # Two about the same thing would have to be told apart by their rules' names.
        by_about = {}
        for key in keys:
            by_about.setdefault(near.about(rulebook.requirement(key)), key)
        options = [
            self._reading(rng, rulebook, key, difficulty)
            for key in list(by_about.values())[: OPTIONS[difficulty]]
        ]
        rng.shuffle(options)
        return SpottingTask(
            seed=seed, rulebook=rulebook, difficulty=difficulty, options=tuple(options)
        )

    def _reading(self, rng, rulebook, key, difficulty):
        made = near.draw(rng, rulebook, key, rng.random() < 0.5, difficulty)
        return Reading(rulebook.requirement(key), made.rig, made.lines, rulebook)

    def shown(self, task):
        return {
            "ask": _("Each was noted off a different rig. All else on that rig meets the rules.")
        }

    def any_answer(self, task):
        return {"broken": [task.options[0].requirement.key]}

    def hand(self, task, mind, rng):
        said = [
            each.requirement.key
            for each in task.options
            if mind.reading_breaks(each.finding, task.difficulty, rng)
        ]
        return {"broken": said or [NONE]}

    def truth(self, task, book):
        """Which of the readings break their rules."""
        found = defaultdict(list)
        for each in task.options:
            failed = judge(each.rig, book).failed_keys
            found[each.requirement.key].append(each.requirement.key in failed)
        return found

    def grade(self, task, answer):
        checked = set(self.read(task, answer)["broken"])
        lines = []
        for each in task.options:
            finding, said = each.finding, each.requirement.key in checked
            right = finding.failed is said
            told = _("breaks a rule") if said else _("meets the rules")
            lines.append(Line.of(finding, right=right, marks=int(right), out_of=1, yours=told))
        return Marked(lines=tuple(lines), passed=all(line.right for line in lines))

    def foretold(self, task):
        """Tell of each reading, checked or not; it is a pass by how many are wrong."""
        keys = [each.requirement.key for each in task.options]
        graded = {
            "no": self.grade(task, {"broken": [NONE]}).lines,
            "yes": self.grade(task, {"broken": keys}).lines,
        }
        parts = [
            Part(
                ticked("broken", key, alone=NONE),
                {
                    said: Piece((lines[at],), counts=wrong(lines[at]))
                    for said, lines in graded.items()
                },
            )
            for at, key in enumerate(keys)
        ]
        passes = {}
        for count in range(len(keys) + 1):
            answer = set(keys[:count]) ^ {key for key in task.right if key != NONE}
            passed = self.grade(task, {"broken": sorted(answer) or [NONE]}).passed
            passes[str(count)] = Piece(passed=passed)
        return Foretold((*parts, Part(tally(WRONG), passes)))
