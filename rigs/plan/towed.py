"""What an owner told of how a net is towed, for seeing it in flight."""

from rigs.physics.balance import FLOAT_SIZE, float_lift
from rigs.physics.flight import Told
from rigs.physics.tow.report import SPEED_SPREAD
from rigs.words.gear import Rig
from rigs.words.units import KNOT

from .entry import Entries

SPEED = 3 * KNOT
"""The speed of a tow where none was told. Common practice, no source."""


def told(
    entries: Entries, rig: Rig, speed: float | None = None, spread: float = SPEED_SPREAD
) -> Told:
    """
    Return what ``entries`` tell of towing ``rig``.

    ``speed`` through the water in m/s, good to ``spread``, is that of a tow, and stands before
    the one entered; with neither it is SPEED, and known half as well.
    """
    usual = entries.get("tow_speed")
    if speed is None and usual is not None:
        speed = usual
    if speed is None:
        speed, spread = SPEED, 2 * SPEED_SPREAD
    lift, size = entries.get("float_lift"), entries.get("float_size") or FLOAT_SIZE
    rope, leg = entries.get("footrope_weight"), entries.get("leg_weight")
    lengths = [
        length for each in rig.legs for length in (each.top_length, each.bottom_length) if length
    ]
    mean_leg = sum(lengths) / len(lengths) if lengths else None
    return Told(
        speed=speed,
        speed_spread=spread,
        door_spread=entries.get("door_spread"),
        float_lift=None
        if lift is None
        else lift * float_lift(FLOAT_SIZE).likely / float_lift(size).likely,
        footrope_weight=None if rope is None else rope / rig.footrope.length,
        leg_weight=None if leg is None or mean_leg is None else leg / mean_leg,
    )
