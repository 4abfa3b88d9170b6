"""The codend: its mesh, and that nothing closes it up."""

from dataclasses import replace

from rigs.words import mesh
from rigs.words.gear import DIAMOND, SQUARE, Codend, Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
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
    return _(
        "Measure {SERIES} meshes in a row, along the length of the net. Measure square mesh "
        "from corner to corner. Stay at least {FROM_LACINGS} meshes from the lacings. Use a "
        "wedge gauge {metric} thick that tapers {metric2} in {metric3}. Press it in with "
        "{light:g} kg, or {heavy:g} kg for mesh of {turn} or more. ({MEASURED})"
    ).format(
        SERIES=mesh.SERIES,
        FROM_LACINGS=mesh.FROM_LACINGS,
        metric=metric(gauge.thick),
        metric2=metric(gauge.taper),
        metric3=metric(gauge.length),
        light=gauge.light,
        heavy=gauge.heavy,
        turn=turn,
        MEASURED=mesh.MEASURED,
    )


_VESSEL = ((11, 20), (5, 10), (1, 4))  # feet from the length at which the rule changes, by level


MESH = Question(
    "mesh",
    gettext_lazy("Mesh opening, average of {SERIES} in a row").format(SERIES=mesh.SERIES),
    ROW,
    "in",
    "mesh",
    help=gettext_lazy(
        "Enter {SERIES} readings with commas between, or their average alone."
    ).format(SERIES=mesh.SERIES),
    how=_how_to_gauge(),
    of=lambda rig: None if rig.codend is None else rig.codend.mesh,
    stop="codend",
    place=20,
)


class MeshSize(Measure):
    """How wide the meshes open, the average of a row."""

    key = "mesh_size"
    about = gettext_lazy("Codend mesh")
    sizes_of = gettext_lazy("Codend mesh, on average")
    dimension = "length"
    allowance = "length"
    scale = Steps(INCH / 16, 4)
    turn = 90

    def read(self, rig: Rig) -> Readings | None:
        return None if rig.codend is None else ([rig.codend.mesh], ("codend",))

    sheet = one("codend", MESH)

    def put(self, making: Making) -> Rig:
        codend = replace(there(making.rig.codend), mesh=making.reading())
        return making.rig.with_(codend=codend)

    def near(self, making: Making) -> Told:
        """The average of a row of meshes, and at the higher levels what it is the average of."""
        average = making.reading()
        rig = making.rig.with_(codend=replace(there(making.rig.codend), mesh=average))
        told = _("Twenty meshes in a row are {inches} on average.").format(inches=inches(average))
        if making.level == EASIEST:
            return rig, (told,)
        smallest, largest = (
            average + sign * making.rng.randint(2, 5) * INCH / 16 for sign in (-1, 1)
        )
        return rig, (
            told,
            _("The smallest of them is {inches}, the largest {inches2}.").format(
                inches=inches(smallest), inches2=inches(largest)
            ),
        )

    def drawn(self, rig: Rig, sizing: Sizing) -> Rig:
        rig = _with_vessel(rig, sizing)
        codend = rig.codend or Codend(None, None)
        return rig.with_(codend=replace(codend, mesh=sizing.sound(self.key)))


VESSEL_LENGTH = Question(
    "vessel_length",
    gettext_lazy("Length of the vessel"),
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
    about = gettext_lazy("How far the mesh runs")
    scale = Steps(1, 10)

    def read(self, rig: Rig) -> Readings | None:
        if rig.codend is None:
            return None
        return [_counted(rig)], ("codend",)

    sheet = one(
        "codend",
        Question(
            "mesh_count",
            gettext_lazy("How many meshes from the terminus have that opening"),
            COUNT,
            "meshes",
            help=gettext_lazy("If it is square mesh, count bars and say so: 200 bars."),
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
        count, what = (2 * counted, _("bars of square mesh")) if square else (counted, "meshes")
        # In two parts, since a count of more digits would tell that there are enough.
        behind = round(count * rng.uniform(0.3, 0.7))
        codend = replace(there(making.rig.codend), counted=count, hanging=hanging)
        return making.rig.with_(codend=codend, vessel_length=vessel), (
            _("The vessel is {feet_inches} long.").format(feet_inches=feet_inches(vessel)),
            _("From the terminus, one piece of netting runs {behind} {what}.").format(
                behind=behind, what=what
            ),
            _("The next, of the same mesh, runs {value} more.").format(value=count - behind),
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
    sizes_of = gettext_lazy("Meshes of one size, counted from the terminus")
    turn = 91


class MeshCountShort(MeshCount):
    """The same for short vessels."""

    key = "mesh_count_short"
    sizes_of = gettext_lazy("Meshes of one size, counted from the terminus")
    turn = 92


class MeshTopClear(LookedAt):
    """Whether nothing closes up the net's top half."""

    key = "mesh_top_clear"
    about = gettext_lazy("Top half of the net")
    met = Sights(
        plain=(
            gettext_lazy("Nothing is on the top half of the net."),
            gettext_lazy("The top half of the net is netting alone."),
        ),
        close=(
            gettext_lazy("Chafing gear is laced under the bottom half of the codend."),
            gettext_lazy("One splitting strap of thin line lies slack around the codend."),
            gettext_lazy("One bull rope of thin line lies slack along the top of the codend."),
        ),
    )
    broken = Sights(
        plain=(
            gettext_lazy("Chafing gear covers the whole top half of the codend."),
            gettext_lazy("Ropes are laced back and forth across the top half of the codend."),
        ),
        close=(
            gettext_lazy("A small sheet of chafing gear is laced to the top half of the codend."),
            gettext_lazy(
                "One thin line is laced through the top of the codend and draws it tight."
            ),
            gettext_lazy("Two ropes lie along the top of the codend and pull its meshes shut."),
        ),
    )

    SPOTS = (gettext_lazy("top half of the net"),)

    def read(self, rig: Rig) -> Readings | None:
        return None if rig.codend is None else ([rig.codend.top_clear], self.SPOTS)

    sheet = one(
        gettext_lazy("top half of the net"),
        Question(
            "top_clear",
            gettext_lazy("Is the top half of the net clear of what closes it up?"),
            how=gettext_lazy(
                "Ropes, lines, chafing gear and strengtheners close it up. One splitting "
                "strap and one bull rope of line up to {inches} may be there if they do not "
                "pull it in. ({TOP_HALF}) A net strengthener may come under 648.80(g)(5): "
                "then choose “not measured” and describe it in the notes."
            ).format(inches=inches(mesh.STRAP), TOP_HALF=mesh.TOP_HALF),
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
    about = gettext_lazy("Netting of the codend")
    met = Sights(
        plain=(
            gettext_lazy("Every mesh of the codend is open, with straight bars from knot to knot."),
            gettext_lazy("One layer of netting makes the codend. Its bars run straight."),
        ),
        close=(
            gettext_lazy("Torn meshes are repaired in twine of another color, in one layer."),
            gettext_lazy(
                "The codend is of double twine. The two lie side by side from knot to knot."
            ),
            gettext_lazy("A new panel is sewn into the codend in place of a torn one."),
        ),
    )
    broken = Sights(
        plain=(
            gettext_lazy("A second bag of netting lies inside the codend, over all its meshes."),
            gettext_lazy("The bars twist around each other at every knot of the codend."),
        ),
        close=(
            gettext_lazy("Torn meshes are covered with a patch of netting, in two layers."),
            gettext_lazy(
                "The codend is of double twine. The two twist around each other at some knots."
            ),
            gettext_lazy("A new panel is sewn into the codend over an old one."),
        ),
    )

    def read(self, rig: Rig) -> Readings | None:
        return None if rig.codend is None else ([rig.codend.mesh_clear], ("codend",))

    sheet = one(
        "codend",
        Question(
            "mesh_clear",
            gettext_lazy("Are the meshes open, with no bars twisted around each other?"),
            how=gettext_lazy(
                "Look for meshes rigged to block others. Look at the knots. ({CLOSED_UP})"
            ).format(CLOSED_UP=mesh.CLOSED_UP),
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
