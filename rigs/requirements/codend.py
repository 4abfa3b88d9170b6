"""The codend: its mesh, and that nothing closes it up."""

from rigs.words.gear import SQUARE, Rig
from rigs.words.units import INCH

from .base import Measure
from .readings import Readings
from .spans import Steps


class MeshSize(Measure):
    """How wide the meshes open, the average of a row."""

    key = "mesh_size"
    dimension = "length"
    allowance = "length"
    scale = Steps(INCH / 16, 4)

    def read(self, rig: Rig) -> Readings | None:
        return None if rig.codend is None else ([rig.codend.mesh], ("codend",))


class MeshCount(Measure, shared=True):
    """How many meshes from the terminus have that opening, for vessels of some length."""

    dimension = "count"
    scale = Steps(1, 10)

    def read(self, rig: Rig) -> Readings | None:
        if rig.codend is None:
            return None
        counted: float | None = rig.codend.counted
        if counted is not None and rig.codend.hanging == SQUARE:
            counted /= 2  # two bars of square mesh for one mesh of diamond
        return [counted], ("codend",)


class MeshCountLong(MeshCount):
    """The same for long vessels."""

    key = "mesh_count_long"


class MeshCountShort(MeshCount):
    """The same for short vessels."""

    key = "mesh_count_short"


class MeshTopClear(Measure):
    """Whether nothing closes up the net's top half."""

    key = "mesh_top_clear"
    dimension = "flag"

    def read(self, rig: Rig) -> Readings | None:
        return None if rig.codend is None else ([rig.codend.top_clear], ("top half of the net",))


class MeshNotBlocked(Measure):
    """Whether no mesh is blocked and no bars twist around each other."""

    key = "mesh_not_blocked"
    dimension = "flag"

    def read(self, rig: Rig) -> Readings | None:
        return None if rig.codend is None else ([rig.codend.mesh_clear], ("codend",))
