"""Judge a whole rig, as an officer would."""

from dataclasses import dataclass, replace

from django import forms

from rigs import faults, sample
from rigs.describe import describe
from rigs.drawing.plan import plan_view
from rigs.gear import Rig
from rigs.judge import FAIL, PASS, judge
from rigs.plan.limits import star

from .base import EASIEST, AnswerForm, Kind, Line, Marked, Picture, Task

LEGAL, NOT_LEGAL = "legal", "not legal"
SAID = {LEGAL: "yes, it meets them all", NOT_LEGAL: "no, it breaks at least one"}

# How many faults a rig may have, each as likely, by difficulty.
FAULTS = {1: (0, 1, 1), 2: (0, 1, 1, 2), 3: (0, 1, 2, 3)}

VERDICT_MARKS = 2
FAULT_MARKS = 2
SOUND_PART_COSTS = 1
PASS_SHARE = 0.8


@dataclass(frozen=True, kw_only=True)
class JudgingTask(Task):
    """A whole rig, sound or with faults; nothing says which."""

    rig: Rig

    @property
    def verdict(self):
        """The rule module's Verdict on the rig."""
        return judge(self.rig, self.rulebook)

    @property
    def requirements(self):
        """The requirements that bind this rig, in the rule set's order."""
        return tuple(
            each
            for each in self.rulebook.requirements
            if not (each.of_trip or each.by_custom) and each.applies_to(self.rig, None)
        )


class JudgingForm(AnswerForm):
    """Legal or not, and which parts fail."""

    verdict = forms.ChoiceField(
        label="Does this rig meet the rules?",
        choices=[(LEGAL, "Yes, it meets them all"), (NOT_LEGAL, "No, it breaks at least one")],
        widget=forms.RadioSelect,
        error_messages={"required": "Choose yes or no."},
    )
    failing = forms.MultipleChoiceField(
        label="Which parts break a rule?",
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["failing"].choices = [
            (each.key, self._label(each)) for each in self.task.requirements
        ]

    def _label(self, requirement):
        """Return the part's name; for beginners with what the rule allows, marked as need be."""
        label = requirement.title
        # Where the limit is a mere yes or nought, the title says it all.
        if self.task.difficulty == EASIEST and requirement.limit not in (True, 0):
            label += f" ({star(requirement, requirement.allowed_text)})"
        return label


class JudgeRig(Kind):
    """A rig drawn and described; the trainee finds what is wrong, if anything."""

    slug = "judge-rig"
    title = "Judge the rig"
    summary = "Look over a rig: does it meet the rules, and if not, which parts break one?"
    template = "exercises/judge_rig.html"
    form_class = JudgingForm
    rulebooks = {
        1: ("no-sweep",),
        2: ("no-sweep", "chain-sweep"),
        3: ("no-sweep", "chain-sweep", "grate"),
    }

    def covers(self, rulebook, difficulty):
        return faults.spoilable(rulebook)

    def generate(self, seed, rulebook, difficulty, focus=()):
        rng = self.rng(seed, rulebook, difficulty)
        rig = self._rig(rng, rulebook, difficulty, focus)
        # Not every rig can be spoilt in every way: one without wing droppers cannot
        # lose one. Another is drawn then.
        while focus and not judge(rig, rulebook).failed_keys.issuperset(focus):
            rig = self._rig(rng, rulebook, difficulty, focus)
        return JudgingTask(seed=seed, rulebook=rulebook, difficulty=difficulty, rig=rig)

    def _rig(self, rng, rulebook, difficulty, focus):
        """Return a rig with as many faults as the difficulty has, those of ``focus`` first."""
        rig = sample.legal_rig(rng, rulebook, difficulty)
        left = max(rng.choice(FAULTS[difficulty]), len(focus))
        keys = list(faults.spoilable(rulebook, rig))
        rng.shuffle(keys)
        keys.sort(key=lambda key: key not in focus)
        for key in keys:
            if not left:
                break
            try:
                rig = faults.spoil(rig, key, rng, rulebook, difficulty)
            except faults.CannotSpoil:
                continue
            left -= 1
        return rig

    def shown(self, task):
        return {
            "description": describe(task.rig),
            "pictures": [Picture("The net's mouth from above", plan_view(task.rig))],
        }

    def any_answer(self, task):
        return {"verdict": LEGAL, "failing": []}

    def grade(self, task, answer):
        cleaned = self.read(task, answer)
        verdict = task.verdict
        ticked = set(cleaned["failing"])
        lines = (
            self._verdict_line(verdict, cleaned["verdict"]),
            *(self._part_line(finding, finding.key in ticked) for finding in verdict.regulation),
        )
        marked = Marked(
            lines=lines,
            passed=False,
            draw=lambda: (Picture("Every fault that can be drawn", plan_view(task.rig, verdict)),),
            remarks=tuple(self._remarks(cleaned["verdict"], ticked)),
        )
        passed = lines[0].right and marked.marks >= PASS_SHARE * marked.out_of
        return replace(marked, passed=passed)

    def _verdict_line(self, verdict, said):
        right = verdict.legal is (said == LEGAL)
        return Line(
            key="verdict",
            title="Does it meet the rules?",
            outcome=PASS if verdict.legal else FAIL,
            right=right,
            marks=VERDICT_MARKS * right,
            out_of=VERDICT_MARKS,
            yours=SAID[said],
            measured_text=SAID[LEGAL if verdict.legal else NOT_LEGAL],
            clause=verdict.rulebook.citation,
            source=verdict.rulebook.citation,
        )

    def _part_line(self, finding, ticked):
        right = finding.failed is ticked
        if finding.failed:
            marks, out_of = FAULT_MARKS * right, FAULT_MARKS
        else:
            marks, out_of = -SOUND_PART_COSTS * ticked, 0
        return Line.of(
            finding,
            right=right,
            marks=marks,
            out_of=out_of,
            yours="breaks the rule" if ticked else "meets the rule",
        )

    def _remarks(self, said, ticked):
        """Yield a word where the answer contradicts itself."""
        if ticked and said == LEGAL:
            yield (
                "You checked a part that breaks a rule, but said that the rig meets the rules. "
                "One broken rule is enough: then it does not."
            )
        if not ticked and said == NOT_LEGAL:
            yield "You said that the rig breaks a rule, but checked no part that does."
