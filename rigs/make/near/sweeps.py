"""The lengths of a sweep, and how droppers hang to it, near a limit."""

from dataclasses import replace

from rigs.words.gear import PORT, SIDES
from rigs.words.sizes import CHAIN_LADDER
from rigs.words.units import INCH, ROUNDING, feet_inches, inches

from .droppers import a_wing, on_wings


def chain(making):
    """The chain of the sweep, and of the droppers, which are lighter whatever the sweep is."""
    size, rig = making.reading(), making.rig
    most = making.rulebook.requirement("dropper_stock").limit + ROUNDING
    lighter = [each for each in CHAIN_LADDER if each < size - ROUNDING and each <= most]
    light = making.rng.choice(lighter[-2:] or CHAIN_LADDER[:1])
    droppers = tuple(replace(each, diameter=light) for each in rig.droppers)
    return rig.with_(sweep=replace(rig.sweep, diameter=size), droppers=droppers), (
        f"The sweep is {inches(size)} chain.",
        f"The droppers are {inches(light)} chain.",
    )


def in_all(making):
    """Sweep and footrope as a whole."""
    rig = making.rig
    more = making.reading()
    halves = {side: abs(rig.footrope.end(side)) + more / 2 for side in SIDES}
    rig = rig.with_(sweep=replace(rig.sweep, **halves))
    return rig, (
        f"The sweep is {feet_inches(sum(halves.values()))} long in all, slack shared evenly.",
        f"The footrope is {feet_inches(rig.footrope.length)} long in all.",
    )


def _slack(making):
    """Return how much longer the sweep is on each side, by side: enough as a whole."""
    worst = making.reading()
    # As much as it may lack on the one side is there on the other, and a little more.
    far = making.limit - worst if making.broken else worst - making.limit
    other = worst + 2 * far + making.rng.randint(0, 6) * INCH
    return dict(zip(SIDES, making.mixed(worst, other), strict=True))


def each_side(making):
    """Sweep and footrope from the center to each wing end."""
    rig, slack = making.rig, _slack(making)
    halves = {side: abs(rig.footrope.end(side)) + slack[side] for side in SIDES}
    return rig.with_(sweep=replace(rig.sweep, **halves)), tuple(
        f"{side.capitalize()}, center to wing end: footrope "
        f"{feet_inches(abs(rig.footrope.end(side)))}, sweep {feet_inches(halves[side])}."
        for side in SIDES
    )


def past_last_dropper(making):
    """Sweep and footrope from the last dropper of each side to the wing end."""
    wings = {side: a_wing(making, making.rng.randint(1, 3)) for side in SIDES}
    rig, slack = on_wings(making, wings), _slack(making)
    halves = {side: abs(rig.footrope.end(side)) + slack[side] for side in SIDES}
    return rig.with_(sweep=replace(rig.sweep, **halves)), tuple(
        f"{side.capitalize()}, past the last dropper: footrope {feet_inches(rest)}, "
        f"sweep {feet_inches(rest + slack[side])}."
        for side, (_, rest) in wings.items()
    )


def attachment(making):
    """
    A dropper of each side, measured along the footrope and along the sweep.

    Two distances, each had twice: which two belong together is what it turns on.
    """
    rng, half = making.rng, making.rig.footrope.bosom / 2
    apart = making.limit + making.apart()
    wings = {side: a_wing(making, 2) for side in SIDES}
    long = max(gap for gaps, _ in wings.values() for gap in gaps[:1])
    if long <= apart:
        return None
    along = dict.fromkeys(SIDES, long)
    if not making.broken or rng.random() < 0.5:
        along[making.side()] -= apart
    for side, out in along.items():
        wings[side][0][0] = out
    rig = on_wings(making, wings)
    # The lower end keeps to its dropper, or is where the other of the two lengths is.
    met = {side: long if out < long else long - apart for side, out in along.items()}
    if not making.broken:
        met = along
    made = tuple(
        replace(each, sweep_position=_signed(side, half + met[side]))
        if (side := _at(each, half, along))
        else each
        for each in rig.droppers
    )
    return rig.with_(droppers=made), tuple(
        f"A dropper to {side} of the center: {feet_inches(half + along[side])} off along the "
        f"footrope, {feet_inches(half + met[side])} off along the sweep."
        for side in SIDES
    )


def _signed(side, out):
    return -out if side == PORT else out


def _at(dropper, half, along):
    """Return the side of which ``dropper`` is the one that hangs ``along``; None if neither."""
    for side, out in along.items():
        if abs(dropper.position - _signed(side, half + out)) <= ROUNDING:
            return side
    return None
