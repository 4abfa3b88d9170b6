"""Twine drawn as crossing slanted lines over any four-sided piece of net."""

from collections.abc import Callable

from .scene import XY, Polyline


def weave(knot: Callable[[int, int], XY], columns: int, rows: int, step: int = 1) -> list[Polyline]:
    """
    Return the twines of a piece of net ``columns`` by ``rows`` meshes.

    ``knot(i, j)`` returns the (x, y) of the knot at column i and row j, both counted
    from nought; ``step`` is how many columns lie between one twine and the next.
    """
    twines = []
    for start in range(-rows, columns + 1, step):
        for rising in (False, True):
            run = [
                knot(start + j, rows - j if rising else j)
                for j in range(rows + 1)
                if 0 <= start + j <= columns
            ]
            if len(run) > 1:
                twines.append(Polyline(tuple(run), "net"))
    return twines
