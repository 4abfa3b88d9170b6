"""What to do in which order, in the words of the deck, filled with one net's numbers."""

from typing import NamedTuple

from ..gear import PORT, STARBOARD
from ..layout import remainder, wing_positions
from ..units import feet_inches, inches, pounds
from .planned import floats_stay, usable_floats
from .stores import coming_off, sweep_length

KINDS = ("mark", "cut", "hang", "set", "check", "measure")
"""The kinds of step, in the order in which they come."""


class Step(NamedTuple):
    """
    One numbered step of a plan.

    ``kind`` is one of ``KINDS``; ``title`` says what to do, ``text`` how, ``why`` what
    for. ``after`` are the keys of the steps that must be done before it.
    """

    key: str
    kind: str
    title: str
    text: str
    why: str
    after: tuple[str, ...] = ()


def _many(count, one, more=None):
    return f"{count} {one if count == 1 else more or one + 's'}"


def _mark_sweep(rig):
    count = f"all {len(rig.droppers)} droppers" if rig.droppers else "every dropper"
    return Step(
        "mark_sweep",
        "mark",
        "Mark the sweep",
        f"Tag {count} where each meets the sweep, and the same link on the sweep itself.",
        "Marked, the sweep can be put back just as it was.",
    )


def _wing_words(rope, side, interval):
    out = wing_positions(rope.wing(side), interval)
    left = remainder(rope.wing(side), interval)
    if not out:
        return f"{side} wing none: it is only {feet_inches(rope.wing(side))} long"
    if left * 1000 < 1:
        return f"{side} wing {len(out)}, the last at the wing end"
    return f"{side} wing {len(out)}, with {feet_inches(left)} left to the wing end"


def _mark_places(rig, rulebook, places):
    rope = rig.footrope
    interval = rulebook.requirement("dropper_spacing").limit
    half = feet_inches(rope.bosom / 2)
    wings = "; ".join(_wing_words(rope, side, interval) for side in (PORT, STARBOARD))
    return Step(
        "mark_places",
        "mark",
        f"Mark {_many(len(places), 'dropper place')} on the footrope",
        f"Stretch the footrope straight. Mark the centre; each corner, {half} from the centre; "
        f"then from each corner out one every {feet_inches(interval)}: {wings}.",
        "Measured from the corner each time, a slip in one wing does not carry to the other.",
    )


def _cut_sweep(rig, weights):
    length = sweep_length(rig.sweep)
    amount = "the whole sweep" if length is None else f"all {feet_inches(length)} of the sweep"
    text = f"Take off {amount}"
    if weights.off_sweep is not None:
        text += (
            f", about {pounds(weights.off_sweep, 0)} in air and "
            f"{pounds(weights.in_water(weights.off_sweep), 0)} in sea water"
        )
    return Step(
        "cut_sweep",
        "cut",
        "Cut the sweep away",
        f"{text}. Unshackle it from both bottom legs and from every dropper.",
        "Without it the net touches the bottom at the droppers' ends only.",
        ("mark_sweep",),
    )


def _take_off(rig, off):
    known = rig.droppers is not None
    count = _many(len(off), "dropper") if known else "the droppers that are there"
    return Step(
        "take_off",
        "cut",
        f"Take off {count}",
        "Off comes every dropper that is in the wrong place, of another chain, of another "
        "length, or not bare.",
        "Droppers that are all alike keep the footrope at one height.",
        ("mark_sweep",) if rig.sweep is not None else (),
    )


def _hang(choices, new, staying, before):
    each = f"{inches(choices.length)} of bare {inches(choices.chain)} chain"
    if choices.count == 2:
        each = f"two lengths, each {each}"
    text = f"At each marked place {'without one ' if staying else ''}shackle {each}."
    if staying:
        text += f" {_many(staying, 'dropper')} already there can stay."
    return Step(
        "hang",
        "hang",
        f"Hang {_many(new, 'dropper')}",
        f"{text} Cut at the link past the mark, never short of it.",
        "A link too many does no harm; a link too few can make the dropper too short.",
        before,
    )


def _set_floats(rig, rulebook, planned):
    floats = planned.floats
    gap = feet_inches(floats[1].position - floats[0].position)
    have = len(usable_floats(rig, rulebook))
    sizes = sorted({each.diameter for each in floats})
    size = inches(sizes[0]) if len(sizes) == 1 else f"{inches(sizes[0])} to {inches(sizes[-1])}"
    short = len(floats) - have
    count = f" You have {have} that are large enough; add {short}." if have and short else ""
    return Step(
        "set_floats",
        "set",
        f"Space {_many(len(floats), 'float')} along the headrope",
        f"Floats {size} across, one at each end of the headrope and one every {gap} "
        f"between them.{count}",
        "Even lift keeps any part of the footrope from sagging.",
    )


def _mend(finding):
    text = finding.remedy
    if finding.measured is not None and not isinstance(finding.measured, bool):
        text = f"Now {finding.measured_text}; the rule says {finding.allowed_text}. {text}"
    return Step(
        f"set_{finding.key}",
        "set",
        f"Put right: {finding.title[0].lower()}{finding.title[1:]}",
        text,
        finding.requirement.why,
    )


def _look(unknown):
    asked = "; ".join(
        f"{finding.title[0].lower()}{finding.title[1:]} ({finding.allowed_text})"
        for finding in unknown
    )
    return Step(
        "look",
        "check",
        f"Measure {_many(len(unknown), 'thing')} not known yet",
        f"Not entered, or not in full, with what the rule says: {asked}.",
        "What was not measured cannot be judged, and an officer will measure it.",
    )


def _check(rulebook, places, before):
    shortest = rulebook.requirement("dropper_length").limit_text
    interval = rulebook.requirement("dropper_spacing").limit_text
    return Step(
        "check",
        "check",
        "Check the whole rig with a tape",
        f"Count {_many(len(places), 'place')} with chain. No dropper under {shortest}, no gap "
        f"along a wing over {interval}, every chain bare, every shackle pin moused, top and "
        "bottom legs laid side by side and of one length.",
        "What is found at the quay costs minutes; what is found at sea costs the trip.",
        before,
    )


def _measure():
    return Step(
        "measure",
        "measure",
        "Measure the shine after the first tow",
        "Tow at your usual speed. Measure the bright part of the droppers at the centre, at "
        "both corners and at both wing ends, and write it in the shine log.",
        "The shine tells how high the footrope flew, and whether one side flew lower.",
        ("check",),
    )


def steps(rig, rulebook, choices, planned, places, weights, verdict, failed, unknown):
    """
    Return the Steps of the conversion in the order to do them.

    ``planned`` is the rig as it will be, ``places`` its Placements, ``weights`` what
    comes off and goes on, ``verdict`` that on the rig as it is now, ``failed`` and
    ``unknown`` the findings on the planned rig that still have to be mended or
    measured.
    """
    made = []
    if rig.sweep is not None:
        made.append(_mark_sweep(rig))
    off = coming_off(rig, places)
    new = sum(not place.stays for place in places)
    if new or off:
        made.append(_mark_places(rig, rulebook, places))
    if rig.sweep is not None:
        made.append(_cut_sweep(rig, weights))
    if rig.droppers is None or off:
        made.append(_take_off(rig, off))
    before = tuple(step.key for step in made if step.key != "mark_sweep")
    if new:
        made.append(_hang(choices, new, len(places) - new, before))
    if planned.floats is not None and not floats_stay(rig, verdict):
        made.append(_set_floats(rig, rulebook, planned))
    made += [_mend(finding) for finding in failed]
    if unknown:
        made.append(_look(unknown))
    made.append(_check(rulebook, places, tuple(step.key for step in made)))
    made.append(_measure())
    return tuple(made)
