"""Something on a rig that looks wrong and is not, to test whoever judges by the look of it."""

from collections.abc import Callable
from random import Random
from typing import Any, NamedTuple, TypeVar

from rigs.words.gear import Rig

from .making import swapped

_Part = TypeVar("_Part")


class Oddity(NamedTuple):
    """
    Something that draws the eye, on the requirement that it seems to break.

    ``serial`` is its place among all of them: tasks are dealt in that order, so that a new
    one takes the next number and none ever changes. ``make`` is the function of a rig and
    a random.Random that makes it, and raises CannotMake or ValueError where that fails;
    ``words`` what to say of it to a trainee who fell for it. ``key`` is that of its
    requirement, which fills it in.
    """

    serial: int
    name: str
    make: Callable[[Rig, Random], Rig]
    words: str
    key: str = ""


def one_changed(
    parts: tuple[_Part, ...], rng: Random, changes: Callable[[_Part], dict[str, Any]]
) -> tuple[_Part, ...]:
    """Return ``parts`` with one of them, at random, changed as ``changes`` has it."""
    index = rng.randrange(len(parts))
    return swapped(parts, index, **changes(parts[index]))


def one_between(
    parts: tuple[_Part, ...], rng: Random, between: Callable[[_Part, _Part], _Part]
) -> tuple[_Part, ...]:
    """Return ``parts`` with one more that ``between`` makes of two neighbors, at random."""
    index = rng.randrange(len(parts) - 1)
    more = between(*parts[index : index + 2])
    return (*parts[: index + 1], more, *parts[index + 1 :])
