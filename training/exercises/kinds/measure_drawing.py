"""Find faults by measuring drawings that are true to scale."""

from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

from django.utils.translation import gettext as _

from rigs.drawing.sheets import SHEETS, room
from rigs.make.clearance import roomy_rig, stands_clear
from rigs.make.faults import Draw
from rigs.make.oddities import oddity, seeming, with_oddities
from rigs.make.spots import one_of, put_many, readings
from rigs.requirements.making import CannotMake
from rigs.rules.judge import FAIL, NOT_MEASURED, PASS, judge
from rigs.rules.rulebook import ROUNDING
from rigs.words.gear import Rig
from rigs.words.say import gettext_lazy
from rigs.words.units import FOOT, feet_inches

from ..typed_measurements import read_measurements
from .base import HARDEST, Kind, Line, Marked, Picture, Task
from .foretelling import (
    OTHERWISE,
    WRONG,
    Foretold,
    Part,
    Piece,
    both,
    length,
    said,
    stretches,
    tally,
    typed,
    value,
)
from .measure_form import OUTSIDE, UNTOLD, WITHIN, WORDS, MeasuringForm
from .one_reading import SIDES

TRUTH = {PASS: WITHIN, FAIL: OUTSIDE, NOT_MEASURED: UNTOLD}

# By difficulty: what may be drawn, how many sheets beside the ropes are, how many
# oddities there may be, and how many rules are asked that cannot be told.
SHEETS_OF = {1: ("droppers", "floats"), 2: ("droppers", "floats", "chain", "legs")}
SHEETS_OF[HARDEST] = tuple(name for name in SHEETS if name != "ropes")
MORE_SHEETS = {1: 1, 2: 2, 3: 3}
ODDITIES = {1: (0, 1), 2: (1, 2), 3: (2, 3)}
NOT_DRAWN = {1: (0, 1), 2: (0, 1), 3: (1, 2)}

# Beginners are not asked these of the ropes.
LATER = ("footrope_longer", "footrope_excess")

# Where a rule is asked that nothing drawn can tell: one would look for it there.
ASKED_AT = {
    "float_diameter": "ropes",
    "dropper_length": "ropes",
    "dropper_stock": "droppers",
    "top_leg_wire": "legs",
    "bottom_leg_wire": "legs",
    "ground_cable_wire": "doors",
}

PASS_SHARE = 0.8
UNFAIR = "unfair"  # the tally of faults missed, and of those seen where there are none


@dataclass(frozen=True, kw_only=True)
class MeasuringTask(Task):
    """
    A rig as far as it is drawn: what no sheet shows is not measured.

    ``sheets`` are names of what is drawn, ``asked`` pairs of a sheet's name and the key of
    a requirement asked beside it, ``oddities`` names of what seems to break a rule.
    """

    rig: Rig
    sheets: tuple[str, ...]
    asked: tuple[tuple[str, str], ...]
    oddities: tuple[str, ...]

    @property
    def keys(self):
        """The keys asked about, in the order of the page."""
        return tuple(key for __, key in self.asked)

    @cached_property
    def verdict(self):
        """The rule module's Verdict on what is drawn, of what is asked."""
        verdict = judge(self.rig, self.rulebook)
        return verdict._replace(findings=tuple(verdict.finding(key) for key in self.keys))

    def drawn(self, name):
        """Return the Sheet called ``name`` of this rig."""
        return SHEETS[name](self.rig)

    def truth(self, key):
        """Return what is right to say of the requirement ``key``."""
        return TRUTH[self.verdict.finding(key).outcome]


def breaking(rig, finding):
    """Return the readings in metres that break the rule of ``finding``, as lengths."""
    values, spots = finding.requirement.read(rig)
    return [abs(v) for v, spot in zip(values, spots, strict=True) if spot in finding.spots]


def _size_key(key):
    return f"size:{key}"


def _sheet_of(key):
    """Return the Sheet that shows what the rule ``key`` is about."""
    return next(each for each in SHEETS.values() if key in each.keys)


def _is_law(key, rulebook):
    return rulebook.has(key) and not rulebook.requirement(key).by_custom


def _keys_of(name, rulebook, difficulty):
    return [
        key
        for key in SHEETS[name].keys
        if _is_law(key, rulebook) and (difficulty > 1 or key not in LATER)
    ]


class MeasureDrawing(Kind):
    """A rig drawn to scale; the trainee measures and says which rules it keeps."""

    slug = "measure-drawing"
    order = 11
    title = gettext_lazy("Measure the drawing")
    summary = gettext_lazy(
        "Drawings to scale and a measuring tool: which rules are met, which are broken?"
    )
    template = "exercises/measure_drawing.html"
    form_class = MeasuringForm
    seconds = 300

    def covers(self, rulebook, difficulty):
        names = ("ropes", *SHEETS_OF[difficulty])
        return tuple(key for name in names for key in _keys_of(name, rulebook, difficulty))

    def generate(self, seed, rulebook, difficulty, focus=()):
        """
        Return the task; rules in ``focus`` are drawn and asked, as likely broken as met.

        One followed by MET or BROKEN comes out so.
        """
        rng = self.rng(seed, rulebook, difficulty)
        while True:
            try:
                return self._task(rng, seed, rulebook, difficulty, focus)
            except CannotMake:
                continue

    def _task(self, rng, seed, rulebook, difficulty, focus):
        names = self._sheets(rng, difficulty, focus)
        keys = [key for name in names for key in _keys_of(name, rulebook, difficulty)]
        rig, oddities = self._rig(rng, rulebook, difficulty, focus, keys)
        for name, sheet in SHEETS.items():
            if name not in names:
                rig = sheet.hidden(rig)
        return MeasuringTask(
            seed=seed,
            rulebook=rulebook,
            difficulty=difficulty,
            rig=rig,
            sheets=names,
            asked=self._asked(rng, rulebook, difficulty, names),
            oddities=oddities,
        )

    def _sheets(self, rng, difficulty, focus):
        """Return the names of the sheets drawn, that of ``focus`` among them."""
        wanted = {name for name in SHEETS if set(focus) & set(SHEETS[name].keys)} - {"ropes"}
        others = rng.sample(SHEETS_OF[difficulty], MORE_SHEETS[difficulty])
        others = sorted(others, key=lambda name: name not in wanted)
        chosen = {"ropes", *wanted, *others[: MORE_SHEETS[difficulty] - len(wanted)]}
        return tuple(name for name in SHEETS if name in chosen)

    def _rig(self, rng, rulebook, difficulty, focus, keys):
        """
        Return a rig and the names of what is merely odd on it.

        Every reading that is drawn lies near its limit, on either side as likely.
        """
        clear = room(keys)

        def suits(rig):
            return stands_clear(rig, rulebook, clear)

        sides = self._sides(rng, focus, keys)
        rig = roomy_rig(rng, rulebook, clear, difficulty)
        rig = put_many(rig, sides, Draw(rng, rulebook, difficulty, suits), clear)
        near = readings(rig, sides, rulebook)
        odd = seeming(keys)
        odd = rng.sample(odd, min(rng.choice(ODDITIES[difficulty]), len(odd)))
        return with_oddities(
            rig,
            odd,
            rng,
            rulebook,
            lambda made: suits(made) and readings(made, sides, rulebook) == near,
        )

    def _sides(self, rng, focus, keys):
        """Return whether each of ``keys`` is to be broken, but of one reading just one limit."""
        asked = {key: SIDES[after] for key, after in pairwise(focus) if after in SIDES}
        sides = {key: asked.get(key, rng.random() < 0.5) for key in keys}
        for pair in one_of():
            if set(pair) <= set(sides):
                del sides[next((key for key in pair if key not in focus), pair[0])]
        return sides

    def _asked(self, rng, rulebook, difficulty, names):
        """Return the rules asked beside each sheet, some of which cannot be told."""
        drawn = {key: name for name in names for key in _keys_of(name, rulebook, difficulty)}
        left = [
            key
            for key, at in ASKED_AT.items()
            if key not in drawn and at in names and _is_law(key, rulebook)
        ]
        count = min(rng.choice(NOT_DRAWN[difficulty]), len(left))
        asked = drawn | {key: ASKED_AT[key] for key in rng.sample(left, count)}
        order = [each.key for each in rulebook.requirements]
        return tuple(
            sorted(
                ((name, key) for key, name in asked.items()),
                key=lambda pair: (names.index(pair[0]), order.index(pair[1])),
            )
        )

    def any_answer(self, task):
        return {f"said_{key}": WITHIN for key in task.keys}

    def hand(self, task, mind, rng):
        """Say what is known of each rule, and how much what is broken measures."""
        said = {}
        for finding in task.verdict.findings:
            told = self._said(task, finding, mind, rng)
            said[f"said_{finding.key}"] = told
            if told == OUTSIDE and finding.failed and finding.spots:
                said[f"size_{finding.key}"] = feet_inches(breaking(task.rig, finding)[0], 64)
        return said

    @staticmethod
    def _said(task, finding, mind, rng):
        """Return what ``mind`` says of one rule."""
        knows = mind.knows(finding.requirement)
        if not (knows or mind.directed):
            return rng.choice([WITHIN, OUTSIDE, UNTOLD])
        if finding.outcome == NOT_MEASURED:
            slips = mind.slips_on(mind.slips.reading[task.difficulty], rng)
            return UNTOLD if knows and not slips else WITHIN
        broken = mind.part_breaks(task.rig, finding, task.difficulty, rng)
        return OUTSIDE if broken else WITHIN

    def truth(self, task, book):
        """Which rules the rig breaks."""
        return dict.fromkeys(judge(task.rig, book).failed_keys, True)

    def grade(self, task, answer):
        cleaned = self.read(task, answer)
        verdict = task.verdict
        rules = [self._rule_line(each, cleaned[f"said_{each.key}"]) for each in verdict.findings]
        sizes = [self._size_line(task, each, cleaned) for each in verdict.failed if each.spots]
        wrong = [key for key in task.keys if cleaned[f"said_{key}"] != task.truth(key)]
        enough = len(task.keys) - len(wrong) >= PASS_SHARE * len(task.keys)
        # A fault missed, or one seen where there is none, is worse than a wrong “cannot be told”.
        fair = not any(OUTSIDE in (cleaned[f"said_{key}"], task.truth(key)) for key in wrong)
        return Marked(
            lines=(*rules, *sizes),
            passed=enough and fair,
            remarks=tuple(self._remarks(task, fair)),
            draw=lambda: self._pictures(task, verdict, cleaned["measurements"]),
        )

    def foretold(self, task):
        """Tell of each rule by what is said of it, and of each size by stretches."""
        right = {f"said_{key}": task.truth(key) for key in task.keys}

        def graded(**changed):
            return self.grade(task, right | changed)

        parts, slips = [], {True: {}, False: {}}
        for at, key in enumerate(task.keys):
            pieces = {}
            for told in (WITHIN, OUTSIDE, UNTOLD):
                marked = graded(**{f"said_{key}": told})
                line, counts = marked.lines[at], ()
                if not line.right:
                    is_fair = marked.remarks == graded().remarks
                    counts = (WRONG,) if is_fair else (WRONG, UNFAIR)
                    slips[is_fair][f"said_{key}"] = told
                pieces[told] = Piece((line,), counts=counts)
            parts.append(Part(value(f"said_{key}"), pieces))
        sizes = [line.key for line in graded().lines if line.key.startswith("size:")]
        parts += [
            self._size_told(task, graded, key, key in sizes) for key in map(_size_key, task.keys)
        ]
        passes = dict(self._passes(graded, slips[True], slips[False]))
        parts.append(Part(both(tally(WRONG), tally(UNFAIR)), passes))
        # The drawings that come later have what was measured on them, too.
        return Foretold(tuple(parts), draw=lambda: graded().pictures, more=True)

    @staticmethod
    def _size_told(task, graded, key, is_asked):
        """Return the Part on how much a rule measures, the line ``key`` if there ``is_asked``."""
        rule = key.partition(":")[2]
        name, only = f"size_{rule}", (f"said_{rule}", OUTSIDE)
        if not is_asked:
            return Part(length(name, [], only=only), {OTHERWISE: Piece()})

        def line(metres=None):
            text = "" if metres is None else typed(metres)
            lines = graded(**{f"said_{rule}": OUTSIDE, name: text}).lines
            return next(each for each in lines if each.key == key)

        values = breaking(task.rig, task.verdict.finding(rule))
        near = _sheet_of(rule).resolution()
        # Just right and just not: what is in between is found by grading.
        off = (0.0, near, near + 2 * ROUNDING)
        points = {max(0.0, at + sign * each) for at in values for each in off for sign in (-1, 1)}
        points |= {0.0, max(values) + 100 * FOOT}
        ends, inside = stretches(lambda metres: line(metres).right, points)
        pieces = {str(at): Piece((said(line(each), name),)) for at, each in enumerate(inside)}
        pieces["none"] = Piece((line(),))
        return Part(length(name, ends, only=only), pieces)

    @staticmethod
    def _passes(graded, fair, unfair):
        """Yield whether it is a pass, by how many are wrong and how many of these unfair."""
        # What can only be missed unfairly comes first, so that the others are left to be fair.
        order = sorted(unfair, key=lambda name: name in fair)
        for missed in range(len(order) + 1):
            wrong = {name: unfair[name] for name in order[:missed]}
            others = [(name, told) for name, told in fair.items() if name not in wrong]
            for count in range(len(others) + 1):
                marked = graded(**wrong, **dict(others[:count]))
                key = f"{missed + count}/{missed}"
                yield key, Piece(remarks=marked.remarks, passed=marked.passed)

    def _remarks(self, task, fair):
        """Yield why there was no pass where marks do not tell, and what was merely odd."""
        if not fair:
            yield _("You missed a broken rule, or called a good part broken. Either means no pass.")
        for name in task.oddities:
            yield _("Unusual, but it breaks no rule. {words}").format(words=oddity(name).words)

    def _rule_line(self, finding, said):
        right = said == TRUTH[finding.outcome]
        line = Line.of(finding, right=right, marks=int(right), out_of=1, yours=WORDS[said])
        if finding.outcome != NOT_MEASURED:
            return line
        told = _("not on these drawings, so you cannot tell")
        return replace(line, measured_text=told, allowed_text="", margin_text="", sentence="")

    def _size_line(self, task, finding, cleaned):
        """Return the line about how far off it is, of what fails and could be measured."""
        sheet = _sheet_of(finding.key)
        near = sheet.resolution()
        said = cleaned[f"size_{finding.key}"]
        broken = breaking(task.rig, finding)
        right = said is not None and any(abs(v - said) <= near + ROUNDING for v in broken)
        return Line(
            # Not a line about the rule: whoever found the fault knows the rule.
            key=_size_key(finding.key),
            title=_("{title}: how much it measures").format(title=finding.title),
            outcome=FAIL,
            right=right,
            marks=int(right),
            out_of=1,
            yours="nothing" if said is None else sheet.say(said),
            measured_text=" or ".join(dict.fromkeys(sheet.say(value) for value in broken)),
            allowed_text=_("a measure within {say} of that").format(say=sheet.say(near)),
            source=_("That is how finely the tool measures on a small screen."),
            places=finding.places,
        )

    def _pictures(self, task, verdict, text):
        return tuple(
            Picture(
                SHEETS[name].title,
                task.drawn(name).scene(verdict, read_measurements(text, name)),
            )
            for name in task.sheets
        )
