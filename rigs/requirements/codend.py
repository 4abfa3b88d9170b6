"""The codend: its mesh, and that nothing closes it up."""

from rigs.words import mesh
from rigs.words.gear import SQUARE, Rig
from rigs.words.units import INCH, inches, metric, trimmed

from .base import Measure
from .questions import COUNT, LENGTH, ROW, Question, one
from .readings import Readings
from .spans import Steps


def _how_to_gauge() -> str:
    """Return how the regulation has a row of meshes measured, in short."""
    gauge = mesh.GAUGE
    turn = f"{gauge.turn * 1000:g} mm ({trimmed(gauge.turn / INCH, 2)} in)"
    return (
        f"Measure {mesh.SERIES} meshes in a row, along the length of the net. Measure square "
        f"mesh from corner to corner. Stay at least {mesh.FROM_LACINGS} meshes from the "
        f"lacings. Use a wedge gauge {metric(gauge.thick)} thick that tapers "
        f"{metric(gauge.taper)} in {metric(gauge.length)}. Press it in with {gauge.light:g} kg, "
        f"or {gauge.heavy:g} kg for mesh of {turn} or more. ({mesh.MEASURED})"
    )


class MeshSize(Measure):
    """How wide the meshes open, the average of a row."""

    key = "mesh_size"
    dimension = "length"
    allowance = "length"
    scale = Steps(INCH / 16, 4)

    def read(self, rig: Rig) -> Readings | None:
        return None if rig.codend is None else ([rig.codend.mesh], ("codend",))

    sheet = one(
        "codend",
        Question(
            "mesh",
            f"Mesh opening, average of {mesh.SERIES} in a row",
            ROW,
            "in",
            "mesh",
            help=f"Enter {mesh.SERIES} readings with commas between, or their average alone.",
            how=_how_to_gauge(),
            of=lambda rig: None if rig.codend is None else rig.codend.mesh,
            stop="codend",
            place=20,
        ),
    )


VESSEL_LENGTH = Question(
    "vessel_length",
    "Length of the vessel",
    LENGTH,
    "ft",
    "vessel",
    of=lambda rig: rig.vessel_length,
    stop="codend",
    place=10,
)


def _counted(rig: Rig) -> float | None:
    """Return how many meshes were counted: two bars of square mesh make one of diamond."""
    if rig.codend is None or rig.codend.counted is None:
        return None
    return rig.codend.counted / 2 if rig.codend.hanging == SQUARE else rig.codend.counted


class MeshCount(Measure, shared=True):
    """How many meshes from the terminus have that opening, for vessels of some length."""

    dimension = "count"
    scale = Steps(1, 10)

    def read(self, rig: Rig) -> Readings | None:
        if rig.codend is None:
            return None
        return [_counted(rig)], ("codend",)

    sheet = one(
        "codend",
        Question(
            "mesh_count",
            "How many meshes from the terminus have that opening",
            COUNT,
            "meshes",
            help="If it is square mesh, count bars and say so: 200 bars.",
            of=_counted,
            stop="codend",
            place=50,
        ),
        turns_on=VESSEL_LENGTH,
    )


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

    sheet = one(
        "top half of the net",
        Question(
            "top_clear",
            "Is the top half of the net clear of what closes it up?",
            how="Ropes, lines, chafing gear and strengtheners close it up. One splitting strap "
            f"and one bull rope of line up to {inches(mesh.STRAP)} may be there if they do not "
            f"pull it in. ({mesh.TOP_HALF}) A net strengthener may come under 648.80(g)(5): "
            "then choose “not measured” and describe it in the notes.",
            of=lambda rig: None if rig.codend is None else rig.codend.top_clear,
            stop="codend",
            place=30,
        ),
    )


class MeshNotBlocked(Measure):
    """Whether no mesh is blocked and no bars twist around each other."""

    key = "mesh_not_blocked"
    dimension = "flag"

    def read(self, rig: Rig) -> Readings | None:
        return None if rig.codend is None else ([rig.codend.mesh_clear], ("codend",))

    sheet = one(
        "codend",
        Question(
            "mesh_clear",
            "Are the meshes open, with no bars twisted around each other?",
            how=f"Look for meshes rigged to block others. Look at the knots. ({mesh.CLOSED_UP})",
            of=lambda rig: None if rig.codend is None else rig.codend.mesh_clear,
            stop="codend",
            place=40,
        ),
    )
