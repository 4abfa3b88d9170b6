"""One tow's shine turned into heights along the footrope."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from rigs.physics import chain
from rigs.physics.tow import UNKNOWN, Bottom, Known, height_report
from rigs.physics.tow.report import SPEED_SPREAD
from rigs.words.gear import PORT, STARBOARD, Dropper, Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import INCH

from .catch import Catch
from .hung import Hung
from .window import EVEN, mean, mean_of

CENTRE = "centre"  # as tasks are pinned with it; PLACE_NAMES has how it is said
PORT_WING, PORT_CORNER = gettext_lazy("port wing"), gettext_lazy("port corner")
STARBOARD_CORNER, STARBOARD_WING = gettext_lazy("starboard corner"), gettext_lazy("starboard wing")
PLACES = (PORT_WING, PORT_CORNER, CENTRE, STARBOARD_CORNER, STARBOARD_WING)
"""Where shine is read, port to starboard; a wing's is read at its outermost dropper."""

PLACE_NAMES = {place: place for place in PLACES} | {CENTRE: "center"}
"""Each of PLACES as people on deck say it."""

_NEAR = 6 * INCH  # a dropper this near the center or a corner is the one meant


@dataclass(frozen=True)
class Tow:
    """
    One tow as written down on deck.

    ``speed`` is through the water, m/s. ``shine`` maps some of PLACES to metres of
    worn chain. ``rig`` is the rig as it then was, None if as it is now; ``bottom`` what it
    was towed over, ``speed_spread`` how well the speed is known, m/s.
    """

    speed: float
    shine: Mapping[str, float]
    catch: Catch | None = None
    rig: Rig | None = None
    label: str = ""
    bottom: Bottom = UNKNOWN
    speed_spread: float = SPEED_SPREAD

    @property
    def known(self) -> Known:
        """How well its conditions are known."""
        return Known(self.bottom, self.speed_spread)


@dataclass(frozen=True, slots=True)
class PlaceHeight:
    """
    The footrope's height at one place, in metres.

    ``position`` is metres from the center; ``rule`` is length minus shine, ``model`` the
    height worked out under tow, ``low`` and ``high`` the model's spread. ``at_least`` says that
    the dropper there showed no shine, so that the footrope may fly higher.
    """

    place: str
    position: float
    dropper: Dropper
    shine: float
    rule: float
    model: float
    low: float
    high: float
    at_least: bool

    @property
    def hung(self) -> Hung:
        """What the dropper there is made of."""
        return Hung.of(self.dropper)

    @property
    def name(self) -> str:
        """The place in words."""
        return PLACE_NAMES[self.place]

    @property
    def side(self) -> str | None:
        """``port``, ``starboard``, or None for the center."""
        return None if self.place == CENTRE else self.place.split()[0]


@dataclass(frozen=True, slots=True)
class TowHeights:
    """The heights of one tow, port to starboard, each in metres above the bottom."""

    tow: Tow
    places: tuple[PlaceHeight, ...]

    @property
    def model(self) -> float:
        """Mean height by the model over the places read."""
        return mean([each.model for each in self.places])

    @property
    def rule(self) -> float:
        """Mean height by the rule of thumb over the places read."""
        return mean([each.rule for each in self.places])

    @property
    def low(self) -> float:
        """Mean of the model's lowest heights."""
        return mean([each.low for each in self.places])

    @property
    def high(self) -> float:
        """Mean of the model's highest heights."""
        return mean([each.high for each in self.places])

    def side(self, side: str) -> float | None:
        """Return the mean height by the model on ``side``, None if nothing was read there."""
        return self.level(side, "model")

    def level(self, side: str | None, by: str) -> float | None:
        """
        Return the mean height on ``side``, or of the whole footrope if that is None.

        ``by`` is ``model`` or ``rule``. None if nothing was read there.
        """
        return mean_of(
            getattr(each, by) for each in self.places if side is None or each.side == side
        )

    def _apart(self, attribute: str) -> float | None:
        """Return the mean of port less starboard, over places read on both sides."""
        found: dict[str, float] = {each.place: getattr(each, attribute) for each in self.places}
        return mean_of(
            found[port] - found[starboard]
            for port, starboard in (
                (PORT_WING, STARBOARD_WING),
                (PORT_CORNER, STARBOARD_CORNER),
            )
            if port in found and starboard in found
        )

    @property
    def difference(self) -> float | None:
        """Port less starboard by the model, over places read on both sides; None if none."""
        return self._apart("model")

    @property
    def rule_difference(self) -> float | None:
        """The same by length minus shine: what can be seen on deck."""
        return self._apart("rule")

    @property
    def low_side(self) -> str | None:
        """
        The side that flies lower, by either way; None if even or not read on both sides.

        A fast tow presses both sides down and so brings them together in the model: a
        difference that the shine shows is no less there.
        """
        if self.difference is None or self.rule_difference is None:
            return None
        most = max(self.rule_difference, self.difference, key=abs)
        if abs(most) <= EVEN + 1e-9:
            return None
        return PORT if most < 0 else STARBOARD

    @property
    def bottom_share(self) -> float | None:
        """The share of bottom animals in the catch, None if it was not weighed."""
        return self.tow.catch.share if self.tow.catch else None

    @property
    def at_least(self) -> bool:
        """Whether no dropper showed any shine."""
        return all(each.at_least for each in self.places)

    @property
    def clear_places(self) -> tuple[PlaceHeight, ...]:
        """The places whose dropper showed no shine."""
        return tuple(each for each in self.places if each.at_least)


def dropper_at(rig: Rig, place: str) -> Dropper:
    """
    Return the dropper of ``rig`` that ``place``, one of PLACES, names.

    Raise ValueError, in plain words, if there is none or its size was not measured.
    """
    if place not in PLACES:
        raise ValueError(_("“{place}” is not a place where shine is read.").format(place=place))
    rope = rig.footrope
    hung = rig.droppers or ()
    if place in (PORT_WING, STARBOARD_WING):
        sign, corner = (-1, rope.port_corner) if place == PORT_WING else (1, rope.starboard_corner)
        beyond = [each for each in hung if sign * (each.position - corner) > _NEAR]
        found = max(beyond, key=lambda each: sign * each.position, default=None)
    else:
        target = {
            CENTRE: 0.0,
            PORT_CORNER: rope.corner(PORT),
            STARBOARD_CORNER: rope.corner(STARBOARD),
        }[place]
        found = min(hung, key=lambda each: abs(each.position - target), default=None)
        if found is not None and abs(found.position - target) > _NEAR:
            found = None
    if found is None:
        raise ValueError(
            _("This net has no dropper at the {PLACE_NAMES}.").format(
                PLACE_NAMES=PLACE_NAMES[place]
            )
        )
    if found.length is None or found.diameter is None:
        raise ValueError(
            _("The dropper at the {PLACE_NAMES} was not measured.").format(
                PLACE_NAMES=PLACE_NAMES[place]
            )
        )
    return found


_report = lru_cache(maxsize=4096)(height_report)


def heights(tow: Tow, rig: Rig) -> TowHeights:
    """
    Return the TowHeights of ``tow``, made with ``rig`` unless the tow names its own.

    Raise ValueError, in plain words and naming the place, for a shine that cannot be,
    a place without a dropper, chain of an unknown size, or no shine at all.
    """
    rig = tow.rig or rig
    if not tow.shine:
        raise ValueError(_("No shine was written down for this tow."))
    for place in tow.shine:
        dropper_at(rig, place)
    found = []
    for place in PLACES:
        if place not in tow.shine:
            continue
        dropper, shine = dropper_at(rig, place), tow.shine[place]
        try:
            hung = Hung.of(dropper)
            choice = chain.Choice(hung.stock, dropper.count)
            report = _report(choice, hung.length, tow.speed, shine, tow.known)
        except KeyError as error:
            raise ValueError(
                _("At the {PLACE_NAMES}: {args}").format(
                    PLACE_NAMES=PLACE_NAMES[place], args=error.args[0]
                )
            ) from error
        except ValueError as error:
            raise ValueError(
                _("At the {PLACE_NAMES}: {error}").format(
                    PLACE_NAMES=PLACE_NAMES[place], error=error
                )
            ) from error
        found.append(
            PlaceHeight(
                place=place,
                position=dropper.position,
                dropper=dropper,
                shine=shine,
                rule=report.rule.height,
                model=report.model.height,
                low=report.model.low,
                high=report.model.high,
                at_least=report.at_least,
            )
        )
    return TowHeights(tow, tuple(found))
