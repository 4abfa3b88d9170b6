"""Read the shine: how high did the net fly, and what is to be changed?"""

from dataclasses import dataclass

from django import forms

from rigs import chain, layout, sample, tow, tuning
from rigs.drawing.dropper import close_up
from rigs.drawing.heights import heights_view
from rigs.fields import InchesField
from rigs.gear import Rig
from rigs.judge import FAIL, PASS
from rigs.practice import FOOTROPE_HEIGHT
from rigs.tow.report import ROUGH, SLIPPERY, SPEED_SPREAD
from rigs.tuning.way import EVEN_UP, HOLD, LEAVE, LIFT, low_side, way, ways_within_spread
from rigs.tuning.window import EVEN
from rigs.units import INCH, KNOT, inches

from .base import EASIEST, HARDEST, AnswerForm, Kind, Line, Marked, Picture, Task

CHANGES = {
    LIFT: "Too low: add floats, or lengthen the headrope",
    LEAVE: "About right: leave it as it is",
    HOLD: "Too high: add droppers, or lengthen the footrope",
    EVEN_UP: "One side flies lower: measure both sides and even them up first",
}

# Where shine is told, by difficulty.
READ_AT = {
    1: (tuning.CENTRE,),
    2: ("port corner", tuning.CENTRE, "starboard corner"),
    3: tuning.PLACES,
}
WAYS = {1: (LIFT, LEAVE, HOLD), 2: (LIFT, LEAVE, HOLD, EVEN_UP), 3: (LIFT, LEAVE, HOLD, EVEN_UP)}

READING = INCH / 2  # nobody reads a worn end any finer
CLEAR = INCH  # how far the height of a task keeps from the ends of the window
RULE_MARKS, HEIGHT_MARKS, CHANGE_MARKS = 1, 2, 2
PASS_SHARE = 0.8


@dataclass(frozen=True, kw_only=True)
class ShineTask(Task):
    """One tow of one net: droppers all alike, speed, and the shine at some places."""

    rig: Rig
    tow: tuning.Tow

    @property
    def dropper(self):
        """The dropper at the centre, whose make all the others share."""
        return tuning.dropper_at(self.rig, tuning.CENTRE)

    @property
    def shine(self):
        """Metres of shine at the centre."""
        return self.tow.shine[tuning.CENTRE]

    @property
    def report(self):
        """The rule module's HeightReport for the dropper at the centre."""
        hung = self.dropper
        stock = chain.stock_for(hung.diameter)
        return tow.height_report(stock, hung.count, hung.length, self.tow.speed, self.shine)

    @property
    def heights(self):
        """The rule module's heights along the footrope."""
        return tuning.heights(self.tow, self.rig)

    @property
    def reach(self):
        """How far below the footrope the dropper reaches at this speed, hanging free, metres."""
        hung = self.dropper
        line = tow.line(chain.stock_for(hung.diameter))
        return tow.hang(line, hung.length, self.tow.speed).height

    def marks_for(self, height):
        """
        Return the marks for ``height``, the trainee's estimate in metres.

        All of them within the spread of the model, half of them within half as far again.
        """
        model = self.report.model
        beyond = max(model.low - height, height - model.high) - READING
        if beyond <= 0:
            return HEIGHT_MARKS
        return HEIGHT_MARKS // 2 if beyond <= (model.high - model.low) / 2 else 0


class ShineForm(AnswerForm):
    """Two heights, kept apart by how they are come by, and what to do."""

    rule = InchesField(
        label="Height by the rule of thumb",
        help_text="Length less shine, at the centre. In inches, or write 2 ft 4 in.",
        positive=False,
        error_messages={"required": "Write the height by the rule of thumb."},
    )
    height = InchesField(
        label="Height under tow, your best estimate",
        help_text="At the centre, with the chain trailing aft.",
        positive=False,
        error_messages={"required": "Write your best estimate of the height."},
    )
    change = forms.ChoiceField(
        label="What should be done?",
        choices=list(CHANGES.items()),
        widget=forms.RadioSelect,
        error_messages={"required": "Choose what should be done."},
    )


class ReadShine(Kind):
    """Shine told and drawn; the trainee estimates the height and says what to change."""

    slug = "read-shine"
    title = "Read the shine"
    summary = "Tell from the droppers how high the net flew, and what to change."
    template = "exercises/read_shine.html"
    form_class = ShineForm
    rulebooks = {
        1: ("no-sweep",),
        2: ("no-sweep", "grate"),
        3: ("no-sweep", "grate"),
    }

    def generate(self, seed, rulebook, difficulty, focus=()):
        rng = self.rng(seed, rulebook, difficulty)
        wanted = rng.choice(WAYS[difficulty])
        net = sample.legal_rig(rng, rulebook, difficulty)
        while True:
            task = ShineTask(
                seed=seed,
                rulebook=rulebook,
                difficulty=difficulty,
                rig=self._hung(rng, net, rulebook, difficulty),
                tow=None,
            )
            task = self._towed(rng, task, wanted)
            if task is not None:
                return task

    @staticmethod
    def _hung(rng, net, rulebook, difficulty):
        """Return the rig ``net`` with droppers of another make the rules allow."""
        least = rulebook.requirement("dropper_length").limit
        most = rulebook.requirement("dropper_stock").limit
        sizes = [size for size in sample.chains() if size <= most + READING / 100][-2:]
        count = 1 if difficulty == EASIEST else rng.choice((1, 1, 2))
        length = least + rng.randint(0, 12) * INCH
        hung = layout.droppers(net.footrope, rulebook, length, rng.choice(sizes), count)
        return net.with_(droppers=hung)

    @classmethod
    def _towed(cls, rng, task, wanted):
        """Return ``task`` with a tow that asks for the way ``wanted``; None if this one fails."""
        length = task.dropper.length
        speed = rng.randint(20, 32) / 10 * KNOT
        centre = cls._shine(rng, length, wanted)
        apart = rng.randint(3, 6) * rng.choice((-1, 1)) if wanted == EVEN_UP else 0
        shine = {}
        for place in READ_AT[task.difficulty]:
            side = {"port": -1, "starboard": 1}.get(place.split()[0], 0)
            slip = 0 if place == tuning.CENTRE else rng.choice((0, 0, 1, -1)) * (not apart)
            shine[place] = (centre + side * apart + slip) * INCH
        if not all(INCH <= each < length for each in shine.values()):
            return None
        towed = ShineTask(
            seed=task.seed,
            rulebook=task.rulebook,
            difficulty=task.difficulty,
            rig=task.rig,
            tow=tuning.Tow(speed, shine),
        )
        return towed if cls._is_clear(towed, wanted) else None

    @staticmethod
    def _shine(rng, length, wanted):
        """Return whole inches of shine, such that ``wanted`` is not out of the question."""
        whole = round(length / INCH)
        low, high = (round(end / INCH) for end in (FOOTROPE_HEIGHT.low, FOOTROPE_HEIGHT.high))
        # A dropper that trails flies the rope lower than length less shine, never higher.
        first, last = {
            LIFT: (whole - high, whole - 3),
            HOLD: (1, max(1, whole - high - 2)),
        }.get(wanted, (3, whole - low - 1))
        return rng.randint(first, last)

    @staticmethod
    def _is_clear(task, wanted):
        """Whether the tow asks for ``wanted`` and for nothing else, read a little wrong even."""
        window = FOOTROPE_HEIGHT
        # The centre alone rules most tows out, at a fraction of the work.
        hung = task.dropper
        line = tow.line(chain.stock_for(hung.diameter))
        centre = tow.hang(line, hung.length, task.tow.speed, task.shine).height
        if centre > window.low + CLEAR if wanted == LIFT else centre < window.low - CLEAR:
            return False
        if centre < window.high - CLEAR if wanted == HOLD else centre > window.high + CLEAR:
            return False
        heights = task.heights
        difference = abs(heights.difference or 0.0)
        if EVEN * 2 / 3 < difference < EVEN * 3 / 2 or way(heights, window) != wanted:
            return False
        if min(abs(heights.model - end) for end in (window.low, window.high)) < CLEAR:
            return False
        return wanted != EVEN_UP or window.holds(heights.model)

    def shown(self, task):
        hung = task.dropper
        return {
            "facts": [
                ("Droppers", str(chain.Choice(chain.stock_for(hung.diameter), hung.count))),
                ("Length", inches(hung.length)),
                ("Speed", _knots(task.tow.speed)),
            ],
            "shine": [(place.capitalize(), inches(s)) for place, s in task.tow.shine.items()],
            "reach": inches(task.reach, 1) if task.difficulty < HARDEST else "",
            "window": FOOTROPE_HEIGHT,
            "speed_spread": _knots(SPEED_SPREAD),
            "pictures": [
                Picture("The dropper at the centre", close_up(hung, task.shine, reckoned=False))
            ],
        }

    def any_answer(self, task):
        return {"rule": "1 in", "height": "1 in", "change": LEAVE}

    def grade(self, task, answer):
        cleaned = self.read(task, answer)
        lines = (
            self._rule_line(task, cleaned["rule"]),
            self._height_line(task, cleaned["height"]),
            self._change_line(task, cleaned["change"]),
        )
        marks, out_of = (sum(getattr(each, name) for each in lines) for name in ("marks", "out_of"))
        return Marked(
            lines=lines,
            passed=marks >= PASS_SHARE * out_of,
            remarks=tuple(self._remarks(task, cleaned)),
            draw=lambda: self._pictures(task),
        )

    @staticmethod
    def _rule_line(task, said):
        rule = task.report.rule
        right = abs(said - rule.height) <= READING + 1e-9
        return Line(
            key="shine_rule",
            title="Height by the rule of thumb",
            outcome=PASS if right else FAIL,
            right=right,
            marks=RULE_MARKS * right,
            out_of=RULE_MARKS,
            yours=inches(said, 2),
            measured_text=(
                f"{inches(rule.height, 2)}: {inches(task.dropper.length)} of chain less "
                f"{inches(task.shine)} of shine; {inches(READING)} either way is right"
            ),
            source=rule.basis,
        )

    @staticmethod
    def _height_line(task, said):
        model = task.report.model
        marks = task.marks_for(said)
        right = marks == HEIGHT_MARKS
        return Line(
            key="shine_height",
            title="Height under tow",
            outcome=PASS if right else FAIL,
            right=right,
            marks=marks,
            out_of=HEIGHT_MARKS,
            yours=inches(said, 2),
            measured_text=(
                f"about {inches(model.height, 1)} by the chain in the current, and anything from "
                f"{inches(model.low, 1)} to {inches(model.high, 1)} is right: that is its spread "
                f"for {_knots(SPEED_SPREAD)} slower or faster and for friction on the bottom "
                f"from {SLIPPERY} to {ROUGH}. The rule of thumb says "
                f"{inches(task.report.rule.height, 2)}, which is the most it can be"
            ),
            source=model.basis,
        )

    @staticmethod
    def _change_line(task, said):
        heights, window = task.heights, FOOTROPE_HEIGHT
        wanted = way(heights, window)
        marks = 0
        if said == wanted:
            marks = CHANGE_MARKS
        elif said in ways_within_spread(heights, window):
            marks = CHANGE_MARKS // 2
        found = f"on average {inches(heights.model, 1)} up by the chain in the current"
        side = low_side(heights)
        if side:
            found = f"{inches(abs(heights.difference), 1)} lower on the {side} side"
        return Line(
            key="shine_change",
            title="What to do",
            outcome=PASS if said == wanted else FAIL,
            right=said == wanted,
            marks=marks,
            out_of=CHANGE_MARKS,
            yours=_within(CHANGES[said]),
            measured_text=(
                f"{found}; the trade fishes at {window.text}. So: {_within(CHANGES[wanted])}"
            ),
            source=f"height to fish at: {window.basis}",
        )

    @staticmethod
    def _remarks(task, cleaned):
        if cleaned["height"] > cleaned["rule"] + READING:
            yield (
                "Your estimate under tow is higher than your rule of thumb. A chain that trails "
                "aft can only hold the footrope lower."
            )

    @staticmethod
    def _pictures(task):
        return (
            Picture("The dropper at the centre", close_up(task.dropper, task.shine)),
            Picture(
                "Height along the footrope, by both ways",
                heights_view(task.heights, FOOTROPE_HEIGHT),
            ),
        )


def _knots(speed):
    return f"{speed / KNOT:.1f} kn"


def _within(text):
    return text[0].lower() + text[1:]
