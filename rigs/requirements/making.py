"""What a requirement is handed that is to make a rig break or keep it, and the words they share."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from random import Random
from typing import Any, Protocol, TypeVar

from rigs.words.gear import SIDES, Footrope, Rig
from rigs.words.say import gettext as _

from .spans import LEVELS, Limited, SoldChain, Steps

EASIEST = LEVELS[0]
MOST_APART = 4  # steps between the reading that decides and the others beside it

Told = tuple[Rig, tuple[str, ...]]
"""A rig, and what was noted of it, each a sentence."""

_T = TypeVar("_T")


class CannotMake(Exception):
    """A rig as it was asked for cannot be had from this one; the message is the key."""


class Rule(Limited, Protocol):
    """What is asked of a rule here: a ``rulebook.Requirement`` has it all."""

    @property
    def key(self) -> str: ...

    @property
    def measure(self) -> Any: ...

    @property
    def vessel_over(self) -> float | None: ...

    @property
    def vessel_up_to(self) -> float | None: ...

    def say(self, value: Any) -> str: ...


class Rules(Protocol):
    """What is asked of a rule set here: a ``rulebook.Rulebook`` has it all."""

    def requirement(self, key: str) -> Any: ...

    def has(self, key: str) -> bool: ...


@dataclass(frozen=True)
class Making:
    """
    One reading in the making: of which ``rule``, on which side of it, how near.

    ``rig`` is a sound one to begin with, or sound in this rule; ``sound`` draws another on
    a Footrope. ``off`` is how far off the limit the reading is to lie, SI, None if that is
    drawn as ``level`` has it; ``side`` is the one to change, where there are two.
    """

    rig: Rig
    rule: Rule
    rules: Rules
    rng: Random
    level: int
    broken: bool
    sound: Callable[[Footrope], Rig]
    off: float | None = None
    side: str | None = None

    @property
    def limit(self) -> Any:
        """The limit of the rule, SI."""
        return self.rule.limit

    @property
    def scale(self) -> Steps:
        """How readings lie about a limit that is measured with a tape or a gauge."""
        scale: Steps = self.rule.measure.scale
        return scale

    def limit_of(self, key: str) -> Any:
        """Return the limit of another rule; raise KeyError if the rule set has none."""
        return self.rules.requirement(key).limit

    def reading(self, edge_breaks: bool | None = None) -> float:
        """Return a reading in SI on the side asked for, as far off as is asked."""
        if self.off is not None:
            value: float = self.limit + (
                self.off if self.broken is self.rule.is_upper else -self.off
            )
            return value
        scale: Steps | SoldChain = self.rule.measure.scale
        return scale.reading(self.rng, self.rule, self.broken, self.level, edge_breaks)

    def apart(self) -> float:
        """Return a distance in SI, as far as is asked, for limits of nothing."""
        return self.scale.distance(self.rng, self.level) if self.off is None else self.off

    @property
    def inside(self) -> float:
        """A reading as far inside an upper limit as ``off`` says, whichever side is wanted."""
        value: float = self.limit - (self.off or 0.0)
        return value

    def beside(self, worst: float, count: int, most: int = MOST_APART) -> list[float]:
        """
        Return ``count`` readings more, up to ``most`` steps better than ``worst``, which decides.

        They lie about it alike whether the rule is met or broken, so that how far the readings
        are spread tells nothing; which means that some of them may break the rule too.
        """
        step = self.scale.step
        away = -step if self.rule.is_upper else step
        return [worst + self.rng.randint(0, most) * away for __ in range(count)]

    def mixed(self, *values: _T) -> list[_T]:
        """Return ``values`` as a list in an order that tells nothing."""
        mixed = list(values)
        self.rng.shuffle(mixed)
        return mixed

    def either_side(self) -> str:
        """Return the side to change, at random if it is not said."""
        return self.side or self.rng.choice(SIDES)


def listed(texts: Sequence[str]) -> str:
    """Return ``texts`` as they are read out: ``8 in, 9 in and 8 1/2 in``."""
    *most, last = texts
    return _("{most} and {last}").format(most=", ".join(most), last=last) if most else last


def there(part: _T | None) -> _T:
    """Return a ``part`` of a rig that was made, which has all its parts; else CannotMake."""
    if part is None:
        raise CannotMake(_("a part is missing"))
    return part


def swapped(parts: tuple[_T, ...], index: int, **changes: Any) -> tuple[_T, ...]:
    """Return ``parts`` with ``changes`` made to one of them."""
    changed: Any = replace(parts[index], **changes)  # type: ignore[type-var]
    return (*parts[:index], changed, *parts[index + 1 :])


def at_random(making: Making, part: str, **changes: Any) -> Rig:
    """Return the rig with ``changes`` made to one of its parts of that name."""
    parts = getattr(making.rig, part)
    return making.rig.with_(**{part: swapped(parts, making.rng.randrange(len(parts)), **changes)})


def farthest(making: Making, part: str, field: str) -> Rig:
    """Return the rig with ``field`` of one of its parts as is wanted, none nearer the limit."""
    parts, wanted = getattr(making.rig, part), making.reading()
    if not making.broken:
        better = min if making.rule.is_upper else max
        parts = tuple(
            replace(each, **{field: better(getattr(each, field), wanted)}) for each in parts
        )
    index = making.rng.randrange(len(parts))
    return making.rig.with_(**{part: swapped(parts, index, **{field: wanted})})
