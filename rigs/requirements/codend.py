"""The codend: its mesh, and that nothing closes it up."""

from dataclasses import replace

from rigs.words import mesh
from rigs.words.gear import DIAMOND, SQUARE, Codend, Rig
from rigs.words.units import FOOT, INCH, feet_inches, inches, metric, trimmed

from .base import Measure
from .making import EASIEST, Making, Told, there
from .questions import COUNT, LENGTH, ROW, Question, one
from .readings import Readings
from .sights import LookedAt, Sights
from .sizing import Sizing
from .spans import Steps
from .worked_out.codend import MESH_COUNT


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


_VESSEL = ((11, 20), (5, 10), (1, 4))  # feet from the length at which the rule changes, by level


class MeshSize(Measure):
    """How wide the meshes open, the average of a row."""

    key = "mesh_size"
    about = "Codend mesh"
    sizes_of = "Codend mesh, on average"
    dimension = "length"
    allowance = "length"
    scale = Steps(INCH / 16, 4)
    turn = 90

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

    def put(self, making: Making) -> Rig:
        codend = replace(there(making.rig.codend), mesh=making.reading())
        return making.rig.with_(codend=codend)

    def near(self, making: Making) -> Told:
        """The average of a row of meshes, and at the higher levels what it is the average of."""
        average = making.reading()
        rig = making.rig.with_(codend=replace(there(making.rig.codend), mesh=average))
        told = f"Twenty meshes in a row are {inches(average)} on average."
        if making.level == EASIEST:
            return rig, (told,)
        smallest, largest = (
            average + sign * making.rng.randint(2, 5) * INCH / 16 for sign in (-1, 1)
        )
        return rig, (
            told,
            f"The smallest of them is {inches(smallest)}, the largest {inches(largest)}.",
        )

    def drawn(self, rig: Rig, sizing: Sizing) -> Rig:
        rig = _with_vessel(rig, sizing)
        codend = rig.codend or Codend(None, None)
        return rig.with_(codend=replace(codend, mesh=sizing.sound(self.key)))


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
    worked_out = MESH_COUNT
    about = "How far the mesh runs"
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

    def put(self, making: Making) -> Rig:
        codend = replace(there(making.rig.codend), counted=round(making.reading()))
        return making.rig.with_(codend=codend)

    def near(self, making: Making) -> Told:
        """How far the mesh runs, and the vessel, which decides how far it has to."""
        rule, rng = making.rule, making.rng
        off = rng.randint(*_VESSEL[making.level - 1]) * FOOT
        over = rule.vessel_over
        vessel = there(rule.vessel_up_to) - off if over is None else over + off
        counted = round(making.reading())
        hanging = rng.choice([DIAMOND, DIAMOND, SQUARE]) if making.level > EASIEST else DIAMOND
        square = hanging == SQUARE
        count, what = (2 * counted, "bars of square mesh") if square else (counted, "meshes")
        # In two parts, since a count of more digits would tell that there are enough.
        behind = round(count * rng.uniform(0.3, 0.7))
        codend = replace(there(making.rig.codend), counted=count, hanging=hanging)
        return making.rig.with_(codend=codend, vessel_length=vessel), (
            f"The vessel is {feet_inches(vessel)} long.",
            f"From the terminus, one piece of netting runs {behind} {what}.",
            f"The next, of the same mesh, runs {count - behind} more.",
        )

    def drawn(self, rig: Rig, sizing: Sizing) -> Rig:
        rig = _with_vessel(rig, sizing)
        if not sizing.rules.requirement(self.key).applies_to(rig, None):
            return rig
        codend = rig.codend or Codend(None, None)
        return rig.with_(codend=replace(codend, counted=round(sizing.sound(self.key))))


class MeshCountLong(MeshCount):
    """The same for long vessels."""

    key = "mesh_count_long"
    sizes_of = "Meshes of one size, counted from the terminus"
    turn = 91


class MeshCountShort(MeshCount):
    """The same for short vessels."""

    key = "mesh_count_short"
    sizes_of = "Meshes of one size, counted from the terminus"
    turn = 92


class MeshTopClear(LookedAt):
    """Whether nothing closes up the net's top half."""

    key = "mesh_top_clear"
    about = "Top half of the net"
    met = Sights(
        plain=(
            "Nothing is on the top half of the net.",
            "The top half of the net is netting alone.",
        ),
        close=(
            "Chafing gear is laced under the bottom half of the codend.",
            "One splitting strap of thin line lies slack around the codend.",
            "One bull rope of thin line lies slack along the top of the codend.",
        ),
    )
    broken = Sights(
        plain=(
            "Chafing gear covers the whole top half of the codend.",
            "Ropes are laced back and forth across the top half of the codend.",
        ),
        close=(
            "A small sheet of chafing gear is laced to the top half of the codend.",
            "One thin line is laced through the top of the codend and draws it tight.",
            "Two ropes lie along the top of the codend and pull its meshes shut.",
        ),
    )

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

    def breach(self, rig: Rig, side: str, wire: str) -> Rig:
        return rig.with_(codend=replace(there(rig.codend), top_clear=False))


class MeshNotBlocked(LookedAt):
    """Whether no mesh is blocked and no bars twist around each other."""

    key = "mesh_not_blocked"
    about = "Netting of the codend"
    met = Sights(
        plain=(
            "Every mesh of the codend is open, with straight bars from knot to knot.",
            "One layer of netting makes the codend. Its bars run straight.",
        ),
        close=(
            "Torn meshes are repaired in twine of another color, in one layer.",
            "The codend is of double twine. The two lie side by side from knot to knot.",
            "A new panel is sewn into the codend in place of a torn one.",
        ),
    )
    broken = Sights(
        plain=(
            "A second bag of netting lies inside the codend, over all its meshes.",
            "The bars twist around each other at every knot of the codend.",
        ),
        close=(
            "Torn meshes are covered with a patch of netting, in two layers.",
            "The codend is of double twine. The two twist around each other at some knots.",
            "A new panel is sewn into the codend over an old one.",
        ),
    )

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

    def breach(self, rig: Rig, side: str, wire: str) -> Rig:
        return rig.with_(codend=replace(there(rig.codend), mesh_clear=False))


def _with_vessel(rig: Rig, sizing: Sizing) -> Rig:
    """Return ``rig`` with a vessel, since how far the mesh has to run turns on its length."""
    if rig.vessel_length is not None:
        return rig
    return rig.with_(vessel_length=sizing.rng.randint(42, 80) * FOOT)
