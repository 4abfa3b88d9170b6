"""Read the shine: how high did the net fly, and what is to be changed?"""

from dataclasses import dataclass, replace
from functools import cached_property
from math import inf

from django import forms
from django.utils.translation import gettext as _

from rigs import tuning
from rigs.drawing.dropper import close_up
from rigs.drawing.heights import heights_view
from rigs.make import sample
from rigs.physics import chain, tow
from rigs.physics.practice import FOOTROPE_HEIGHT
from rigs.physics.tow.bottoms import BOTTOMS
from rigs.requirements import layout
from rigs.rules.judge import FAIL, PASS
from rigs.tuning.log import PLACE_NAMES
from rigs.tuning.way import EVEN_UP, HOLD, LEAVE, LIFT, way
from rigs.tuning.window import EVEN, TOO_HIGH, TOO_LOW, status_of
from rigs.words.gear import Rig
from rigs.words.say import gettext_lazy
from rigs.words.sizes import chains
from rigs.words.units import INCH, KNOT, inches
from training.deck.fields import InchesField

from .base import EASIEST, AnswerForm, Kind, Line, Marked, Picture, Task
from .foretelling import (
    WRONG,
    Foretold,
    Part,
    Piece,
    around,
    difference,
    length,
    said,
    stretches,
    tally,
    typed,
    value,
    wrong,
)

CHANGES = {
    LIFT: gettext_lazy("Too low: add floats, or lengthen the headrope"),
    LEAVE: gettext_lazy("About right: leave it as it is"),
    HOLD: gettext_lazy("Too high: add droppers, or lengthen the footrope"),
    EVEN_UP: gettext_lazy("One side flies lower: measure both sides first"),
}

# Where shine is read, by difficulty.
_THREE = (gettext_lazy("port corner"), tuning.CENTRE, gettext_lazy("starboard corner"))
READ_AT = {1: _THREE, 2: _THREE, 3: tuning.PLACES}
WAYS = {1: (LIFT, LEAVE, HOLD), 2: (LIFT, LEAVE, HOLD, EVEN_UP), 3: (LIFT, LEAVE, HOLD, EVEN_UP)}

SPEEDS = tuple(knots * KNOT for knots in (2.0, 2.4, 2.8, 3.2))
HELD = 0.2 * KNOT  # how steadily the speed of a task was held
CARD_STEP = 4 * INCH  # of shine, from one row of the card to the next
DECIMALS = 2  # of a figure on the card
READING = INCH / 2  # nobody reads a worn end any finer
CLEAR = 2 * INCH  # how far length minus shine lies past anything that gets points
LOWEST = 3 * INCH  # a footrope lower than this as good as drags; no shine tells by how much
_LEVEL = 2.5 * INCH  # most that the sides of a level task differ by
# How far the likely height lies from the nearest end of the height to fish at, by level, and by
# how much the sides of an uneven net differ from its center: the nearer, the harder.
FROM_END = {1: (3 * INCH, inf), 2: (2 * INCH, 8 * INCH), 3: (1.5 * INCH, 4.5 * INCH)}
APART = {2: (3, 6), 3: (2, 3)}  # whole inches
SKILL = gettext_lazy("the height under tow")  # what a modelled person has to know
RULE_MARKS, HEIGHT_MARKS, CHANGE_MARKS = 1, 2, 2


@dataclass(frozen=True, kw_only=True)
class ShineTask(Task):
    """One tow of one net: droppers all alike, speed, bottom, and the shine at some places."""

    rig: Rig
    tow: tuning.Tow

    @property
    def dropper(self):
        """The dropper at the center, whose make all the others share."""
        return tuning.dropper_at(self.rig, tuning.CENTRE)

    @property
    def stock(self):
        """The chain.Stock of the droppers."""
        return chain.stock_for(self.dropper.diameter)

    @property
    def shine(self):
        """Metres of shine at the center."""
        return self.tow.shine[tuning.CENTRE]

    @cached_property
    def report(self):
        """The rule module's HeightReport for the dropper at the center."""
        return tow.height_report(
            chain.Choice(self.stock, self.dropper.count),
            self.dropper.length,
            self.tow.speed,
            self.shine,
            self.tow.known,
        )

    @cached_property
    def heights(self):
        """The rule module's heights along the footrope."""
        return tuning.heights(self.tow, self.rig)

    @cached_property
    def card(self):
        """The tow.Card of these droppers on this bottom, for any speed and shine of a task."""
        length = self.dropper.length
        shines = [row * CARD_STEP for row in range(int((length - INCH) / CARD_STEP + 1e-9) + 1)]
        return tow.card(self.stock, length, self.tow.bottom, SPEEDS, shines)

    @property
    def by_card(self):
        """
        The heights in metres that the card gives, as it is printed, by each next row.

        Two where the shine lies midway between two rows.
        """
        card, free = self.card, self.dropper.length - self.shine
        column = card.speeds.index(self.tow.speed)
        off = [abs(shine - self.shine) for shine, __ in card.rows]
        return [
            free * round(shares[column], DECIMALS)
            for (__, shares), far in zip(card.rows, off, strict=True)
            if far <= min(off) + 1e-9
        ]

    def is_right(self, height):
        """Whether ``height`` in metres lies within the spread of the model for this task."""
        model = self.report.model
        return model.low - READING - 1e-9 <= height <= model.high + READING + 1e-9


class ShineForm(AnswerForm):
    """Two heights, kept apart by how they are worked out, and what to do."""

    rule = InchesField(
        label=gettext_lazy("Length minus shine"),
        help_text=gettext_lazy("At the center, in inches, such as 24."),
        positive=False,
        error_messages={"required": gettext_lazy("Enter length minus shine, such as 24 in.")},
    )
    height = InchesField(
        label=gettext_lazy("Height under tow"),
        help_text=gettext_lazy("At the center, by the card, to the nearest inch."),
        positive=False,
        error_messages={"required": gettext_lazy("Enter the height under tow, such as 15 in.")},
    )
    change = forms.ChoiceField(
        label=gettext_lazy("What should be done?"),
        choices=list(CHANGES.items()),
        widget=forms.RadioSelect,
        error_messages={"required": gettext_lazy("Choose what should be done.")},
    )


class ReadShine(Kind):
    """Shine described and drawn; the trainee estimates the height and says what to change."""

    slug = "read-shine"
    order = 4
    title = gettext_lazy("Read the shine")
    summary = gettext_lazy("Tell from the droppers how high the net flew, and what to change.")
    template = "exercises/read_shine.html"
    form_class = ShineForm
    seconds = 150

    def suits(self, rulebook):
        # Shine is read where the footrope flies free.
        return not rulebook.has("sweep_stock")

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
        sold = [size for size in chains() if size <= most + READING / 100][-2:]
        count = 1 if difficulty == EASIEST else rng.choice((1, 1, 2))
        length = least + rng.randint(0, 12) * INCH
        hung = layout.droppers(net.footrope, rulebook, length, rng.choice(sold), count)
        return net.with_(droppers=hung)

    @classmethod
    def _towed(cls, rng, task, wanted):
        """Return ``task`` with a tow that asks for the way ``wanted``; None if this one fails."""
        length = task.dropper.length
        speed, bottom = rng.choice(SPEEDS), rng.choice(tuple(BOTTOMS.values()))
        center = rng.randint(1, max(1, round(length / INCH) - 3))
        apart = 0
        if wanted == EVEN_UP:
            apart = rng.randint(*APART[task.difficulty]) * rng.choice((-1, 1))
        slips = (0,) if task.difficulty == EASIEST or apart else (0, 0, 1, -1)
        shine = {}
        for place in READ_AT[task.difficulty]:
            side = {"port": -1, "starboard": 1}.get(place.split()[0], 0)
            slip = rng.choice(slips) if side else 0
            shine[place] = (center + side * apart + slip) * INCH
        if not all(INCH <= each < length for each in shine.values()):
            return None
        made = tuning.Tow(speed, shine, bottom=bottom, speed_spread=HELD)
        towed = replace(task, tow=made)
        return towed if cls._is_clear(towed, wanted) else None

    @staticmethod
    def _is_clear(task, wanted):
        """
        Whether the tow asks for ``wanted`` and nothing else, anywhere in its spread.

        And whether length minus shine lies so far past the spread that it cannot pass
        for the height under tow.
        """
        # No footrope flies higher than the chain that hangs free is long. That, and then the
        # likely height alone, rule most tows out at a fraction of the work.
        least = {LEAVE: FOOTROPE_HEIGHT.low, HOLD: FOOTROPE_HEIGHT.high}.get(wanted, LOWEST)
        if task.dropper.length - task.shine < least:
            return False
        likely = tow.hang(
            tow.line(task.stock),
            task.dropper.length,
            task.tow.speed,
            task.shine,
            task.tow.bottom.likely,
        ).height
        if likely < LOWEST or (wanted != EVEN_UP and not _all_ask(likely, likely, wanted)):
            return False
        window = FOOTROPE_HEIGHT
        off = min(abs(likely - end) for end in (window.low, window.high))
        nearest, furthest = FROM_END[task.difficulty]
        if wanted != EVEN_UP and not nearest <= off <= furthest:
            return False
        report = task.report
        model = report.model
        if report.rule.height - model.high < READING + CLEAR:
            return False
        if wanted != EVEN_UP and not _all_ask(model.low, model.high, wanted):
            return False
        heights = task.heights
        if way(heights, window) != wanted:
            return False
        # Whoever goes by the card, and rounds to the inch, is right.
        if not all(
            task.is_right(height + end) for height in task.by_card for end in (-READING, READING)
        ):
            return False
        if wanted == EVEN_UP:
            return True
        return abs(heights.difference) <= _LEVEL and _all_ask(heights.low, heights.high, wanted)

    def shown(self, task):
        hung, card = task.dropper, task.card
        return {
            "facts": [
                (
                    _("Droppers"),
                    _("{Choice} chain").format(Choice=chain.Choice(task.stock, hung.count)),
                ),
                (_("Length"), inches(hung.length)),
                (
                    _("Speed through the water"),
                    _("{knots}, held within {knots2}").format(
                        knots=_knots(task.tow.speed), knots2=_knots(HELD)
                    ),
                ),
                (_("Bottom"), task.tow.bottom.name),
            ],
            "shine": [(PLACE_NAMES[place], inches(s)) for place, s in task.tow.shine.items()],
            "window": FOOTROPE_HEIGHT,
            "window_ends": [inches(end) for end in (FOOTROPE_HEIGHT.low, FOOTROPE_HEIGHT.high)],
            "even": inches(EVEN),
            "card_speeds": [f"{speed / KNOT:.1f}" for speed in card.speeds],
            "card_rows": [
                (f"{shine / INCH:g}", [f"{share:.{DECIMALS}f}" for share in shares])
                for shine, shares in card.rows
            ],
            "pictures": [
                Picture(_("The dropper at the center"), close_up(hung, task.shine, reckoned=False))
            ],
        }

    def any_answer(self, task):
        return {"rule": "1 in", "height": "1 in", "change": LEAVE}

    def hand(self, task, mind, rng):
        """Take the rule of thumb for the height under tow, unless the person knows better."""
        report, knows = task.report, mind.knows(SKILL)
        height = report.model.height if knows else report.rule.height
        wanted = way(task.heights, FOOTROPE_HEIGHT)
        right = knows and not mind.slips_on(mind.slips.work[task.difficulty], rng)
        return {
            "rule": inches(report.rule.height),
            "height": inches(height, 1),
            "change": wanted if right else rng.choice(list(CHANGES)),
        }

    truth = None

    def grade(self, task, answer):
        cleaned = self.read(task, answer)
        lines = (
            self._rule_line(task, cleaned["rule"]),
            self._height_line(task, cleaned["height"]),
            self._change_line(task, cleaned["change"]),
        )
        return Marked(
            lines=lines,
            passed=all(line.right for line in lines),
            remarks=tuple(self._remarks(task, cleaned)),
            draw=lambda: self._pictures(task),
        )

    def foretold(self, task):
        """Tell of both heights by stretches, of the change by choice, and which height is lower."""
        likely = {
            "rule": typed(task.report.rule.height),
            "height": typed(task.report.model.height),
            "change": LEAVE,
        }

        def graded(**changed):
            return self.grade(task, likely | changed)

        parts = []
        for at, name in enumerate(("rule", "height")):

            def line(metres, at=at, name=name):
                return graded(**{name: typed(metres)}).lines[at]

            model = task.report.model
            points = around(task.report.rule.height, model.low, model.height, model.high)
            ends, inside = stretches(lambda metres, line=line: line(metres).right, points)
            pieces = {}
            for place, metres in enumerate(inside):
                told = said(line(metres), name)
                pieces[str(place)] = Piece((told,), counts=wrong(told))
            parts.append(Part(length(name, ends, "in"), pieces))
        changes = {}
        for change in map(str, CHANGES):
            told = graded(change=change).lines[2]
            changes[change] = Piece((told,), counts=wrong(told))
        parts.append(Part(value("change"), changes))
        passes = {str(count): Piece(passed=not count) for count in range(len(parts) + 1)}
        parts += [Part(tally(WRONG), passes), self._lower(task, graded)]
        return Foretold(tuple(parts), draw=lambda: graded().pictures)

    @staticmethod
    def _lower(task, graded):
        """Return the Part on whether the height under tow is lower than length minus shine."""
        rule = task.report.rule.height

        def remarks(off):
            return graded(rule=typed(rule), height=typed(rule + off)).remarks

        ends, inside = stretches(remarks, [-rule, -CLEAR, 0.0, CLEAR])
        pieces = {str(at): Piece(remarks=remarks(off)) for at, off in enumerate(inside)}
        return Part(difference("height", "rule", ends, "in"), pieces)

    @staticmethod
    def _rule_line(task, said):
        rule = task.report.rule
        right = abs(said - rule.height) <= READING + 1e-9
        return Line(
            key="shine_rule",
            title=rule.name,
            outcome=PASS if right else FAIL,
            right=right,
            marks=RULE_MARKS * right,
            out_of=RULE_MARKS,
            yours=inches(said, 4),
            measured_text=(
                _(
                    "{inches}: {inches2} of chain minus {inches3} of shine; {inches4} either way "
                    "is right"
                ).format(
                    inches=inches(rule.height, 4),
                    inches2=inches(task.dropper.length),
                    inches3=inches(task.shine),
                    inches4=inches(READING),
                )
            ),
            source=rule.basis,
        )

    @staticmethod
    def _height_line(task, said):
        model, bottom = task.report.model, task.tow.bottom
        right = task.is_right(said)
        return Line(
            key="shine_height",
            title=_("Height under tow"),
            outcome=PASS if right else FAIL,
            right=right,
            marks=HEIGHT_MARKS * right,
            out_of=HEIGHT_MARKS,
            yours=inches(said, 4),
            measured_text=(
                _(
                    "about {inches}. Anything from {inches2} to {inches3} gets full points. That "
                    "is its range for {knots} slower or faster, for slicker or rougher {name}, "
                    "and for none or all of the water's drag on the chain that lies on the "
                    "bottom. Length minus shine, {inches4}, is more than it can be"
                ).format(
                    inches=inches(model.height, 1),
                    inches2=inches(model.low - READING, 2),
                    inches3=inches(model.high + READING, 2),
                    knots=_knots(HELD),
                    name=bottom.name,
                    inches4=inches(task.report.rule.height, 4),
                )
            ),
            source=(
                _(
                    "From the chain's weight, the water's drag and friction on the bottom: the "
                    "lesson on shine says how"
                )
            ),
        )

    @staticmethod
    def _change_line(task, said):
        heights, window = task.heights, FOOTROPE_HEIGHT
        wanted = way(heights, window)
        found = _(
            "Worked out under tow, the net flew {inches} up on average. By custom it flies "
            "at {text}"
        ).format(inches=inches(heights.model, 1), text=window.text)
        if heights.low_side:
            apart = inches(abs(heights.rule_difference), 1)
            found = _("The shine differs by {apart}: the {low_side} side flies lower").format(
                apart=apart, low_side=heights.low_side
            )
        right = said == wanted
        return Line(
            key="shine_change",
            title=_("What to do"),
            outcome=PASS if right else FAIL,
            right=right,
            marks=CHANGE_MARKS * right,
            out_of=CHANGE_MARKS,
            yours=_within(CHANGES[said]),
            measured_text=f"{_within(CHANGES[wanted])}. {found}",
            source=_("height to fish at: {basis}").format(basis=window.basis),
        )

    @staticmethod
    def _remarks(task, cleaned):
        if cleaned["height"] >= cleaned["rule"] - READING:
            yield (
                _(
                    "Your height under tow is no lower than your length minus shine. A chain "
                    "that trails aft holds the footrope lower than that."
                )
            )

    @staticmethod
    def _pictures(task):
        return (
            Picture(_("The dropper at the center"), close_up(task.dropper, task.shine)),
            Picture(
                _("Height along the footrope, both ways"),
                heights_view(task.heights, FOOTROPE_HEIGHT),
            ),
        )


def _all_ask(low, high, wanted):
    """Return whether all heights from ``low`` to ``high``, misread a little, ask for ``wanted``."""
    asked = {TOO_LOW: LIFT, TOO_HIGH: HOLD}
    ends = (low - READING, high + READING)
    return {asked.get(status_of(end, FOOTROPE_HEIGHT), LEAVE) for end in ends} == {wanted}


def _knots(speed):
    return f"{speed / KNOT:.1f} kn"


def _within(text):
    return text[0].lower() + text[1:]
