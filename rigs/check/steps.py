"""
The steps of a check, from the port wing end over the center to the starboard one.

Of many alike the officer writes down the worst: the smallest float, the widest gap, the
thickest chain. If that one keeps the limit, so do the others. Mesh alone goes by the
average of a row. The order and the questions are common practice, no source; what they
are checked against is not known here.
"""

from dataclasses import dataclass, replace
from typing import NamedTuple

from rigs.words import mesh, sizes
from rigs.words.gear import PORT, SIDES, STARBOARD
from rigs.words.units import INCH, inches, metric, trimmed

FLAG = "flag"
LENGTH = "length"
COUNT = "count"
ROW = "row"
"""Lengths measured one after another in a row, of which the average counts."""

_ENTRY, _ROW_ENTRY = 60, 400  # the most letters of an entry

_KEYS = {
    "fm": ("fm", "ft", "in"),
    "ft": ("ft", "in", "1/4", "1/2", "3/4"),
    "in": ("ft", "in", "1/4", "1/2", "3/4"),
    "mm": ("mm", "in", "/"),
    "meshes": ("bars",),
}

_ROW_KEYS = ("1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "mm", ",")

LEFT_OVER = (None, None, True)
"""The stretch of wing beyond the last dropper; where it begins was not noted."""
BETWEEN = (None, None, False)


@dataclass(frozen=True, slots=True)
class Question:
    """
    One thing to look at or to measure.

    ``sort`` is FLAG (yes or no), LENGTH, COUNT or ROW; ``bare`` the unit of a number
    written without one; ``usual`` the sort of part it measures, as ``guards`` knows it;
    ``picks`` what is often written, for one tap; ``chain`` the question whose answer names
    the chain, where a length may be counted in links; ``how`` how it is to be looked at,
    for who asks.
    """

    name: str
    label: str
    sort: str = FLAG
    bare: str = ""
    usual: str = ""
    help: str = ""
    picks: tuple[str, ...] = ()
    chain: str = ""
    how: str = ""

    @property
    def keys(self):
        """What a keypad lacks for writing an answer: units and parts of an inch."""
        if self.sort == ROW:
            return _ROW_KEYS
        keys = ("in", "/") if len(self.picks) > 1 else _KEYS.get(self.bare, ())
        return (*keys, "links") if self.chain else keys

    @property
    def longest(self):
        """The most letters that an answer may have."""
        return _ROW_ENTRY if self.sort == ROW else _ENTRY

    @property
    def sure(self):
        """The name under which stands what was written when its writer said it is right."""
        return f"{self.name}_sure"


@dataclass(frozen=True, slots=True)
class Step:
    """One stop on the walk along the gear, with its Questions."""

    slug: str
    title: str
    questions: tuple[Question, ...]


class Value(NamedTuple):
    """
    One value checked against a requirement: answers, each times its factor, added up.

    ``size`` takes the sum without its sign, ``denied`` turns a yes into a no. ``spot`` is
    where it was taken, as a phrase or as (side, start, end, whether it is the last
    stretch of a wing).
    """

    spot: object
    terms: tuple[tuple[float, str], ...]
    size: bool = False
    denied: bool = False

    @property
    def names(self):
        return tuple(name for _, name in self.terms)


class Reading(NamedTuple):
    """
    What is read off a sheet for one requirement.

    If the answer to ``absent`` is no, there is nothing there to measure. Which of several
    limits binds turns on the answer to ``turns_on``.
    """

    values: tuple[Value, ...]
    absent: str = ""
    turns_on: str = ""

    @property
    def names(self):
        """The names of all the questions that bear on it."""
        told = [name for value in self.values for name in value.names]
        return frozenset(told) | {name for name in (self.absent, self.turns_on) if name}


_WIRES = tuple(inches(size) for size in sizes.wires())
_CHAINS = tuple(inches(size) for size in sizes.chains())
_FLOATS = tuple(inches(size) for size in sizes.floats())
_RIGHT_THERE = ("0",)


def _length(name, label, bare, usual, **options):
    return Question(name, label, LENGTH, bare, usual, **options)


def _wire_step(side):
    return Step(
        f"{side}_wire",
        f"{side.capitalize()} wires: length and cover",
        (
            Question(f"{side}_wire_bare", "Is all the wire bare, legs and ground cable?"),
            Question(f"{side}_extended", "Is there a piece added to a leg?"),
            _length(f"{side}_cable", "Ground cable, length", "fm", "cable", help="Door to legs."),
            _length(f"{side}_top_leg", "Top leg, length", "fm", "leg"),
            _length(f"{side}_bottom_leg", "Bottom leg, length", "fm", "leg"),
        ),
    )


def _gauge_step(side):
    return Step(
        f"{side}_gauge",
        f"{side.capitalize()} wires: thickness",
        (
            _length(f"{side}_cable_wire", "Ground cable, thickness", "in", "wire", picks=_WIRES),
            _length(f"{side}_top_wire", "Top leg, thickness", "in", "wire", picks=_WIRES),
            _length(f"{side}_bottom_wire", "Bottom leg, thickness", "in", "wire", picks=_WIRES),
        ),
    )


def _wing_step(side):
    return Step(
        f"{side}_wing",
        f"{side.capitalize()} wing, from the wing end in",
        (
            _length(
                f"{side}_last",
                "Wing end to the nearest dropper",
                "ft",
                "gap",
                help="Along the footrope. If none hangs on the wing, to the corner.",
            ),
            _length(
                f"{side}_sweep_last",
                "The same stretch along the sweep",
                "ft",
                "gap",
                help="From where that dropper meets the sweep to the wing end.",
            ),
            _length(
                f"{side}_gap",
                "Widest gap on this wing",
                "ft",
                "gap",
                help="From the corner out to the wing end. Count the stretch to the wing end too.",
            ),
            _length(f"{side}_wing", "Wing end to the corner, along the footrope", "ft", "wing"),
        ),
    )


def _corner_step(side):
    return Step(
        f"{side}_corner",
        f"{side.capitalize()} corner, where bottom wing meets belly",
        (
            _length(
                f"{side}_corner_off",
                "From the corner to the nearest dropper",
                "in",
                "offset",
                help="0 if one hangs right at it.",
                picks=_RIGHT_THERE,
            ),
        ),
    )


_CENTRE = Step(
    "center",
    "Center of the footrope",
    (
        _length(
            "center_off",
            "From the center to the nearest dropper",
            "in",
            "offset",
            help="0 if one hangs right at it.",
            picks=_RIGHT_THERE,
        ),
        _length("bosom", "Bosom, corner to corner", "ft", "bosom"),
        Question("off_bottom", "Is the footrope rigged to stay off the bottom?"),
    ),
)
_DROPPERS = Step(
    "droppers",
    "All the droppers",
    (
        Question("droppers", "Do droppers hang from the footrope?"),
        Question("dropper_bare", "Are they all bare chain?"),
        _length(
            "dropper_chain",
            "Size of the thickest chain",
            "in",
            "chain",
            help="The size it is sold under.",
            picks=_CHAINS,
        ),
        _length(
            "dropper_length",
            "Shortest dropper",
            "in",
            "dropper",
            help="Along the chain. If you count links, we use the longest link that the chain "
            "standard allows (from memory). Measure if it is close.",
            chain="dropper_chain",
        ),
        _length(
            "lean",
            "Worst lean of any dropper",
            "in",
            "offset",
            help="How much farther from the center one end is than the other. Measure the upper "
            "end along the footrope, the lower end along the sweep. 0 if all hang straight down.",
            picks=_RIGHT_THERE,
        ),
    ),
)
_SWEEP = Step(
    "sweep",
    "Sweep",
    (
        Question("sweep", "Is there a sweep on the net?"),
        Question("sweep_bare", "Is the sweep all bare chain?"),
        Question("sweep_joins", "Do sweep and footrope meet the bottom leg at one point?"),
        _length(
            "sweep_chain",
            "Size of the sweep chain",
            "in",
            "chain",
            help="The size it is sold under.",
            picks=_CHAINS,
        ),
        *(
            _length(
                f"{side}_sweep",
                f"From under the center to the {side} bottom leg",
                "ft",
                "half sweep",
                chain="sweep_chain",
            )
            for side in SIDES
        ),
    ),
)
_HEADROPE = Step(
    "headrope",
    "Headrope and floats",
    (
        _length("headrope", "Headrope, wing end to wing end", "ft", "headrope"),
        _length("float_size", "Smallest float, across", "in", "float", picks=_FLOATS),
        _length(
            "float_gap",
            "Widest gap between floats",
            "ft",
            "float gap",
            help="Middle to middle, and from the last float to the wing end.",
        ),
    ),
)


def _how_to_gauge():
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


_CODEND = Step(
    "codend",
    "Codend",
    (
        _length("vessel_length", "Length of the vessel", "ft", "vessel"),
        Question(
            "mesh",
            f"Mesh opening, average of {mesh.SERIES} in a row",
            ROW,
            "in",
            "mesh",
            help=f"Enter {mesh.SERIES} readings with commas between, or their average alone.",
            how=_how_to_gauge(),
        ),
        Question(
            "top_clear",
            "Is the top half of the net clear of what closes it up?",
            how="Ropes, lines, chafing gear and strengtheners close it up. One splitting strap "
            f"and one bull rope of line up to {inches(mesh.STRAP)} may be there if they do not "
            f"pull it in. ({mesh.TOP_HALF}) A net strengthener may come under 648.80(g)(5): "
            "then choose “not measured” and describe it in the notes.",
        ),
        Question(
            "mesh_clear",
            "Are the meshes open, with no bars twisted around each other?",
            how=f"Look for meshes rigged to block others. Look at the knots. ({mesh.CLOSED_UP})",
        ),
        Question(
            "mesh_count",
            "How many meshes from the terminus have that opening",
            COUNT,
            "meshes",
            help="If it is square mesh, count bars and say so: 200 bars.",
        ),
    ),
)
_GRATE = Step(
    "grate",
    "Grate",
    (
        Question("grate_ahead", "Is there a grate forward of the codend?"),
        Question("grate_stiff", "Is the grate rigid or semi-rigid?"),
        _length("bar_gap", "Widest space between bars", "mm", "bar gap"),
        _length("grate_width", "Width of the grate where it is attached", "in", "grate"),
        _length("outlet_width", "Width of the outlet", "in", "outlet"),
    ),
)

STEPS = (
    _wire_step(PORT),
    _gauge_step(PORT),
    _wing_step(PORT),
    _corner_step(PORT),
    _CENTRE,
    _corner_step(STARBOARD),
    _wing_step(STARBOARD),
    _gauge_step(STARBOARD),
    _wire_step(STARBOARD),
    _DROPPERS,
    _SWEEP,
    _HEADROPE,
    _CODEND,
    _GRATE,
)
QUESTIONS = {question.name: question for step in STEPS for question in step.questions}


def _one(spot, name, **options):
    return Reading((Value(spot, ((1, name),), **options),))


def _sides(what, *terms, spot="{side} {what}", **options):
    """Return one Value a side; ``{side}`` in a term's name stands for the side."""
    return tuple(
        Value(
            spot.format(side=side, what=what),
            tuple((factor, name.format(side=side)) for factor, name in terms),
            **options,
        )
        for side in SIDES
    )


_ROPE = ((1, "port_wing"), (1, "bosom"), (1, "starboard_wing"))
_ROPE_OVER_HEADROPE = Reading((Value("footrope", (*_ROPE, (-1, "headrope"))),))
_COUNTED = _one("codend", "mesh_count")._replace(turns_on="vessel_length")

READINGS = {
    "float_diameter": _one("smallest float", "float_size"),
    "float_spacing": _one("widest gap between floats", "float_gap"),
    "ground_gear_bare": Reading(_sides("wire", (1, "{side}_wire_bare"))),
    "top_leg_wire": Reading(_sides("top leg", (1, "{side}_top_wire"))),
    "bottom_leg_wire": Reading(_sides("bottom leg", (1, "{side}_bottom_wire"))),
    "ground_cable_wire": Reading(_sides("ground cable", (1, "{side}_cable_wire"))),
    "legs_equal": Reading(
        _sides("legs", (1, "{side}_top_leg"), (-1, "{side}_bottom_leg"), size=True)
    ),
    "legs_not_extended": Reading(_sides("legs", (1, "{side}_extended"), denied=True)),
    "door_to_wing_end": Reading(
        _sides("cable and top leg", (1, "{side}_cable"), (1, "{side}_top_leg"))
        + _sides("cable and bottom leg", (1, "{side}_cable"), (1, "{side}_bottom_leg"))
    ),
    "footrope_longer": _ROPE_OVER_HEADROPE,
    "footrope_excess": _ROPE_OVER_HEADROPE,
    "off_bottom": _one("footrope", "off_bottom"),
    "no_sweep": _one("sweep", "sweep", denied=True),
    "dropper_bare": _one("droppers", "dropper_bare")._replace(absent="droppers"),
    "dropper_stock": _one("thickest dropper", "dropper_chain")._replace(absent="droppers"),
    "dropper_length": _one("shortest dropper", "dropper_length")._replace(absent="droppers"),
    "dropper_at_centre": _one("center", "center_off")._replace(absent="droppers"),
    "dropper_at_corners": Reading(_sides("corner", (1, "{side}_corner_off")), absent="droppers"),
    "dropper_spacing": Reading(
        tuple(
            Value((side, *stretch), ((1, f"{side}_{name}"),))
            for side in SIDES
            for name, stretch in (("gap", BETWEEN), ("last", LEFT_OVER))
        )
    ),
    "sweep_stock": _one("sweep", "sweep_chain")._replace(absent="sweep"),
    "sweep_bare": _one("sweep", "sweep_bare")._replace(absent="sweep"),
    "sweep_excess": Reading(
        (
            Value(
                "sweep",
                (
                    (1, "port_sweep"),
                    (1, "starboard_sweep"),
                    *((-factor, name) for factor, name in _ROPE),
                ),
            ),
        ),
        absent="sweep",
    ),
    "sweep_excess_each_side": Reading(
        _sides("side of the sweep", (1, "{side}_sweep"), (-1, "{side}_wing"), (-0.5, "bosom")),
        absent="sweep",
    ),
    "sweep_wing_excess": Reading(
        _sides("wing end", (1, "{side}_sweep_last"), (-1, "{side}_last")), absent="sweep"
    ),
    "sweep_attachment": _one("the one that leans most", "lean")._replace(absent="droppers"),
    "sweep_joins_leg": _one("bottom leg", "sweep_joins")._replace(absent="sweep"),
    "mesh_size": _one("codend", "mesh"),
    "mesh_count_long": _COUNTED,
    "mesh_count_short": _COUNTED,
    "mesh_top_clear": _one("top half of the net", "top_clear"),
    "mesh_not_blocked": _one("codend", "mesh_clear"),
    "grate_bar_gap": _one("grate", "bar_gap"),
    "grate_outlet": Reading((Value("outlet", ((1, "outlet_width"), (-1, "grate_width"))),)),
    "grate_stiff": _one("grate", "grate_stiff"),
    "grate_position": _one("grate", "grate_ahead"),
}
"""What is read off a sheet for each requirement of gear."""


def asked(rulebook):
    """Return the requirements of ``rulebook`` that are read off gear, which a sheet asks for."""
    return tuple(r for r in rulebook.requirements if not r.of_trip)


def steps(rulebook):
    """Return the Steps of a check under ``rulebook``, with just the Questions it turns on."""
    needed = frozenset().union(
        *(READINGS[r.key].names for r in asked(rulebook) if r.key in READINGS)
    )
    found = []
    for step in STEPS:
        questions = tuple(each for each in step.questions if each.name in needed)
        if questions:
            found.append(replace(step, questions=questions))
    return tuple(found)


def judged_by(step, rulebook):
    """Return the keys of the requirements of ``rulebook`` on which ``step`` bears, in order."""
    names = {question.name for question in step.questions}
    return tuple(
        r.key for r in asked(rulebook) if r.key in READINGS and names & READINGS[r.key].names
    )
