"""What a conversion needs of one net, in an order that works."""

from dataclasses import dataclass, replace
from functools import cached_property
from itertools import permutations
from random import Random
from typing import NamedTuple

from django import forms
from django.utils.translation import gettext as _

from rigs import plan
from rigs.make import faults, sample
from rigs.plan import order
from rigs.plan.steps import deed
from rigs.requirements import layout
from rigs.rules.judge import FAIL, PASS
from rigs.rules.rulebook import nearest
from rigs.words.describe import describe
from rigs.words.gear import Rig
from rigs.words.say import gettext_lazy
from rigs.words.sizes import chains
from rigs.words.units import FOOT, INCH, inches

from .base import EASIEST, HARDEST, AnswerForm, Kind, Line, Marked, Task
from .foretelling import (
    OTHERWISE,
    WRONG,
    Foretold,
    Part,
    Piece,
    before,
    both,
    next_to,
    numbered,
    tally,
    wrong,
)

SWEPT = "chain-sweep"  # what most nets are before they are converted
WITH_SWEEP = 2 / 3  # of the nets
REPAIR = "set_"  # before the key of a requirement: the step that mends it
OUT = "out"  # the answer for a step that this net does not need

# How many steps the net needs, and how many more are shown that it does not, by difficulty.
NEEDED = {1: (5, 7), 2: (6, 9), 3: (7, 11)}
IDLE = {1: (0, 0), 2: (1, 3), 3: (2, 4)}

# What can be wrong with a net that no dropper or sweep has to do with.
FIXES = (
    "footrope_excess",
    "legs_equal",
    "legs_not_extended",
    "ground_gear_bare",
    "door_to_wing_end",
    "top_leg_wire",
    "bottom_leg_wire",
    "ground_cable_wire",
)
FLOATS = ("float_spacing", "float_diameter")
LONGER = {1: (12, 18), 2: (5, 10), 3: (2, 4)}  # inches that a long dropper is too long by
NOT_LONGER = {1: (0, 0), 2: (0, 1), 3: (1, 1)}  # and that others are longer, less than a link

# Modelled people (assumptions): what one has to know, and how often who does not takes a step
# too soon.
SKILL = gettext_lazy("the order of a conversion")
OFTEN = 0.35

SOURCE = gettext_lazy("The order of work comes from common practice. It has no written source.")


@dataclass(frozen=True, kw_only=True)
class OrderTask(Task):
    """
    One net part way to being converted, and steps in a jumble.

    ``choices`` are the plan.Choices of its owner. ``jumbled`` holds the keys of the steps in
    the order they are shown in, those that the net does not need among them.
    """

    rig: Rig
    choices: plan.Choices
    jumbled: tuple[str, ...]

    @cached_property
    def plan(self):
        """The rule module's plan for this net."""
        return plan.plan(self.rig, self.rulebook, self.choices)

    @cached_property
    def steps(self):
        """The steps that this net needs, in the order of its plan."""
        return order.with_ready(self.plan.steps)

    @property
    def shown_steps(self):
        """(key, what to do) of each step as shown."""
        deeds = {step.key: step.deed for step in self.steps}
        return tuple((key, deeds.get(key) or deed(key, self.rulebook)) for key in self.jumbled)

    @property
    def may_leave_out(self):
        """Whether a step may be one that this net does not need."""
        return self.difficulty > EASIEST


class OrderForm(AnswerForm):
    """A number for every step, each number once; or that the net does not need it."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        steps = self.task.shown_steps
        numbers = [("", "No."), *((str(n), str(n)) for n in range(1, len(steps) + 1))]
        if self.task.may_leave_out:
            numbers.append((OUT, _("Not needed")))
        for key, title in steps:
            self.fields[key] = forms.ChoiceField(
                label=title,
                choices=numbers,
                widget=forms.Select(attrs={"class": "form-select"}),
                error_messages={"required": _("Give this step a number, such as 1.")},
            )

    def clean(self):
        cleaned = super().clean()
        given = {}
        for name, number in cleaned.items():
            if number != OUT:
                given.setdefault(number, []).append(name)
        for number, names in given.items():
            for name in names[1:]:
                first = self.fields[names[0]].label
                self.add_error(
                    name,
                    _("“{first}” has number {number} too. Use each number once.").format(
                        first=first, number=number
                    ),
                )
        return cleaned

    @property
    def rows(self):
        """Each step with its field, as shown."""
        return [{"title": title, "field": self[key]} for key, title in self.task.shown_steps]


class OrderConversion(Kind):
    """A net part way to being converted; the trainee says what is left to do, in order."""

    slug = "order-conversion"
    order = 6
    title = gettext_lazy("Put the steps in order")
    summary = gettext_lazy(
        "Say what a net still needs to fish without a sweep, in an order that works."
    )
    template = "exercises/order_conversion.html"
    form_class = OrderForm
    seconds = 150

    def suits(self, rulebook):
        # A conversion leads to a net without a sweep, and no step of it fits a grate.
        return not (rulebook.has("sweep_stock") or rulebook.has("grate_bar_gap"))

    def generate(self, seed, rulebook, difficulty, focus=()):
        rng = self.rng(seed, rulebook, difficulty)
        fewest, most = NEEDED[difficulty]
        while True:
            rig, choices = _net(rng, rulebook, difficulty)
            task = OrderTask(
                seed=seed,
                rulebook=rulebook,
                difficulty=difficulty,
                rig=rig,
                choices=choices,
                jumbled=(),
            )
            steps = task.steps
            if fewest <= len(steps) <= most:
                break
        needed = [step.key for step in steps]
        idle = _idle(rng, difficulty, needed)
        while True:
            jumbled = [*needed, *idle]
            rng.shuffle(jumbled)
            if not order.is_kept(steps, [key for key in jumbled if key not in idle]):
                return replace(task, jumbled=tuple(jumbled))

    def shown(self, task):
        hung = task.choices
        return {
            "description": describe(task.rig),
            "to_hang": (
                _(
                    "Bare {inches} chain, {inches2} long. Longer by less than a link will do."
                ).format(inches=inches(hung.chain), inches2=inches(hung.length))
            ),
            "may_leave_out": task.may_leave_out,
        }

    def any_answer(self, task):
        return {key: str(n) for n, key in enumerate(task.jumbled, 1)}

    def hand(self, task, mind, rng):
        """Do what the net seems to need, some of it too soon, and leave the rest out."""
        steps = [step.key for step in task.steps]
        keys = sorted(
            task.jumbled, key=lambda key: steps.index(key) if key in steps else len(steps)
        )
        if mind.knows(SKILL):
            chance = mind.slips.work[task.difficulty] / len(keys)
        elif mind.directed:
            chance = OFTEN
        else:
            rng.shuffle(keys)
            chance = 0
        for at in range(1, len(keys)):
            if mind.slips_on(chance, rng):
                keys.insert(rng.randrange(at), keys.pop(at))
        if task.may_leave_out:
            seems_needed = _Eye(task, mind, rng).needs
            keys = [key for key in keys if seems_needed(key, key in steps)]
        numbers = {key: str(number) for number, key in enumerate(keys, 1)}
        return {key: numbers.get(key, OUT) for key in task.jumbled}

    truth = None

    def grade(self, task, answer):
        numbers = self.read(task, answer)
        keys = sorted(
            (key for key, number in numbers.items() if number != OUT),
            key=lambda key: int(numbers[key]),
        )
        made = task.plan
        steps = order.with_ready(made.steps)
        lines = [self._order_line(need, numbers, keys) for need in order.needs(steps)]
        if task.may_leave_out:
            lines += self._belonging(task, made, steps, keys)
        passed = all(line.right for line in lines)
        return Marked(
            lines=tuple(lines), passed=passed, remarks=tuple(self._remarks(steps, keys, passed))
        )

    def foretold(self, task):
        """Tell of each step that must come before another, and of each that is needed or not."""
        right = dict.fromkeys(task.jumbled, OUT)
        right |= {step.key: str(number) for number, step in enumerate(task.steps, 1)}

        def line(key, changed):
            lines = self.grade(task, right | changed).lines
            return next(each for each in lines if each.key == key)

        parts = [_order_told(task, need, right, line) for need in order.needs(task.steps)]
        parts += [_step_told(task, key, right, line) for key in task.jumbled]
        parts.append(Part(tally(WRONG), {"0": Piece(passed=True), OTHERWISE: Piece(passed=False)}))
        return Foretold((*parts, *_either_way(task.steps)))

    @staticmethod
    def _order_line(need, numbers, keys):
        first, then = need
        left_out = [step for step in need if step.key not in keys]
        met = not left_out and need.is_met(keys)
        if left_out:
            yours = _("“{deed}” left out").format(deed=left_out[0].deed)
        else:
            yours = _numbers(numbers[first.key], numbers[then.key])
        return Line(
            key=need.key,
            title=_("“{deed}” before “{deed2}”").format(deed=first.deed, deed2=then.deed),
            outcome=PASS if met else FAIL,
            right=met,
            marks=int(met),
            out_of=1,
            yours=yours,
            measured_text=_("“{deed}” has to be done first").format(deed=first.deed),
            why=need.why,
            source=SOURCE,
        )

    @staticmethod
    def _belonging(task, made, steps, keys):
        """Yield a Line for each step shown: whether this net needs it."""
        needed = {step.key: step for step in steps}
        for key, title in task.shown_steps:
            needs, done = key in needed, key in keys
            right = needs is done
            yield Line(
                key=f"needs-{key}",
                title=_("“{title}”: {value} on this net").format(
                    title=title, value="needed" if needs else _("not needed")
                ),
                outcome=PASS if right else FAIL,
                right=right,
                marks=int(right),
                out_of=1,
                yours="done" if done else _("left out"),
                measured_text=_told(needed[key].text if needs else _why_idle(made, key)),
                why=needed[key].why if needs else "",
            )

    @staticmethod
    def _remarks(steps, keys, passed):
        by_key = {step.key: step for step in steps}
        free = [
            f"“{by_key[one].deed}” and “{by_key[other].deed}”"
            for one, other in zip(keys, keys[1:], strict=False)
            if passed and order.may_swap(steps, one, other)
        ]
        if free:
            yield _("These can be done in either order: {free}.").format(free="; ".join(free))


def _order_told(task, need, right, line):
    """Return the Part on whether one step comes before another, by ``line`` of some answers."""
    first, then = need.first.key, need.then.key
    changes = {"before": {}, "after": {first: right[then], then: right[first]}}
    if task.may_leave_out:
        changes |= {"first out": {first: OUT}, "then out": {then: OUT}}
    pieces = {}
    for said, changed in changes.items():
        told = line(need.key, changed)
        if said in ("before", "after"):
            told = replace(told, yours=_numbers(f"%({first})s", f"%({then})s"))
        pieces[said] = Piece((told,), counts=wrong(told))
    return Part(before(first, then, OUT), pieces)


def _step_told(task, key, right, line):
    """Return the Part on whether a step is needed; at some levels all of them are."""
    if not task.may_leave_out:
        return Part(numbered(key, OUT), {OTHERWISE: Piece()})
    last = str(len(task.steps) + 1)  # free, where one more is shown than is needed
    pieces = {}
    for said, number in (("in", last if right[key] == OUT else right[key]), ("out", OUT)):
        told = line(f"needs-{key}", {key: number})
        pieces[said] = Piece((told,), counts=wrong(told))
    return Part(numbered(key, OUT), pieces)


def _either_way(steps):
    """Yield a Part for each two steps that may change places, told where both come in a row."""
    for one, other in permutations(steps, 2):
        if order.may_swap(steps, one.key, other.key):
            words = _("These can be done in either order: {free}.").format(
                free=f"“{one.deed}” and “{other.deed}”"
            )
            read = both(tally(WRONG), next_to(one.key, other.key, OUT))
            yield Part(read, {"0/yes": Piece(remarks=(words,)), OTHERWISE: Piece()})


def _numbers(first, then):
    return _("number {numbers} and number {numbers2}").format(numbers=first, numbers2=then)


class _Eye(NamedTuple):
    """How a modelled person looks over the net of a task."""

    task: OrderTask
    mind: object
    rng: Random

    def needs(self, key, needed):
        """Return whether the step ``key`` seems needed, which it is or is not."""
        task, mind, rng = self
        if key.startswith(REPAIR):
            now = task.plan.now
            keys = FLOATS if key == "set_floats" else (key.removeprefix(REPAIR),)
            return any(
                mind.part_breaks(task.rig, now.finding(each), task.difficulty, rng) for each in keys
            )
        if mind.knows(SKILL):
            return needed is not mind.slips_on(mind.slips.missed[task.difficulty] / 2, rng)
        return rng.random() < 0.5


# The net ------------------------------------------------------------------------------


def _net(rng, goal, difficulty):
    """
    Return (rig, plan.Choices): a net part way to being without a sweep, and what is to hang.

    What is not drawn to be wrong is sound by the rules of the day from which ``goal``, the
    task's rule set, holds: no version that comes later can change the net.
    """
    book = nearest(SWEPT, goal.effective_from) if rng.random() < WITH_SWEEP else goal
    rig = sample.legal_rig(rng, book, difficulty)
    choices = plan.Choices(
        rng.choice(plan.chain_options(goal)[-2:]).size,
        1,
        goal.requirement("dropper_length").limit + rng.randint(0, 6) * INCH,
        goal.requirement("float_diameter").limit,
    )
    rig = rig.with_(droppers=_hung(rng, rig, goal, choices, difficulty))
    wrong = rng.sample(FIXES, rng.randint(0, difficulty))
    if rng.random() < 0.5:
        wrong.append(rng.choice(FLOATS))
    try:
        return faults.spoil_many(rig, wrong, faults.Draw(rng, book, difficulty)), choices
    except faults.CannotMake:
        return _net(rng, goal, difficulty)


def _hung(rng, rig, goal, choices, difficulty):
    """Return the droppers on ``rig`` as they are now, on the way to ``choices`` or done."""
    spare = rng.randint(*NOT_LONGER[difficulty]) * INCH
    hung = layout.droppers(rig.footrope, goal, choices.length + spare, choices.chain)
    # Too long or not, whatever else is wrong with them: so that one tells nothing of the other.
    states = [rng.choice((_all_good, _other_chain, _some_missing, _some_moved))]
    if rng.random() < 0.5:
        states.insert(0, _too_long)
    for state in states:
        hung = state(rng, hung, choices, difficulty)
    if rig.sweep is not None:
        hung = tuple(replace(each, sweep_position=each.position) for each in hung)
    return hung


def _all_good(rng, hung, choices, difficulty):
    return hung


def _other_chain(rng, hung, choices, difficulty):
    size = rng.choice([each for each in chains() if each != choices.chain])
    return tuple(replace(each, diameter=size) for each in hung)


def _too_long(rng, hung, choices, difficulty):
    """Make some or all of them a whole link too long, or more."""
    length = choices.length + rng.randint(*LONGER[difficulty]) * INCH
    count = rng.randint(2, len(hung))
    long = set(rng.sample(range(len(hung)), count))
    return tuple(replace(e, length=length) if i in long else e for i, e in enumerate(hung))


def _some_missing(rng, hung, choices, difficulty):
    gone = set(rng.sample(range(len(hung)), rng.randint(1, 3)))
    return tuple(each for i, each in enumerate(hung) if i not in gone)


def _some_moved(rng, hung, choices, difficulty):
    """Hang some a little off their places, toward the center."""
    moved = set(rng.sample([i for i, e in enumerate(hung) if e.position], rng.randint(1, 3)))
    off = {1: 2 * FOOT, 2: FOOT, 3: 6 * INCH}[difficulty]
    return tuple(
        replace(each, position=each.position - (off if each.position > 0 else -off))
        if i in moved
        else each
        for i, each in enumerate(hung)
    )


# Steps that the net does not need --------------------------------------------------------

_OF_DROPPERS = ("take_off", "cut_down", "mark_places", "hang")
_OF_SWEEP = ("mark_sweep", "cut_sweep")


def _idle(rng, difficulty, needed):
    """Return the keys of the steps that are shown and that the net does not need."""
    fixes = [f"{REPAIR}{key}" for key in FIXES]
    can = [*_OF_DROPPERS, *_OF_SWEEP, "set_floats", *fixes]
    if difficulty == HARDEST:
        # That no sweep is to be taken off is seen at a glance.
        can = [key for key in can if key not in _OF_SWEEP]
    can = [key for key in can if key not in needed]
    rng.shuffle(can)
    others = [key for key in can if key not in fixes]
    repairs = [key for key in can if key in fixes]
    some = [*others[: rng.randint(0, 2)], *repairs]
    return some[: rng.randint(*IDLE[difficulty])]


def _told(text):
    """Return sentences as the end of one that goes on."""
    return f"{text[0].lower()}{text[1:]}".removesuffix(".")


def _why_idle(made, key):
    """Return why the net of the plan ``made`` does not need the step ``key``, as sentences."""
    now = made.now
    if key in _OF_SWEEP:
        return _("No sweep is on this net.")
    if key == "set_floats":
        return " ".join(now.finding(each).sentence for each in FLOATS)
    if key == "take_off":
        return _("Every dropper on it is of the right chain, and in a place that asks for one.")
    if key == "cut_down":
        return _("No dropper that stays is too long by a whole link.")
    if key in _OF_DROPPERS:
        return _("A good dropper hangs at every place that asks for one.")
    return now.finding(key.removeprefix(REPAIR)).sentence
