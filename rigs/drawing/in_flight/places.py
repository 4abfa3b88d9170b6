"""Where the parts of a net in flight are: rows of metres aft, to starboard and up."""

from functools import cached_property

import numpy as np

from rigs.physics.flight import Flown
from rigs.physics.flight.bars import Figures
from rigs.physics.flight.built import between
from rigs.physics.flight.laid import FOOT, HEAD, WING_END
from rigs.words.gear import PORT, SIDES, STARBOARD, Dropper

_MIRRORED = np.array([1.0, -1.0, 1.0])
_NEAR = 1e-6
_SEAM = 0.5  # a wing end's station between headrope and footrope


def nets(before: Flown, after: Flown | None) -> tuple["Places", "Places | None"]:
    """Return the Places of the net that is drawn, and of that before a change if there is one."""
    return (Places(before), None) if after is None else (Places(after), Places(before))


class Places:
    """Where the parts of ``flown`` are on both sides, also where only one was worked out."""

    def __init__(self, flown: Flown) -> None:
        self.flown = flown
        self.head, self.foot = flown.rope("head"), flown.rope("foot")
        """Headrope and footrope, port to starboard."""

    @property
    def codend(self) -> Figures:
        """The place at which the codend begins."""
        return np.asarray(self.flown.at[self.flown.built.end])

    @property
    def shines(self) -> bool:
        """Whether anything of a dropper drags on the bottom."""
        return any(not each.clear for each in self.flown.trailing)

    @property
    def top(self) -> float:
        """How high the highest of it is, metres."""
        return float(self.flown.at[:, 2].max())

    @property
    def reach(self) -> float:
        """How far out of the middle the farthest of mouth and netting is, metres."""
        panels = [self.netting(upper=upper) for upper in (True, False)]
        return max(float(abs(each[..., 1]).max()) for each in (*panels, self.head, self.foot))

    def on_headrope(self, position: float) -> Figures:
        """Return the place ``position`` metres along the headrope from its center."""
        return self._on(self.flown.built.head, position)

    def on_footrope(self, position: float) -> Figures:
        """Return the place ``position`` metres along the footrope from its center."""
        return self._on(self.flown.built.foot, position)

    def _on(self, ropes: dict[str, list[tuple[float, int]]], position: float) -> Figures:
        side = PORT if position < 0 else STARBOARD
        shares = between(ropes[self._there(side)], abs(position))
        nodes, parts = [node for node, __ in shares], [part for __, part in shares]
        return self._on_side(np.array(parts) @ self.flown.at[nodes], side)

    def legs(self, side: str, name: str) -> Figures:
        """Return ``name``, top or bottom leg or cable, on ``side``, from ahead aft."""
        line = self.flown.built.legs[self._there(side), name]
        return self._on_side(self.flown.at[line], side)

    @cached_property
    def sweep(self) -> Figures | None:
        """The sweep, port to starboard; None without one."""
        lines = self.flown.built.sweep
        if not lines:
            return None
        port, starboard = (
            self._on_side(self.flown.at[lines[self._there(side)]], side) for side in SIDES
        )
        return np.concatenate([port[:0:-1], starboard])

    def swept(self) -> list[Figures]:
        """Return where each dropper runs from footrope to sweep; nothing without one."""
        found = []
        for side in SIDES:
            nodes = self.flown.built.sweep.get(self._there(side), [])
            hung = sorted(
                (each.position for each in self.flown.rig.droppers or () if _is_on(side, each)),
                key=abs,
            )
            # The sweep's nodes run from the center to the wing end; droppers hang at all between,
            # and may at the center.
            first = 0 if hung and abs(hung[0]) < _NEAR else 1
            for position, node in zip(hung, nodes[first:-1], strict=False):
                foot = self._on_side(self.flown.at[node], side)
                found.append(np.stack([self.on_footrope(position), foot]))
        return found

    def wing_end(self, side: str) -> Figures:
        """Return the wing end on ``side``, from the headrope down."""
        upper, lower = (self._netting(side, upper=upper)[:, 0] for upper in (True, False))
        return np.stack([upper[-2], upper[-1], lower[-2]])

    def netting(self, *, upper: bool, sides: tuple[str, ...] = SIDES) -> Figures:
        """
        Return the upper or the lower panel (columns, rows, 3) on ``sides``.

        Its columns run from seam to seam, port first, or from the center out to the seam on
        one side; its rows run from the mouth aft to the codend.
        """
        if len(sides) == 1:
            return self._netting(sides[0], upper=upper)
        port, starboard = (self._netting(side, upper=upper) for side in (PORT, STARBOARD))
        return np.concatenate([port[:0:-1], starboard])

    def _netting(self, side: str, *, upper: bool) -> Figures:
        built, there = self.flown.built, self._there(side)
        rope = HEAD if upper else FOOT
        found = []
        for i, each in enumerate(built.edge):
            if each.part == rope and (each.out == 0.0 or each.side == there):
                found.append((each.out, i))
            elif each.part == WING_END and each.side == there:
                # The rope's own end, and beyond it the seam; not the other rope's end.
                if each.out == _SEAM:
                    found.append((np.inf, i))
                elif (each.out < _SEAM) == upper:
                    found.append((1e6, i))
        nodes = [
            [*(i * built.rows + row for row in range(built.rows)), built.end]
            for __, i in sorted(found)
        ]
        return self._on_side(self.flown.at[np.array(nodes)], side)

    def _there(self, side: str) -> str:
        """Return the side that was worked out and tells of ``side``."""
        return STARBOARD if self.flown.built.half else side

    def _on_side(self, places: Figures, side: str) -> Figures:
        return places * _MIRRORED if side == PORT and self.flown.built.half else places


def _is_on(side: str, dropper: Dropper) -> bool:
    """Return whether ``dropper`` hangs on ``side``; one at the center is starboard's."""
    return (dropper.position < -_NEAR) == (side == PORT)
