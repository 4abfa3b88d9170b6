"""A drawing of a net in flight put together: what is seen, and below it the key and a note."""

from collections.abc import Sequence
from typing import NamedTuple

from .. import marks
from ..scene import WIDTH, Data, KeyEntry, Polygon, Scene, Shape


class Below(NamedTuple):
    """What goes under a drawing from ``y`` down: the key's ``entries`` and a ``note``."""

    y: float
    entries: Sequence[KeyEntry]
    note: str


def whole(
    title: str, words: Sequence[str], shapes: Sequence[Shape], below: Below, data: Data = ()
) -> Scene:
    """
    Return the Scene of ``shapes`` with what is ``below``; ``words`` tell what is to be seen.

    ``data`` are about the drawing as a whole.
    """
    signs, y = marks.legend(below.entries, below.y)
    note, y = marks.paragraph(below.note, y + 2)
    paper = Polygon(((0, 0), (WIDTH, 0), (WIDTH, y), (0, y)), "paper")
    description = " ".join((below.note, *words))
    return Scene(WIDTH, y, title, description, [paper, *shapes, *signs, *note], data)
