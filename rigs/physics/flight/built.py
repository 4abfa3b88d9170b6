"""From a rig and a Guess of the rest to a System: every node, wire, twine and chain of it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil, pi
from typing import NamedTuple

import numpy as np

from rigs.physics import chain
from rigs.physics.balance import FLOAT_SIZE, float_lift, wire_mass_per_metre
from rigs.physics.chain import GRAVITY, KEPT_IN_SEA_WATER, SEA_WATER
from rigs.words.gear import PORT, SIDES, STARBOARD, Dropper, GroundCable, Leg, Rig, Sweep
from rigs.words.units import INCH

from . import droppers, netting
from .bars import Bars, Figures, straight
from .first_shape import WING_SHARE, Shape
from .laid import FOOT, HEAD, WING_END, Cut, Station, netted, rope_ends, stations
from .system import Hangers, System
from .unknowns import CABLE_SIZE, LEG_SIZE, Guess, cable_length, leg_lengths

ACROSS, ALONG = 1.4, 0.06
"""Drag coefficients of a rope or wire across and along the stream, for its thickness. Across:
Fridman, FAO Fishing Manuals, Calculations for fishing gear designs (1986), read, there for
plain line; along: from memory, as its skin."""
FLOAT_ACROSS = 0.5
"""Drag coefficient of a ball. From memory, as in handbooks of flow below the drag crisis."""
WIRE = 0.4e11
"""Newtons a square metre of a wire's diameter squared at a strain of 1: two fifths of the
square is steel. From memory; how much a wire stretches hardly matters here."""

SEAM = 300.0
"""Newtons a metre that hold a seam between the rope's ends. A means of reckoning."""

_PIECE = 5.0  # metres of leg or cable between two nodes
_NEAR = 1e-6
_SWEEP, _DROP = 5 / 16 * INCH, 42 * INCH  # chain and drop chains of a sweep nobody measured


@dataclass(frozen=True)
class Grid:
    """How finely a net is looked at: ``step`` metres along ropes, ``rows`` from mouth to codend."""

    step: float = 2.0
    rows: int = 6


PAGE = Grid()
"""The grid that answers while one types; ``tests.benchmarks flight`` prints how far off it is."""


@dataclass(frozen=True)
class Built:
    """
    A System with the names of its nodes, and ``start``, where they begin (nodes, 3).

    ``head`` and ``foot`` map a side to its rope: (metres from the rope's center, node) in
    order. ``edge`` are the mouth's stations, ``rows`` how many nodes stand behind each, the
    edge's own first. ``legs`` maps (side, "top" or "bottom" or "cable") to nodes from ahead
    aft; ``sweep`` are the sweep's nodes by side. With ``half`` only starboard is there.
    """

    system: System
    start: Figures
    half: bool
    edge: tuple[Station, ...]
    rows: int
    end: int
    head: dict[str, list[tuple[float, int]]]
    foot: dict[str, list[tuple[float, int]]]
    legs: dict[tuple[str, str], list[int]]
    sweep: dict[str, list[int]]


class _Builder:
    """Builds one net part by part; what each part adds is said at its method."""

    def __init__(self, rig: Rig, guess: Guess, cut: Cut, grid: Grid, *, half: bool) -> None:
        self.rig, self.guess, self.cut, self.grid, self.half = rig, guess, cut, grid, half
        self.sides: tuple[str, ...] = (STARBOARD,) if half else (STARBOARD, PORT)
        self.at: list[Figures] = []
        self.free: list[tuple[bool, bool, bool]] = []
        self.there: list[float] = []
        self.wires: list[Bars] = []
        self.seams: list[tuple[int, int, int, int]] = []
        self.edge = stations(rig, cut, grid.step, half=half)
        self.shape = self._first_shape()
        self.head: dict[str, list[tuple[float, int]]] = {}
        self.foot: dict[str, list[tuple[float, int]]] = {}
        self.legs: dict[tuple[str, str], list[int]] = {}
        self.sweep: dict[str, list[int]] = {}
        self.end = -1

    def _first_shape(self) -> Shape:
        wing = WING_SHARE * self.rig.footrope.length
        reach = []
        for side in SIDES:
            top, bottom = leg_lengths(self.rig, side)
            reach.append((top + bottom) / 2 + cable_length(self.rig, side))
        mean = sum(reach) / len(reach)
        out = self.guess.door_spread / 2 - wing
        aft = float(np.sqrt(max(mean**2 - out**2, (mean / 4) ** 2)))
        return Shape(aft, wing, {side: rope_ends(self.rig, side) for side in SIDES})

    def add(self, at: Figures, *, fixed: bool = False, middle: bool = False) -> int:
        """Return a new node; one in the ``middle`` of a half net stays there, half of it."""
        self.at.append(np.asarray(at, dtype=float))
        self.free.append((not fixed, not (fixed or (middle and self.half)), not fixed))
        self.there.append(0.5 if middle and self.half else 1.0)
        return len(self.at) - 1

    def node(self, station: int, row: int = 0) -> int:
        rows = self.grid.rows
        return self.end if row == rows else station * rows + row

    def wire(
        self, nodes: Sequence[int], rest: Sequence[float], size: float, weight: float = 1.0
    ) -> None:
        """Add wire of ``size`` metres, ``weight`` times as heavy as such wire, along ``nodes``."""
        self.wires.append(
            straight(
                list(pairwise(nodes)),
                list(rest),
                stiff=WIRE * size**2,
                thick=size,
                heavy=weight * wire_mass_per_metre(size) * KEPT_IN_SEA_WATER * GRAVITY,
                across=ACROSS,
                along=ALONG,
            )
        )

    def body(self) -> Bars:
        """Add the nodes of the netting; return its twines."""
        rows = self.grid.rows
        behind = self.shape.behind(self.cut.deep)
        for each in self.edge:
            front = self.shape.of(each)
            middle = each.out == 0.0 and each.part in (HEAD, FOOT)
            for row in range(rows):
                self.add(front + row / rows * (behind - front), middle=middle)
        self.end = self.add(behind, middle=True)
        shares = [row / rows for row in range(rows + 1)]
        return netting.twines(
            self.edge, self.cut, self.guess, shares, self.node, closed=not self.half
        )

    def ropes(self) -> None:
        """Add headrope, footrope and the lines down the wing ends."""
        guess = self.guess
        for side in self.sides:
            down = sorted(
                (each.out, self.node(i))
                for i, each in enumerate(self.edge)
                if each.side == side and each.part == WING_END
            )
            nodes = [node for __, node in down]
            seam = nodes[len(nodes) // 2]
            self.seams.append((seam, nodes[0], nodes[-1], nodes[-1]))
            # A wing end is hung by half; its line is thin.
            self.wire(nodes, [self.cut.wing_end / 2] * 2, guess.rope_size / 2)
            tips = {HEAD: nodes[0], FOOT: nodes[-1]}
            long = dict(zip((HEAD, FOOT), netted(self.rig, self.cut, side), strict=True))
            whole = dict(zip((HEAD, FOOT), self.shape.ends[side], strict=True))
            for part, weight, ropes in (
                (HEAD, guess.headrope, self.head),
                (FOOT, guess.footrope, self.foot),
            ):
                rope = sorted(
                    (each.out, self.node(i))
                    for i, each in enumerate(self.edge)
                    if each.part == part and (each.side == side or each.out == 0.0)
                )
                rope.append((long[part], tips[part]))
                rope += self._bare(part, side, long[part], whole[part], tips[part])
                ropes[side] = rope
                rest = [b[0] - a[0] for a, b in pairwise(rope)]
                self.wire([node for __, node in rope], rest, guess.rope_size, weight)

    def _bare(
        self, part: str, side: str, start: float, end: float, tip: int
    ) -> list[tuple[float, int]]:
        """Return the nodes of a rope that goes on beyond its netting, which is slack cut longer."""
        if end - start < 2e-2:
            return []
        stops = [end]
        if part == FOOT:
            stops += [
                abs(each.position)
                for each in self._droppers(side)
                if start + 2e-2 < abs(each.position) < end - 2e-2
            ]
        ahead = self.at[tip]
        return [
            (out, self.add(ahead - np.array([out - start, 0.0, 0.0]))) for out in sorted(set(stops))
        ]

    def _droppers(self, side: str) -> list[Dropper]:
        sign = -1 if side == PORT else 1
        return [each for each in self.rig.droppers or () if each.position * sign >= -_NEAR]

    def wing_ends(self) -> Bars:
        """
        Return what holds the seam at each wing end between the ends of the ropes.

        A slack wing end folds inward or outward by chance, and the net flies by that an inch or
        two higher or lower: so it does not fold. An assumption.
        """
        nodes = np.array(self.seams, dtype=np.intp)
        weights = np.tile([1.0, -0.5, -0.5, 0.0], (len(nodes), 1))
        return netting.springs(nodes, weights, SEAM)

    def ahead(self) -> None:
        """Add legs, ground cables and the doors, which stand where they are."""
        for side in self.sides:
            sign = -1 if side == PORT else 1
            top, bottom = leg_lengths(self.rig, side)
            bottom += self.guess.leg_apart
            cable = cable_length(self.rig, side)
            leg = next((each for each in self.rig.legs if each.side == side), None)
            drawn = next((each for each in self.rig.ground_cables if each.side == side), None)
            door_at = np.array([0.0, sign * self.guess.door_spread / 2, 0.05])
            ends = {"top": self.head[side][-1][1], "bottom": self.foot[side][-1][1]}
            middle = (self.at[ends["top"]] + self.at[ends["bottom"]]) / 2
            part = cable / (cable + (top + bottom) / 2)
            join_at = door_at + (middle - door_at) * part
            join_at[2] = 0.1
            door, join = self.add(door_at, fixed=True), self.add(join_at)
            sizes = _sizes(leg, drawn)
            self._run(side, "cable", door, join, cable, sizes["cable"])
            heavy = self.guess.legs
            self._run(side, "top", join, ends["top"], top, sizes["top"], heavy)
            self._run(side, "bottom", join, ends["bottom"], bottom, sizes["bottom"], heavy)

    def _run(
        self,
        side: str,
        name: str,
        first: int,
        last: int,
        length: float,
        size: float,
        weight: float = 1.0,
    ) -> None:
        pieces = max(2, ceil(length / _PIECE))
        start, way = self.at[first], self.at[last] - self.at[first]
        between = [self.add(start + way * k / pieces) for k in range(1, pieces)]
        line = [first, *between, last]
        self.legs[side, name] = line
        self.wire(line, [length / pieces] * pieces, size, weight)

    def chains(self) -> Hangers:
        """
        Return what the droppers weigh on the footrope, of which what lies weighs nothing.

        With a sweep they go to it too: a chain that is not taut between them lies with its lower
        part on the bottom, as one that hangs free does.
        """
        hung = self._hung()
        if self.rig.sweep is not None:
            hung = [(side, _whole(each, self.rig.sweep), share) for side, each, share in hung]
            self._sweep(hung)
        return _hangers(
            [
                _Hung(self._at_rope(side, each), each, share * each.count)
                for side, each, share in hung
            ],
            self.guess,
        )

    def _hung(self) -> list[tuple[str, Dropper, float]]:
        """Return (side, dropper, how much of it is there) for each dropper, the center's once."""
        found = []
        for each in self.rig.droppers or ():
            center = abs(each.position) < _NEAR
            side = PORT if each.position < -_NEAR else STARBOARD
            if side in self.sides:
                found.append((side, each, 0.5 if center and self.half else 1.0))
        return found

    def _at_rope(self, side: str, dropper: Dropper) -> int:
        out = abs(dropper.position)
        return min(self.foot[side], key=lambda each: abs(each[0] - out))[1]

    def _sweep(self, hung: list[tuple[str, Dropper, float]]) -> None:
        """Add the sweep on the bottom, and what ties the footrope to it."""
        sweep = self.rig.sweep
        assert sweep is not None
        stock = chain.stock_for(sweep.diameter or _SWEEP)
        heavy = chain.weight_in_sea_water(stock, 1.0)
        center_drop: tuple[float, int] | None = None
        lines: dict[str, list[tuple[float, int]]] = {side: [] for side in self.sides}
        for side, each, share in hung:
            reach = abs(self.rig.footrope.end(side))
            half = self._half_sweep(sweep, side, reach)
            out = abs(each.position if each.sweep_position is None else each.sweep_position)
            if each.sweep_position is None:
                out *= half / reach
            else:
                out *= self.guess.sweep
            top = self._at_rope(side, each)
            foot = self.add(
                self.at[top] + np.array([0.1, 0.0, 0.02 - self.at[top][2]]), middle=out < _NEAR
            )
            assert each.diameter is not None
            assert each.length is not None
            made = chain.stock_for(each.diameter)
            # Its weight and its drag are in the tables; this is how far it lets the two apart.
            self.wires.append(
                straight(
                    [(top, foot)],
                    [each.length],
                    stiff=WIRE * made.wire**2,
                    thick=made.wire,
                    heavy=0.0,
                    across=0.0,
                    along=0.0,
                    share=share * each.count,
                )
            )
            if out < _NEAR:
                center_drop = (0.0, foot)
            else:
                lines[side].append((out, foot))
        for side in self.sides:
            tip_out, tip = self.foot[side][-1]
            half = self._half_sweep(sweep, side, tip_out)
            if center_drop is None:
                under = self.at[self.foot[STARBOARD][0][1]]
                center_drop = (0.0, self.add(under * np.array([1, 0, 0]), middle=True))
            line = [center_drop, *sorted(lines[side]), (max(half, tip_out), tip)]
            self.sweep[side] = [node for __, node in line]
            self.wires.append(
                straight(
                    list(pairwise(self.sweep[side])),
                    [max(b[0] - a[0], 0.05) for a, b in pairwise(line)],
                    stiff=WIRE * stock.wire**2,
                    thick=stock.wire,
                    heavy=heavy,
                    across=0.0,
                    along=0.0,
                )
            )

    def _half_sweep(self, sweep: Sweep, side: str, reach: float) -> float:
        """Return the metres of ``sweep`` on a side whose footrope has ``reach``."""
        half = sweep.half(side)
        return (reach * 1.05 if half is None else half) * self.guess.sweep

    def fixed(self) -> Figures:
        """Return the newtons (nodes, 3) that stay: floats, the codend, what else pulls up."""
        guess = self.guess
        force = np.zeros((len(self.at), 3))
        for each in self.rig.floats or ():
            center = abs(each.position) < _NEAR
            side = PORT if each.position < -_NEAR else STARBOARD
            if side not in self.sides:
                continue
            size = each.diameter or FLOAT_SIZE
            scale = float_lift(size).likely / float_lift(FLOAT_SIZE).likely
            lift = guess.float_lift * scale * GRAVITY
            area = FLOAT_ACROSS * pi * size**2 / 4
            push = np.array([SEA_WATER / 2 * guess.speed**2 * area, 0.0, lift])
            push *= 0.5 if center and self.half else 1.0
            for node, share in between(self.head[side], abs(each.position)):
                force[node] += share * push
        for side in self.sides:
            for (near, one), (far, other) in pairwise(self.foot[side]):
                force[[one, other], 2] += guess.pull_up * (far - near) / 2
        area = guess.codend * self.rig.footrope.length**2
        force[self.end, 0] += SEA_WATER / 2 * guess.speed**2 * area * (0.5 if self.half else 1.0)
        return force


def build(rig: Rig, guess: Guess, cut: Cut, grid: Grid = PAGE, *, half: bool) -> Built:
    """
    Return ``rig`` as Built, with netting as it was ``cut`` and all else by ``guess``.

    ``half`` builds starboard alone, for a rig that is alike on both sides. Raise KeyError, in
    words for the reader, for chain that nobody sells.
    """
    builder = _Builder(rig, guess, cut, grid, half=half)
    twines = builder.body()
    builder.ropes()
    builder.ahead()
    hangers = builder.chains()
    start, free = np.array(builder.at), np.array(builder.free)
    system = System(
        bars=(Bars.joined(builder.wires), Bars.joined([twines, builder.wing_ends()])),
        hangers=hangers,
        free=free,
        fixed=builder.fixed(),
        bottom=np.array(builder.there),
        rubs=np.full(len(start), guess.friction),
        speed=guess.speed,
    )
    return Built(
        system=system,
        start=start,
        half=half,
        edge=tuple(builder.edge),
        rows=grid.rows,
        end=builder.end,
        head=builder.head,
        foot=builder.foot,
        legs=builder.legs,
        sweep=builder.sweep,
    )


def _sizes(leg: Leg | None, cable: GroundCable | None) -> dict[str, float]:
    """Return the metres of wire of top leg, bottom leg and ground cable."""
    return {
        "top": (leg and leg.top_diameter) or LEG_SIZE,
        "bottom": (leg and leg.bottom_diameter) or LEG_SIZE,
        "cable": (cable and cable.diameter) or CABLE_SIZE,
    }


def between(rope: list[tuple[float, int]], out: float) -> list[tuple[int, float]]:
    """Return the nodes between which a thing ``out`` metres along ``rope`` hangs, with shares."""
    for (near, one), (far, other) in pairwise(rope):
        if out <= far:
            part = max(0.0, (out - near) / (far - near))
            return [(one, 1 - part), (other, part)]
    return [(rope[-1][1], 1.0)]


def _whole(dropper: Dropper, sweep: Sweep) -> Dropper:
    """Return ``dropper`` with what nobody measured of it as is likely on a net with ``sweep``."""
    size = dropper.diameter or sweep.diameter or _SWEEP
    return replace(dropper, diameter=size, length=dropper.length or _DROP)


class _Hung(NamedTuple):
    """A dropper at its ``node``; ``number`` of its chains are there."""

    node: int
    dropper: Dropper
    number: float

    @property
    def make(self) -> tuple[float | None, float | None]:
        """What it is made of: nominal size and length."""
        return self.dropper.diameter, self.dropper.length


def _hangers(hung: list[_Hung], guess: Guess) -> Hangers:
    """Return ``hung`` as Hangers."""
    makes = list(dict.fromkeys(each.make for each in hung))
    tables = [
        droppers.table(size or 0.0, length or 0.0, guess.speed, guess.friction)
        for size, length in makes
    ]
    count = len(droppers.heights())
    nodes = [each.node for each in hung]
    table = [makes.index(each.make) for each in hung]
    number = [each.number for each in hung]
    return Hangers(
        nodes=np.array(nodes, dtype=np.intp),
        table=np.array(table, dtype=np.intp),
        number=np.array(number, dtype=float),
        heights=droppers.heights(),
        aft=np.array([each.aft for each in tables]).reshape(-1, count),
        down=np.array([each.down for each in tables]).reshape(-1, count),
    )
