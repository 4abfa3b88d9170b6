"""
How much of an animal may be on board, by the smallest mesh on board.

A limit of this sort is a table: a class of mesh a row, each from where the one before
ends. Meshes are metres, weights kilograms.
"""

from typing import NamedTuple

from rigs.words import units
from rigs.words.say import gettext as _

_ROUNDING = 1e-9  # metres: a mesh typed in inches becomes a binary fraction


class MeshClass(NamedTuple):
    """
    One row: with mesh smaller than ``under``, at most ``most`` may be on board.

    ``under`` is None in the last row. ``metric`` is what the regulation prints beside its
    pounds, None if it prints none: weight up to that keeps the limit too. ``where`` names
    the waters that it holds in, empty for all.
    """

    under: float | None
    most: float
    metric: float | None = None
    where: str = ""

    @property
    def edge(self) -> float:
        """The heaviest that keeps the limit."""
        return max(self.most, self.metric or 0.0)


class Load(NamedTuple):
    """
    A weight on board and the smallest mesh on board with it.

    ``mesh`` is None if nobody knows; ``is_smallest`` is False where it is the mesh of one
    net alone, so that another may have a smaller.
    """

    weight: float
    mesh: float | None
    is_smallest: bool


Table = tuple[MeshClass, ...]


def possible(table: Table, load: Load) -> Table:
    """Return the rows of ``table`` that may be the one that ``load`` goes by."""
    if load.mesh is None:
        return table
    mesh = load.mesh
    fits = [row.under is None or mesh < row.under - _ROUNDING for row in table]
    place = fits.index(True)
    return table[place : place + 1] if load.is_smallest else table[: place + 1]


def class_text(table: Table, row: MeshClass) -> str:
    """Return the meshes of one ``row`` in words: ``2 1/2 in to under 3 in``."""
    place = table.index(row)
    before = table[place - 1].under if place else None
    start = "" if before is None else units.inches(before)
    if row.under is None:
        return _("{start} or more").format(start=start) if start else _("any mesh")
    end = _("under {inches}").format(inches=units.inches(row.under))
    return f"{start} to {end}" if start else end


def pounds(kilograms: float) -> str:
    """Print a mass in kilograms as whole pounds: ``7,500 lb``."""
    return f"{kilograms / units.POUND:,.0f} lb"


def row_text(table: Table, row: MeshClass) -> str:
    """Return one ``row`` in words: ``7,500 lb with mesh of 2 1/2 in to under 3 in``."""
    mesh = class_text(table, row)
    told = (
        _("{pounds} with ").format(pounds=pounds(row.most))
        + ("" if mesh == "any mesh" else _("mesh of "))
        + mesh
    )
    told = told.replace("mesh of under", "mesh under")
    return f"{told}, {row.where}" if row.where else told


def table_text(table: Table) -> str:
    """Return the whole ``table`` in words, one figure where it is the same for all meshes."""
    if len({(row.most, row.where) for row in table}) == 1:
        return pounds(table[0].most)
    return "; ".join(row_text(table, row) for row in table)


def metric_text(table: Table) -> str:
    """Return the weights of ``table`` in kilograms, in the order of its rows."""
    weights = [f"{row.metric or row.most:,.0f} kg" for row in table]
    return "; ".join(dict.fromkeys(weights))
