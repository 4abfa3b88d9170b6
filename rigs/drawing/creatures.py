"""Simple shapes of what lives before the net: fish that rise and life that stays down."""

from collections.abc import Iterable
from math import cos, pi, sin

from .scene import XY, Circle, Polygon, Polyline, Shape

_ROUND = 20


def _oval(at: XY, a: float, b: float, style: str, tilt: float = 0.0) -> Polygon:
    """Return an oval round ``at`` that reaches ``a`` along and ``b`` across its ``tilt``."""
    x, y = at
    points = []
    for i in range(_ROUND):
        turn = 2 * pi * i / _ROUND
        u, v = a * cos(turn), b * sin(turn)
        points.append((x + u * cos(tilt) - v * sin(tilt), y + u * sin(tilt) + v * cos(tilt)))
    return Polygon(tuple(points), style)


def _turned(points: Iterable[XY], x: float, y: float, tilt: float) -> tuple[XY, ...]:
    return tuple(
        (x + u * cos(tilt) - v * sin(tilt), y + u * sin(tilt) + v * cos(tilt)) for u, v in points
    )


def fish(x: float, y: float, length: float = 26, tilt: float = 0.0) -> tuple[Shape, ...]:
    """Return a slim fish round (x, y), head to the left; ``tilt`` in radians, head up if > 0."""
    half = length / 2
    tail = _turned(
        (
            (half * 0.6, 0),
            (half * 1.15, -half * 0.38),
            (half * 0.95, 0),
            (half * 1.15, half * 0.38),
        ),
        x,
        y,
        tilt,
    )
    ((ex, ey),) = _turned(((-half * 0.6, -half * 0.06),), x, y, tilt)
    return (
        Polygon(tail, "fish"),
        _oval((x, y), half * 0.85, half * 0.27, "fish", tilt),
        Circle(ex, ey, max(1.0, length * 0.045), "eye"),
    )


def flatfish(x: float, y: float, length: float = 34) -> tuple[Shape, ...]:
    """Return a flatfish lying on the bottom with its middle at (x, y), head to the left."""
    half = length / 2
    tail = ((x + half * 0.75, y), (x + half * 1.2, y - 4), (x + half * 1.2, y + 4))
    return (
        Polygon(tail, "flatfish"),
        _oval((x, y), half * 0.9, half * 0.26, "flatfish"),
        Circle(x - half * 0.55, y - 2.4, 1.3, "eye"),
        Circle(x - half * 0.34, y - 3, 1.3, "eye"),
    )


def crab(x: float, y: float, width: float = 22) -> tuple[Shape, ...]:
    """Return a crab on the bottom, its middle at (x, y)."""
    half = width / 2
    legs: list[Shape] = []
    for side in (-1, 1):
        for reach, drop in ((0.95, 4.5), (0.7, 5.5), (0.45, 6)):
            knee = (x + side * half * (reach + 0.18), y - 1)
            legs.append(
                Polyline(((x + side * half * 0.4, y), knee, (knee[0] + side * 2, y + drop)), "limb")
            )
        claw = (x + side * half * 0.95, y - half * 0.75)
        legs.append(Polyline(((x + side * half * 0.45, y - 2), claw), "limb"))
        legs.append(Circle(*claw, half * 0.2, "crab"))
    return (*legs, _oval((x, y), half * 0.62, half * 0.4, "crab"))


def lobster(x: float, y: float, length: float = 42) -> tuple[Shape, ...]:
    """Return a lobster on the bottom, its middle at (x, y), head to the left."""
    half = length / 2
    body: list[Shape] = [
        _oval((x - half * 0.18, y), half * 0.42, half * 0.17, "crab"),
        *(
            _oval(
                (x + half * (0.28 + 0.2 * i), y + 0.6 * i),
                half * 0.14,
                half * (0.15 - 0.02 * i),
                "crab",
            )
            for i in range(3)
        ),
    ]
    fan = (
        (x + half * 0.78, y),
        (x + half * 1.05, y - 4),
        (x + half * 1.1, y + 2),
        (x + half * 1.02, y + 5),
    )
    claws: list[Shape] = []
    for lift in (-0.32, -0.08):
        tip = (x - half * 0.9, y + half * lift)
        claws.append(Polyline(((x - half * 0.5, y), tip), "limb"))
        claws.append(_oval((tip[0] - 4, tip[1]), 6, 2.7, "crab", -0.25))
    legs = [
        Polyline(((x + half * at, y + 2), (x + half * (at - 0.1), y + half * 0.3)), "limb")
        for at in (-0.35, -0.15, 0.05)
    ]
    feelers = [
        Polyline(
            ((x - half * 0.55, y - 2), (x - half * 0.7, y - 12), (x - half * 0.3, y - 19)), "limb"
        )
    ]
    return (*feelers, *legs, Polygon(fan, "crab"), *claws, *body)
