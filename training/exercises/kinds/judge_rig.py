"""Judge a whole rig, as an officer would."""

from dataclasses import dataclass
from functools import cached_property
from itertools import zip_longest

from django import forms
from django.utils.translation import gettext as _

from rigs.drawing.plan import plan_view
from rigs.make.clearance import roomy_rig
from rigs.make.faults import Draw
from rigs.make.oddities import apart_from, oddity, with_oddities
from rigs.make.spots import measured, one_of, put_many, readings, seen
from rigs.plan.limits import star
from rigs.requirements.making import CannotMake
from rigs.rules.judge import FAIL, PASS, judge
from rigs.words.describe import describe
from rigs.words.gear import Rig
from rigs.words.say import gettext_lazy

from .base import EASIEST, AnswerForm, Kind, Line, Marked, Picture, Task
from .foretelling import Foretold, Part, Piece, any_ticked, both, tally, ticked, value
from .one_reading import SIDES

LEGAL, NOT_LEGAL = "legal", gettext_lazy("not legal")
SAID = {
    LEGAL: gettext_lazy("yes, it meets them all"),
    NOT_LEGAL: gettext_lazy("no, it breaks at least one"),
}

# Four rigs in ten are sound. The others have so many faults, each number as likely.
SOUND_SHARE = 0.4
FAULTS = {1: (1,), 2: (1, 1, 2), 3: (1, 1, 2, 3)}

# How many things on a rig draw the eye, faulty or sound: no count tells which they are.
SPOTS = {1: 2, 2: 4, 3: 6}

# Of the sound ones so many at most merely look odd; the others lie near their limits.
ODD = {1: 1, 2: 1, 3: 2}

# How often a fault is one that is merely seen, such as cookies on a wire.
SEEN_SHARE = {1: 0.3, 2: 0.2, 3: 0.1}

VERDICT_MARKS, PART_MARKS = 2, 2
SLIPPED = "slipped"  # the tally of parts that were called wrong
SLIPS = {1: 1, 2: 1, 3: 0}
"""How many parts may be called wrong in a pass, by difficulty; never the verdict."""


@dataclass(frozen=True, kw_only=True)
class JudgingTask(Task):
    """
    A whole rig, sound or with faults; nothing says which.

    ``about`` are the keys of the rules that it was made to break or to meet by little, and
    ``odd`` the names of the oddities on it.
    """

    rig: Rig
    about: tuple[str, ...]
    odd: tuple[str, ...]

    @cached_property
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
    """Whether it meets the rules, and which parts break one."""

    verdict = forms.ChoiceField(
        label=gettext_lazy("Does this rig meet the rules?"),
        choices=[
            (LEGAL, gettext_lazy("Yes, it meets them all")),
            (NOT_LEGAL, gettext_lazy("No, it breaks at least one")),
        ],
        widget=forms.RadioSelect,
        error_messages={"required": gettext_lazy("Choose yes or no.")},
    )
    failing = forms.MultipleChoiceField(
        label=gettext_lazy("Which parts break a rule?"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["failing"].choices = [(each.key, each.title) for each in self.task.requirements]


class JudgeRig(Kind):
    """A rig drawn and described; the trainee finds what is wrong, if anything."""

    slug = "judge-rig"
    order = 3
    title = gettext_lazy("Judge the rig")
    summary = gettext_lazy(
        "Look over a rig: does it meet the rules, and if not, which parts break one?"
    )
    template = "exercises/judge_rig.html"
    form_class = JudgingForm
    seconds = 120
    exam_seconds = 180

    def covers(self, rulebook, difficulty):
        return (*measured(rulebook), *seen(rulebook))

    def generate(self, seed, rulebook, difficulty, focus=()):
        """
        Return the task; a rule in ``focus`` is as likely broken on its rig as met by little.

        One followed by MET or BROKEN comes out so.
        """
        rng = self.rng(seed, rulebook, difficulty)
        while True:
            try:
                rig, about, odd = self._rig(rng, rulebook, difficulty, focus)
            except CannotMake:
                # Not every rig can be changed in every way: a short wing has no wide gap.
                continue
            return JudgingTask(
                seed=seed,
                rulebook=rulebook,
                difficulty=difficulty,
                rig=rig,
                about=about,
                odd=odd,
            )

    def _rig(self, rng, rulebook, difficulty, focus):
        """Return a rig, the rules that it is about, and the oddities on it."""
        rig = roomy_rig(rng, rulebook, difficulty=difficulty)
        sides = self._sides(rng, rulebook, difficulty, focus, rig)
        rig = put_many(rig, sides, Draw(rng, rulebook, difficulty))
        near = readings(rig, sides, rulebook)
        names = apart_from(rulebook, sides)
        wanted = rng.sample(names, min(SPOTS[difficulty] - len(sides), len(names)))
        rig, odd = with_oddities(
            rig, wanted, rng, rulebook, lambda made: readings(made, sides, rulebook) == near
        )
        if len(sides) + len(odd) < SPOTS[difficulty]:
            raise CannotMake
        return rig, tuple(sides), odd

    def _sides(self, rng, rulebook, difficulty, focus, rig):
        """Return the rules that the rig is to be about, each with whether it is broken."""
        faulty = 0 if rng.random() < SOUND_SHARE else rng.choice(FAULTS[difficulty])
        sides = _asked(rng, focus, faulty)
        chosen, first = list(sides), [key for key, broken in sides.items() if broken]
        near, looked_at = list(measured(rulebook, rig)), list(seen(rulebook, rig))
        for __ in range(faulty - len(first)):
            pool = looked_at if rng.random() < SEEN_SHARE[difficulty] else near
            key = _another(rng, pool, chosen)
            sides[key] = True
            chosen.append(key)
        odd = rng.randint(0, ODD[difficulty])
        while len(sides) < SPOTS[difficulty] - odd:
            key = _another(rng, near, chosen)
            sides[key] = False
            chosen.append(key)
        return sides

    def shown(self, task):
        return {
            "description": describe(task.rig),
            "pictures": [Picture(_("The net's mouth from above"), plan_view(task.rig))],
            "limits": self._limits(task) if task.difficulty == EASIEST else (),
        }

    def _limits(self, task):
        """Return (title, limit) of what a beginner is shown; of a mere yes the title says all."""
        return [
            (each.title, star(each, each.allowed_text))
            for each in task.requirements
            if each.limit not in (True, 0)
        ]

    def any_answer(self, task):
        return {"verdict": LEGAL, "failing": []}

    def hand(self, task, mind, rng):
        checked = [
            finding.key
            for finding in task.verdict.regulation
            if mind.part_breaks(task.rig, finding, task.difficulty, rng)
        ]
        return {"verdict": NOT_LEGAL if checked else LEGAL, "failing": checked}

    def truth(self, task, book):
        """Which rules the rig breaks."""
        return dict.fromkeys(judge(task.rig, book).failed_keys, True)

    def grade(self, task, answer):
        cleaned = self.read(task, answer)
        verdict = task.verdict
        ticked = set(cleaned["failing"])
        parts = [self._part_line(finding, finding.key in ticked) for finding in verdict.regulation]
        slips = sum(not line.right for line in parts)
        first = self._verdict_line(verdict, cleaned["verdict"])
        return Marked(
            lines=(first, self._parts_line(task, slips, len(parts)), *parts),
            passed=first.right and slips <= SLIPS[task.difficulty],
            draw=lambda: (
                Picture(_("Every fault that can be drawn"), plan_view(task.rig, verdict)),
            ),
            remarks=tuple(self._remarks(task, cleaned["verdict"], ticked)),
        )

    def foretold(self, task):
        """Tell of the whole rig, of each part, and of all parts by how many were called wrong."""
        keys = [finding.key for finding in task.verdict.regulation]
        failed = set(task.verdict.failed_keys)

        def graded(said, checked):
            return self.grade(task, {"verdict": said, "failing": sorted(checked)})

        whole, passes, told = {}, {}, {}
        for said in (LEGAL, str(NOT_LEGAL)):
            whole[said] = Piece(graded(said, ()).lines[:1])
            for count in range(len(keys) + 1):
                passed = graded(said, failed ^ set(keys[:count])).passed
                passes[f"{said}/{count}"] = Piece(passed=passed)
            for any_checked, checked in (("no", ()), ("yes", keys[:1])):
                told[f"{said}/{any_checked}"] = Piece(remarks=graded(said, checked).remarks)
        every = {
            str(count): Piece(graded(LEGAL, failed ^ set(keys[:count])).lines[1:2])
            for count in range(len(keys) + 1)
        }
        return Foretold(
            (
                Part(value("verdict"), whole),
                Part(tally(SLIPPED), every),
                *self._parts_told(graded(LEGAL, ()).lines[2:], graded(LEGAL, keys).lines[2:]),
                Part(both(value("verdict"), tally(SLIPPED)), passes),
                Part(both(value("verdict"), any_ticked("failing")), told),
            ),
            draw=lambda: graded(LEGAL, ()).pictures,
        )

    @staticmethod
    def _parts_told(let_pass, called_wrong):
        """Yield a Part a part of the rig, of its lines where none and where all are checked."""
        for lines in zip(let_pass, called_wrong, strict=True):
            yield Part(
                ticked("failing", lines[0].key),
                {
                    said: Piece((line,), counts=() if line.right else (SLIPPED,))
                    for said, line in zip(("no", "yes"), lines, strict=True)
                },
            )

    def _verdict_line(self, verdict, said):
        right = verdict.legal is (said == LEGAL)
        return Line(
            key="verdict",
            title=_("Does it meet the rules?"),
            outcome=PASS if verdict.legal else FAIL,
            right=right,
            marks=VERDICT_MARKS * right,
            out_of=VERDICT_MARKS,
            yours=SAID[said],
            measured_text=SAID[LEGAL if verdict.legal else NOT_LEGAL],
            clause=verdict.rulebook.citation,
            source=verdict.rulebook.citation,
        )

    def _parts_line(self, task, slips, count):
        """Return the line on all parts together, worth the same whatever is wrong with a rig."""
        forgiven = _(" but one at most") if SLIPS[task.difficulty] else ""
        return Line(
            key="parts",
            title=_("Every part right"),
            outcome=FAIL if slips else PASS,
            right=not slips,
            marks=max(0, PART_MARKS - slips),
            out_of=PART_MARKS,
            measured_text=_("{value} of {count} parts right").format(
                value=count - slips, count=count
            ),
            allowed_text=_("every part{forgiven}, and the right answer on the whole rig").format(
                forgiven=forgiven
            ),
        )

    def _part_line(self, finding, ticked):
        return Line.of(
            finding,
            right=finding.failed is ticked,
            marks=0,
            out_of=0,
            yours=_("breaks the rule") if ticked else _("meets the rule"),
        )

    def _remarks(self, task, said, ticked):
        """Yield a word where the answer contradicts itself, and on what is merely odd."""
        if ticked and said == LEGAL:
            yield (
                _(
                    "You checked a part that breaks a rule, but said that the rig meets the "
                    "rules. One broken rule is enough: then it does not."
                )
            )
        if not ticked and said == NOT_LEGAL:
            yield _("You said that the rig breaks a rule, but checked no part that does.")
        for name in task.odd:
            yield _("Unusual, but it breaks no rule. {words}").format(words=oddity(name).words)


def _asked(rng, focus, faulty):
    """Return whether each rule of ``focus`` is to be broken on a rig of so many faults."""
    sides = {}
    for key, after in zip_longest(focus, focus[1:]):
        if key in SIDES:
            continue
        # Broken half of the time in all: more often on a rig that is faulty, never on others.
        by_chance = bool(faulty) and rng.random() < 0.5 / (1 - SOUND_SHARE)
        sides[key] = SIDES.get(after, by_chance)
    return sides


def _another(rng, keys, taken):
    """Return one of ``keys`` that is not among ``taken``, nor another limit of the same reading."""
    barred = {key for pair in one_of() if set(pair) & set(taken) for key in pair} | set(taken)
    left = [key for key in keys if key not in barred]
    if not left:
        raise CannotMake
    return rng.choice(left)
