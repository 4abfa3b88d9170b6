"""Where on the drawing is the fault, if there is one?"""

from dataclasses import dataclass

from django import forms
from django.utils.translation import gettext as _

from rigs.drawing.plan import plan_view, writes_all
from rigs.make.clearance import roomy_rig
from rigs.make.faults import Draw
from rigs.make.spots import Wanted, put
from rigs.requirements.making import CannotMake
from rigs.rules.judge import judge
from rigs.words.gear import PORT, SIDES, STARBOARD, Rig
from rigs.words.say import gettext_lazy

from .base import AnswerForm, Kind, Line, Marked, Picture, Task
from .one_reading import SIDES as ASKED

HEADROPE, CENTRE = gettext_lazy("the headrope"), gettext_lazy("the middle of the footrope")
NOTHING = gettext_lazy("nowhere: nothing is wrong on it")

# Each place with the rule that is broken there, and the side that it is on.
RULE_AT = {
    HEADROPE: ("float_spacing", None),
    CENTRE: ("dropper_at_centre", None),
    **{
        gettext_lazy("the {side} corner").format(side=side): ("dropper_at_corners", side)
        for side in SIDES
    },
    **{
        gettext_lazy("the {side} wing").format(side=side): ("dropper_spacing", side)
        for side in SIDES
    },
}
PLACES = (*RULE_AT, NOTHING)
KEYS = tuple(dict.fromkeys(key for key, __ in RULE_AT.values()))

# At so many other places something looks wrong and is not, by difficulty.
LOOKS_WRONG = {1: 1, 2: 2, 3: 3}


def place_of(finding):
    """Return which of PLACES the failed ``finding`` lies at; NOTHING for None."""
    if finding is None:
        return NOTHING
    spot = finding.spots[0]
    side = spot.partition(" ")[0] if isinstance(spot, str) else spot[0]
    side = side if side in (PORT, STARBOARD) else None
    # A gap between floats is told by two places on the headrope, which are on no side.
    return next(place for place, found in RULE_AT.items() if found == (finding.key, side))


@dataclass(frozen=True, kw_only=True)
class FaultTask(Task):
    """
    A rig with one fault that shows on the drawing, or with none.

    ``about`` is the key of the rule that the rig breaks, or meets by little.
    """

    rig: Rig
    about: str

    @property
    def verdict(self):
        """The rule module's Verdict on the rig."""
        return judge(self.rig, self.rulebook)

    @property
    def fault(self):
        """The Finding that fails, None if nothing does."""
        return next(iter(self.verdict.failed), None)

    @property
    def place(self):
        """Which of PLACES is right."""
        return place_of(self.fault)


class FaultForm(AnswerForm):
    """One place on the drawing, or none."""

    place = forms.ChoiceField(
        label=gettext_lazy("Where is the fault?"),
        choices=[(each, each.capitalize()) for each in PLACES],
        widget=forms.RadioSelect,
        error_messages={"required": gettext_lazy("Choose a place, or say that nothing is wrong.")},
    )


class FindFault(Kind):
    """A net drawn with one thing wrong, or nothing; the trainee finds where."""

    slug = "find-fault"
    order = 10
    title = gettext_lazy("Find the fault")
    summary = gettext_lazy("One thing at most is wrong on the drawing of a net: where?")
    template = "exercises/question.html"
    form_class = FaultForm
    seconds = 45

    def covers(self, rulebook, difficulty):
        return KEYS

    def generate(self, seed, rulebook, difficulty, focus=()):
        """
        Return the task, whose fault is as likely at each place as nowhere.

        A rule in ``focus`` is as likely broken as met by little with nothing wrong; one
        followed by MET or BROKEN comes out so.
        """
        rng = self.rng(seed, rulebook, difficulty)
        # Drawn once: places at which it takes more tries are no rarer for it.
        wrong, odd = self._places(rng, difficulty, focus)
        draw = Draw(rng, rulebook, difficulty)
        while True:
            rig = roomy_rig(rng, rulebook, difficulty=difficulty)
            try:
                # A rule that is broken at one place can be met by little at another only before.
                for place in (*odd, *wrong):
                    key, side = RULE_AT[place]
                    rig = put(rig, Wanted(key, place in wrong, side=side), draw)
            except CannotMake:
                continue
            if writes_all(rig):
                about = RULE_AT[(wrong or odd)[0]][0]
                return FaultTask(
                    seed=seed, rulebook=rulebook, difficulty=difficulty, rig=rig, about=about
                )

    def _places(self, rng, difficulty, focus):
        """Return the places where something is wrong, one or none, and where it only looks so."""
        places = list(RULE_AT)
        if focus:
            key, *sides = focus
            first = rng.choice([place for place in places if RULE_AT[place][0] == key])
            broken = ASKED[sides[0]] if sides else rng.random() < 0.5
        else:
            first = rng.choice(PLACES)
            broken = first != NOTHING
        others = rng.sample([place for place in places if place != first], LOOKS_WRONG[difficulty])
        if broken:
            return [first], others
        # On a sound net just as many places draw the eye.
        left = [place for place in places if place not in (first, *others)]
        return [], [first if focus else rng.choice(left), *others]

    def shown(self, task):
        return {
            "ask": (
                _(
                    "Is anything wrong on this drawing? One place breaks a rule, or none does. "
                    "Unusual is not the same as wrong."
                )
            ),
            "pictures": [Picture(_("The net's mouth from above"), plan_view(task.rig))],
        }

    def any_answer(self, task):
        return {"place": HEADROPE}

    def hand(self, task, mind, rng):
        """Find it by the rules; or by the look of the net, as far as what is wrong stands out."""
        findings = [task.verdict.finding(key) for key in KEYS]
        if not mind.directed and not any(mind.knows(each.requirement) for each in findings):
            return {"place": rng.choice(PLACES)}
        seen = [
            each.key for each in findings if mind.part_breaks(task.rig, each, task.difficulty, rng)
        ]
        if not seen:
            return {"place": NOTHING}
        key = rng.choice(seen)
        if task.fault is not None and task.fault.key == key:
            return {"place": task.place}
        return {"place": rng.choice([place for place in RULE_AT if RULE_AT[place][0] == key])}

    def truth(self, task, book):
        """Which rules the rig breaks."""
        return dict.fromkeys(judge(task.rig, book).failed_keys, True)

    def grade(self, task, answer):
        said = self.read(task, answer)["place"]
        right = said == task.place
        verdict = task.verdict
        first = Line.of(
            verdict.finding(task.about), right=right, marks=int(right), out_of=1, yours=said
        )
        return Marked(
            lines=(first, *self._other_lines(task, verdict, said)),
            passed=right,
            draw=lambda: (Picture(_("The fault marked"), plan_view(task.rig, verdict)),),
            remarks=tuple(self._remarks(task, right)),
        )

    def _other_lines(self, task, verdict, said):
        """Yield what is found of the other rules that the drawing shows; it earns nothing."""
        taken = RULE_AT.get(said, (None, None))[0]
        for key in KEYS:
            if key != task.about:
                yield Line.of(verdict.finding(key), right=key != taken, marks=0, out_of=0)

    def _remarks(self, task, right):
        if task.fault is None:
            yield _("Nothing is wrong on this net: every rule that its drawing shows is met.")
        elif not right:
            yield _("The fault is here: {place}.").format(place=task.place)
