"""What to do in which order, in the words of the deck, filled with one net's numbers."""

from collections.abc import Sequence
from typing import NamedTuple

from rigs.requirements.layout import remainder, wing_positions
from rigs.rules.judge import Finding, Verdict
from rigs.rules.rulebook import Requirement, Rulebook
from rigs.words.gear import PORT, STARBOARD, Dropper, Float, Footrope, Rig, Sweep
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
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

CUTTING = gettext_lazy(
    "Before you cut: goggles and gloves on. If you grind or burn, clear the netting and keep "
    "water at hand."
)
ROPES = ("footrope_longer", "footrope_excess")
"""What is fixed at a rope: every place along it moves with that."""
_BEFORE_HANGING = ("mark_places", "cut_sweep", "take_off")
QUARTER = 4
"""Ropes are marked to a quarter of an inch: finer than that nobody can."""


_DEEDS = {
    "mark_sweep": gettext_lazy("Mark where each dropper meets the sweep"),
    "mark_places": gettext_lazy("Mark the dropper places on the footrope"),
    "cut_sweep": gettext_lazy("Cut the sweep away"),
    "take_off": gettext_lazy("Take off the droppers that cannot stay"),
    "cut_down": gettext_lazy("Cut long droppers down"),
    "hang": gettext_lazy("Hang droppers at the marks that have none"),
    "set_floats": gettext_lazy("Set the floats: how many, what size, how far apart"),
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
    count = (
        _("all {droppers} droppers").format(droppers=len(rig.droppers))
        if rig.droppers
        else _("every dropper")
    )
    return PlanStep(
        "mark_sweep",
        "mark",
        _("Mark the sweep"),
        _("Tag {count} where each meets the sweep, and the link of the sweep it meets.").format(
            count=count
        ),
        _("With the marks, the sweep can be put back where it was."),
    )


def _wing_words(rope: Footrope, side: str, interval: float) -> str:
    out = wing_positions(rope.wing(side), interval)
    left = remainder(rope.wing(side), interval)
    if not out:
        return _("no dropper on the {side} wing: it is only {rope} long").format(
            side=side, rope=_rope(rope.wing(side))
        )
    if left * 1000 < 1:
        return _("{side} wing {out}, the last at the wing end").format(side=side, out=len(out))
    return _("{side} wing {out}, with {rope} left to the wing end").format(
        side=side, out=len(out), rope=_rope(left)
    )


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
        _("Mark {many} on the footrope").format(many=_many(len(places), _("dropper place"))),
        _(
            "Stretch the footrope straight. Mark the center. Mark each corner, {corner} from the "
            "center. Then mark one every {limit} from each corner out: {wings}."
        ).format(corner=corner, limit=limit(spacing), wings=wings),
        _(
            "Measure from the corner each time, so a mistake on one wing does not carry to the "
            "other."
        ),
        before,
    )


def _cut_sweep(sweep: Sweep, weights: Weights) -> PlanStep:
    length = sweep_length(sweep)
    amount = (
        _("the whole sweep")
        if length is None
        else _("all {rope} of the sweep").format(rope=_rope(length))
    )
    text = _("Take off {amount}").format(amount=amount)
    if weights.off_sweep is not None:
        text += _(", about {pounds} in air and {pounds2} in sea water").format(
            pounds=pounds(weights.off_sweep, 0),
            pounds2=pounds(weights.in_water(weights.off_sweep), 0),
        )
    return PlanStep(
        "cut_sweep",
        "cut",
        _("Cut the sweep away"),
        _("{text}. Unshackle it from both bottom legs and from every dropper.").format(text=text),
        _("Without it, the droppers are all of the footrope's gear that touches the bottom."),
        ("mark_sweep",),
        CUTTING,
    )


def _take_off(rig: Rig, off: Sequence[Dropper], moved: int) -> PlanStep:
    known = rig.droppers is not None
    count = _many(len(off), "dropper") if known else _("every dropper that cannot stay")
    text = _(
        "Take off every dropper that is in the wrong place, not bare, or not of the chain "
        "and length that you will hang."
    )
    if moved:
        text += _(" Keep {moved} of them at hand: they are good, and go back on.").format(
            moved=moved
        )
    return PlanStep(
        "take_off",
        "cut",
        _("Take off {count}").format(count=count),
        text,
        _("Droppers that are all alike keep the footrope at one height."),
        ("mark_sweep",) if rig.sweep is not None else (),
        CUTTING,
    )


def _cut_down(choices: Choices, long: int, before: Keys) -> PlanStep:
    return PlanStep(
        "cut_down",
        "cut",
        _("Cut {many} down to {inches}").format(
            many=_many(long, "dropper"), inches=inches(choices.length)
        ),
        _("Measure {inches} and cut at the next whole link past it.").format(
            inches=inches(choices.length)
        ),
        _("Droppers that are all alike keep the footrope at one height."),
        before,
        CUTTING,
    )


def _hang(rulebook: Rulebook, choices: Choices, sources: Sequence[str], before: Keys) -> PlanStep:
    new, moved, staying = (sources.count(source) for source in (NEW, MOVED, STAYS))
    length = rulebook.requirement("dropper_length")
    each = _("{inches} of bare {inches2} chain").format(
        inches=inches(choices.length), inches2=inches(choices.chain)
    )
    if choices.count == 2:
        each = _("two lengths, each {each}").format(each=each)
    text = _("At each marked place {value}shackle {each}.").format(
        value=_("without one ") if staying else "", each=each
    )
    if moved:
        text += _(" Use the {many} you took off first.").format(
            many=_many(moved, _("good dropper"))
        )
    if staying:
        text += _(" {many} already there can stay.").format(many=_many(staying, "dropper"))
    if new:
        text += _(" Cut new ones at the next whole link past the mark, never short of it.")
    if length.by_custom:
        text += _(
            " By custom a dropper is at least {limit_text} long; no rule here says so."
        ).format(limit_text=length.limit_text)
    return PlanStep(
        "hang",
        "hang",
        _("Hang {many}").format(many=_many(new + moved, "dropper")),
        text,
        _("A link too many does no harm; a link too few can make the dropper too short."),
        before,
        CUTTING if new else "",
    )


def _set_floats(floats: Sequence[Float], counted: FloatCount, before: Keys) -> PlanStep:
    gap = _rope(floats[1].position - floats[0].position)
    sizes = sorted({each.diameter for each in floats if each.diameter is not None})
    size = ""
    if sizes:
        size = f" {inches(sizes[0])}"
        size += (
            " across"
            if len(sizes) == 1
            else _(" to {inches} across").format(inches=inches(sizes[-1]))
        )
    have = ""
    if counted.good:
        have += _(" {good} of yours are large enough.").format(good=counted.good)
    if counted.unsure:
        have += _(" Measure the {many} of yours first.").format(many=_many(counted.unsure, "other"))
    if counted.to_buy:
        have += _(" Add {to_buy}.").format(to_buy=counted.to_buy)
    return PlanStep(
        "set_floats",
        "set",
        _("Space {many} along the headrope").format(many=_many(len(floats), "float")),
        _(
            "Floats{size}: one at each end of the headrope, and the others evenly between, about "
            "{gap} apart.{have}"
        ).format(size=size, gap=gap, have=have),
        _("Even lift keeps any part of the footrope from sagging."),
        before,
    )


def _fix_title(requirement: Requirement) -> str:
    return _("Fix: {lower}").format(lower=_lower(requirement.title))


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
        _("Measure {many} still missing").format(many=_many(len(unknown), "thing")),
        _("Not entered, or not in full: {asked}.").format(asked=asked),
        _("What was not measured cannot be checked, and an officer can measure it."),
    )


def _check(
    rulebook: Rulebook, choices: Choices, places: Sequence[Placement], before: Keys
) -> PlanStep:
    length = rulebook.requirement("dropper_length")
    shortest = _("under {limit}{value}").format(
        limit=limit(length), value=_(" (by custom)") if length.by_custom else ""
    )
    if length.by_custom and choices.length < length.limit - ROUNDING:
        shortest = _("under {inches}, as you chose (by custom {limit_text})").format(
            inches=inches(choices.length), limit_text=length.limit_text
        )
    interval = limit(rulebook.requirement("dropper_spacing"))
    return PlanStep(
        "check",
        "check",
        _("Check the whole rig with a tape"),
        _(
            "Count {many} with chain. No dropper {shortest}. No gap along a wing over "
            "{interval}, and less than {interval} left past the last dropper. Every chain bare, "
            "every shackle pin moused. Top and bottom legs laid side by side and of one length."
        ).format(many=_many(len(places), "place"), shortest=shortest, interval=interval),
        _("Fixing it at the dock takes minutes. At sea it costs the trip."),
        before,
    )


def _measure() -> PlanStep:
    return PlanStep(
        "measure",
        "measure",
        _("Measure the shine after the first tow"),
        _(
            "Tow at your usual speed. Measure the bright part of the droppers at the center, at "
            "both corners and at both wing ends. Write it in the shine log."
        ),
        _("The shine tells how high the footrope flew, and whether one side flew lower."),
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
