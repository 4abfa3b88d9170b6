"""What to do in which order, in the words of the deck, filled with one net's numbers."""

from collections.abc import Sequence
from typing import NamedTuple

from rigs.requirements.layout import remainder, wing_positions
from rigs.rules.judge import Finding, Verdict
from rigs.rules.rulebook import Requirement, Rulebook
from rigs.words.gear import PORT, STARBOARD, Dropper, Float, Footrope, Rig, Sweep
from rigs.words.units import ROUNDING, feet_inches, inches, pounds

from .limits import limit, star
from .planned import (
    MOVED,
    NEW,
    STAYS,
    Choices,
    FloatCount,
    Placement,
    count_floats,
    floats_stay,
    is_cut_down,
)
from .stores import Weights, coming_off, sweep_length

Keys = tuple[str, ...]
"""The keys of steps."""

KINDS = ("mark", "cut", "hang", "set", "check", "measure")
"""The kinds of step, in the order in which they come."""

CUTTING = (
    "Before you cut: goggles and gloves on. If you grind or burn, clear the netting and keep "
    "water at hand."
)
ROPES = ("footrope_longer", "footrope_excess")
"""What is fixed at a rope: every place along it moves with that."""
_BEFORE_HANGING = ("mark_places", "cut_sweep", "take_off")
QUARTER = 4
"""Ropes are marked to a quarter of an inch: finer than that nobody can."""


_DEEDS = {
    "mark_sweep": "Mark where each dropper meets the sweep",
    "mark_places": "Mark the dropper places on the footrope",
    "cut_sweep": "Cut the sweep away",
    "take_off": "Take off the droppers that cannot stay",
    "cut_down": "Cut long droppers down",
    "hang": "Hang droppers at the marks that have none",
    "set_floats": "Set the floats: how many, what size, how far apart",
}


class PlanStep(NamedTuple):
    """
    One numbered step of a plan.

    ``kind`` is one of ``KINDS``; ``title`` says what to do, ``text`` how, ``why`` what
    for, ``caution`` what to see to before one begins. ``after`` are the keys of the
    steps that must be done before it. A limit that was written from memory has a * by it.
    """

    key: str
    kind: str
    title: str
    text: str
    why: str
    after: tuple[str, ...] = ()
    caution: str = ""

    @property
    def deed(self) -> str:
        """What to do, without the numbers of the net or of any rule."""
        return _DEEDS.get(self.key, self.title)


def deed(key: str, rulebook: Rulebook) -> str:
    """Return what the step ``key`` is to do, whether a net needs it or not, without numbers."""
    if key in _DEEDS:
        return _DEEDS[key]
    return _fix_title(rulebook.requirement(key.removeprefix("set_")))


def _many(count: int, one: str, more: str | None = None) -> str:
    return f"{count} {one if count == 1 else more or one + 's'}"


def _rope(metres: float) -> str:
    return feet_inches(metres, QUARTER)


def _lower(title: str) -> str:
    return f"{title[0].lower()}{title[1:]}"


def _mark_sweep(rig: Rig) -> PlanStep:
    count = f"all {len(rig.droppers)} droppers" if rig.droppers else "every dropper"
    return PlanStep(
        "mark_sweep",
        "mark",
        "Mark the sweep",
        f"Tag {count} where each meets the sweep, and the link of the sweep it meets.",
        "With the marks, the sweep can be put back where it was.",
    )


def _wing_words(rope: Footrope, side: str, interval: float) -> str:
    out = wing_positions(rope.wing(side), interval)
    left = remainder(rope.wing(side), interval)
    if not out:
        return f"no dropper on the {side} wing: it is only {_rope(rope.wing(side))} long"
    if left * 1000 < 1:
        return f"{side} wing {len(out)}, the last at the wing end"
    return f"{side} wing {len(out)}, with {_rope(left)} left to the wing end"


def _mark_places(
    rig: Rig, rulebook: Rulebook, places: Sequence[Placement], before: Keys
) -> PlanStep:
    rope = rig.footrope
    spacing = rulebook.requirement("dropper_spacing")
    wings = "; ".join(_wing_words(rope, side, spacing.limit) for side in (PORT, STARBOARD))
    corner = _rope(rope.bosom / 2)
    return PlanStep(
        "mark_places",
        "mark",
        f"Mark {_many(len(places), 'dropper place')} on the footrope",
        f"Stretch the footrope straight. Mark the center. Mark each corner, {corner} from the "
        f"center. Then mark one every {limit(spacing)} from each corner out: {wings}.",
        "Measure from the corner each time, so a mistake on one wing does not carry to the other.",
        before,
    )


def _cut_sweep(sweep: Sweep, weights: Weights) -> PlanStep:
    length = sweep_length(sweep)
    amount = "the whole sweep" if length is None else f"all {_rope(length)} of the sweep"
    text = f"Take off {amount}"
    if weights.off_sweep is not None:
        text += (
            f", about {pounds(weights.off_sweep, 0)} in air and "
            f"{pounds(weights.in_water(weights.off_sweep), 0)} in sea water"
        )
    return PlanStep(
        "cut_sweep",
        "cut",
        "Cut the sweep away",
        f"{text}. Unshackle it from both bottom legs and from every dropper.",
        "Without it, the droppers are all of the footrope's gear that touches the bottom.",
        ("mark_sweep",),
        CUTTING,
    )


def _take_off(rig: Rig, off: Sequence[Dropper], moved: int) -> PlanStep:
    known = rig.droppers is not None
    count = _many(len(off), "dropper") if known else "every dropper that cannot stay"
    text = (
        "Take off every dropper that is in the wrong place, not bare, or not of the chain and "
        "length that you will hang."
    )
    if moved:
        text += f" Keep {moved} of them at hand: they are good, and go back on."
    return PlanStep(
        "take_off",
        "cut",
        f"Take off {count}",
        text,
        "Droppers that are all alike keep the footrope at one height.",
        ("mark_sweep",) if rig.sweep is not None else (),
        CUTTING,
    )


def _cut_down(choices: Choices, long: int, before: Keys) -> PlanStep:
    return PlanStep(
        "cut_down",
        "cut",
        f"Cut {_many(long, 'dropper')} down to {inches(choices.length)}",
        f"Measure {inches(choices.length)} and cut at the next whole link past it.",
        "Droppers that are all alike keep the footrope at one height.",
        before,
        CUTTING,
    )


def _hang(rulebook: Rulebook, choices: Choices, sources: Sequence[str], before: Keys) -> PlanStep:
    new, moved, staying = (sources.count(source) for source in (NEW, MOVED, STAYS))
    length = rulebook.requirement("dropper_length")
    each = f"{inches(choices.length)} of bare {inches(choices.chain)} chain"
    if choices.count == 2:
        each = f"two lengths, each {each}"
    text = f"At each marked place {'without one ' if staying else ''}shackle {each}."
    if moved:
        text += f" Use the {_many(moved, 'good dropper')} you took off first."
    if staying:
        text += f" {_many(staying, 'dropper')} already there can stay."
    if new:
        text += " Cut new ones at the next whole link past the mark, never short of it."
    if length.by_custom:
        text += f" By custom a dropper is at least {length.limit_text} long; no rule here says so."
    return PlanStep(
        "hang",
        "hang",
        f"Hang {_many(new + moved, 'dropper')}",
        text,
        "A link too many does no harm; a link too few can make the dropper too short.",
        before,
        CUTTING if new else "",
    )


def _set_floats(floats: Sequence[Float], counted: FloatCount, before: Keys) -> PlanStep:
    gap = _rope(floats[1].position - floats[0].position)
    sizes = sorted({each.diameter for each in floats if each.diameter is not None})
    size = ""
    if sizes:
        size = f" {inches(sizes[0])}"
        size += " across" if len(sizes) == 1 else f" to {inches(sizes[-1])} across"
    have = ""
    if counted.good:
        have += f" {counted.good} of yours are large enough."
    if counted.unsure:
        have += f" Measure the {_many(counted.unsure, 'other')} of yours first."
    if counted.to_buy:
        have += f" Add {counted.to_buy}."
    return PlanStep(
        "set_floats",
        "set",
        f"Space {_many(len(floats), 'float')} along the headrope",
        f"Floats{size}: one at each end of the headrope, and the others evenly between, about "
        f"{gap} apart.{have}",
        "Even lift keeps any part of the footrope from sagging.",
        before,
    )


def _fix_title(requirement: Requirement) -> str:
    return f"Fix: {_lower(requirement.title)}"


def _fix(finding: Finding, before: Keys = ()) -> PlanStep:
    # The limit stands in the first sentence: one on what was not measured may follow.
    first, stop, rest = finding.sentence.removesuffix(".").partition(". ")
    return PlanStep(
        f"set_{finding.key}",
        "set",
        _fix_title(finding.requirement),
        f"{star(finding.requirement, first)}{stop}{rest}. {finding.remedy}",
        finding.requirement.why,
        before,
    )


def _look(unknown: Sequence[Finding]) -> PlanStep:
    asked = "; ".join(
        f"{_lower(finding.title)} ({star(finding.requirement, finding.allowed_text)})"
        for finding in unknown
    )
    return PlanStep(
        "look",
        "check",
        f"Measure {_many(len(unknown), 'thing')} still missing",
        f"Not entered, or not in full: {asked}.",
        "What was not measured cannot be checked, and an officer can measure it.",
    )


def _check(
    rulebook: Rulebook, choices: Choices, places: Sequence[Placement], before: Keys
) -> PlanStep:
    length = rulebook.requirement("dropper_length")
    shortest = f"under {limit(length)}{' (by custom)' if length.by_custom else ''}"
    if length.by_custom and choices.length < length.limit - ROUNDING:
        shortest = f"under {inches(choices.length)}, as you chose (by custom {length.limit_text})"
    interval = limit(rulebook.requirement("dropper_spacing"))
    return PlanStep(
        "check",
        "check",
        "Check the whole rig with a tape",
        f"Count {_many(len(places), 'place')} with chain. No dropper {shortest}. No gap along a "
        f"wing over {interval}, and less than {interval} left past the last dropper. Every chain "
        "bare, every shackle pin moused. Top and bottom legs laid side by side and of one length.",
        "Fixing it at the dock takes minutes. At sea it costs the trip.",
        before,
    )


def _measure() -> PlanStep:
    return PlanStep(
        "measure",
        "measure",
        "Measure the shine after the first tow",
        "Tow at your usual speed. Measure the bright part of the droppers at the center, at "
        "both corners and at both wing ends. Write it in the shine log.",
        "The shine tells how high the footrope flew, and whether one side flew lower.",
        ("check",),
    )


class Conversion(NamedTuple):
    """
    What the steps of a plan follow from.

    ``present`` is the rig as it is and ``now`` the Verdict on it; ``planned`` the rig as it
    will be and ``places`` its Placements; ``weights`` what comes off and goes on; ``failed``
    and ``unknown`` the findings on the planned rig that still have to be fixed or measured.
    """

    present: Rig
    now: Verdict
    rulebook: Rulebook
    choices: Choices
    planned: Rig
    places: tuple[Placement, ...]
    weights: Weights
    failed: tuple[Finding, ...]
    unknown: tuple[Finding, ...]


def steps(conversion: Conversion) -> tuple[PlanStep, ...]:
    """Return the PlanSteps of ``conversion`` in the order to do them."""
    rig, rulebook, choices = conversion.present, conversion.rulebook, conversion.choices
    places, failed = conversion.places, conversion.failed
    made: list[PlanStep] = []
    swept: Keys = ()
    if rig.sweep is not None:
        made.append(_mark_sweep(rig))
        swept = ("mark_sweep",)
    # A rope that is changed later moves every place that was marked along it.
    ropes = [_fix(finding, swept) for finding in failed if finding.key in ROPES]
    made += ropes
    fixed = tuple(step.key for step in ropes)
    off = coming_off(rig, places)
    sources = [place.source for place in places]
    if off or NEW in sources:
        made.append(_mark_places(rig, rulebook, places, fixed))
    if rig.sweep is not None:
        made.append(_cut_sweep(rig.sweep, conversion.weights))
        swept = ("cut_sweep",)
    if rig.droppers is None or off:
        made.append(_take_off(rig, off, sources.count(MOVED)))
    before = tuple(step.key for step in made if step.key in _BEFORE_HANGING)
    long = [
        place
        for place in places
        if place.dropper is not None and is_cut_down(place.dropper, choices)
    ]
    if long:
        made.append(_cut_down(choices, len(long), swept))
    if any(place.source == MOVED for place in long):
        before = (*before, "cut_down")
    if NEW in sources or MOVED in sources:
        made.append(_hang(rulebook, choices, sources, before))
    counted, floats = count_floats(rig, rulebook), conversion.planned.floats
    if counted is not None and floats is not None and not floats_stay(rig, conversion.now):
        made.append(_set_floats(floats, counted, fixed))
    made += [_fix(finding) for finding in failed if finding.key not in ROPES]
    if conversion.unknown:
        made.append(_look(conversion.unknown))
    made.append(_check(rulebook, choices, places, tuple(step.key for step in made)))
    made.append(_measure())
    return tuple(made)
