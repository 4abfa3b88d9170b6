"""Where and when a vessel fishes, what it carries, and what it keeps."""

from collections.abc import Mapping
from datetime import date
from typing import ClassVar

from rigs.words import days, mesh, species
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.trip import Position, Trip

from .base import Measure
from .by_mesh import Load
from .codend import MESH
from .questions import DAY, LENGTH, MASS, NAMES, NO_NAMES, TRIP, Answer, OnSheet, Question
from .readings import Readings

LETTER = Question(
    "letter",
    gettext_lazy("Is the letter of authorization on board?"),
    stop=TRIP,
    place=10,
)
LETTER_ASKED = Question(
    "letter_asked",
    gettext_lazy("Day on which the letter was asked for"),
    DAY,
    help=gettext_lazy("Write month, day and year, like {EXAMPLE}.").format(EXAMPLE=days.EXAMPLE),
    stop=TRIP,
    place=20,
)
SMALLEST_MESH = Question(
    "smallest_mesh",
    gettext_lazy("Smallest mesh on board"),
    LENGTH,
    "in",
    "mesh",
    help=gettext_lazy("Of all nets and pieces of netting, in use or not."),
    how=gettext_lazy(
        "Measure it as the mesh of the codend: the average of {SERIES} in a row. ({MEASURED}) A "
        "piece of netting that is not part of a net counts too."
    ).format(SERIES=mesh.SERIES, MEASURED=mesh.MEASURED),
    stop=TRIP,
    place=30,
)
KEPT = Question(
    "kept",
    gettext_lazy("What fish are kept on board?"),
    NAMES,
    picks=(NO_NAMES,),
    help=gettext_lazy("Write every kind, with commas between. Write none if nothing is kept."),
    stop=TRIP,
    place=40,
)
HAKE = Question(
    "hake",
    gettext_lazy("Silver and offshore hake kept, together"),
    MASS,
    "lb",
    help=gettext_lazy("In pounds, or write kg."),
    stop=TRIP,
    place=50,
)
RED_HAKE = Question("red_hake", gettext_lazy("Red hake kept"), MASS, "lb", stop=TRIP, place=60)
REGULATED = Question(
    "regulated",
    gettext_lazy("Regulated species caught, total"),
    MASS,
    "lb",
    help=gettext_lazy(
        "Only for the bycatch standard of the whole fishery. No trip breaks a rule by it."
    ),
    stop=TRIP,
    place=70,
)
CAUGHT = Question("caught", gettext_lazy("Whole catch"), MASS, "lb", stop=TRIP, place=80)


def trip_of(
    answers: Mapping[str, Answer], day: date | None = None, position: Position | None = None
) -> Trip:
    """Return the Trip that the ``answers``, by question's name, tell of."""

    def number(question: Question) -> float | None:
        value = answers.get(question.name)
        return None if value is None else float(value)  # type: ignore[arg-type]

    letter, asked, kept = (answers.get(each.name) for each in (LETTER, LETTER_ASKED, KEPT))
    return Trip(
        day=day,
        position=position,
        letter_aboard=None if letter is None else bool(letter),
        kept=tuple(kept) if isinstance(kept, list) else None,
        hake=number(HAKE),
        regulated=number(REGULATED),
        caught=number(CAUGHT),
        red_hake=number(RED_HAKE),
        smallest_mesh=number(SMALLEST_MESH),
        mesh_in_use=number(MESH),
        letter_asked=date.fromisoformat(asked) if isinstance(asked, str) else None,
    )


def _told(*questions: Question) -> OnSheet:
    """Return what is asked for a reading off a trip."""
    return OnSheet((), asks=questions)


class TripMeasure(Measure, shared=True):
    """What is read off a Trip; its day and position stand at the head of a sheet."""

    trip = True
    sheet = _told()


class FishingDay(TripMeasure):
    """The day of the trip."""

    key = "season"
    dimension = "days"

    def read(self, trip: Trip) -> Readings | None:
        return None if trip.day is None else ([trip.day], (_("the day"),))


class InOpenArea(TripMeasure):
    """Where the vessel fishes, of the areas open on the day."""

    key = "area"
    dimension = "area"

    def read(self, trip: Trip) -> Readings | None:
        # Without a position it can still be that no area is open on the day.
        return None if trip.day is None else ([trip.position], (str(trip.position),))


class OutsideClosures(TripMeasure):
    """Where the vessel fishes, of the areas that are closed."""

    key = "closures"
    dimension = "area"

    def read(self, trip: Trip) -> Readings | None:
        return None if trip.position is None else ([trip.position], (str(trip.position),))


class LetterAboard(TripMeasure):
    """Whether the letter is on board."""

    key = "letter_aboard"
    dimension = "flag"
    sheet = _told(LETTER)

    def read(self, trip: Trip) -> Readings | None:
        return [trip.letter_aboard], ("letter",)


class LetterDay(TripMeasure):
    """How many days after it was asked for the letter is fished under."""

    key = "letter_day"
    dimension = "day count"
    sheet = _told(LETTER_ASKED)

    def read(self, trip: Trip) -> Readings | None:
        if trip.day is None or trip.letter_asked is None:
            return None
        return [(trip.day - trip.letter_asked).days], ("letter",)


class KeptSpecies(TripMeasure):
    """What is kept."""

    key = "kept_species"
    dimension = "names"
    sheet = _told(KEPT)

    def read(self, trip: Trip) -> Readings | None:
        return None if trip.kept is None else (trip.kept, trip.kept)


class WeightKept(TripMeasure, shared=True):
    """How much of a ``group`` of hakes is kept."""

    group: ClassVar[str]


def _weight(trip: Trip, told: float | None, group: str) -> float | None:
    """Return the weight kept of a ``group`` of hakes: none if none of it was kept."""
    if told is None and trip.kept is not None:
        return None if any(species.may_be(name, group) for name in trip.kept) else 0.0
    return told


def _load(trip: Trip, weight: float | None) -> Load | None:
    if weight is None:
        return None
    meshes = [mesh for mesh in (trip.smallest_mesh, trip.mesh_in_use) if mesh is not None]
    return Load(weight, min(meshes, default=None), trip.smallest_mesh is not None)


class RedHakeByMesh(WeightKept):
    """How much red hake is kept, by the smallest mesh on board."""

    key = "red_hake_by_mesh"
    dimension = "mass by mesh"
    group = species.RED
    sheet = _told(RED_HAKE, SMALLEST_MESH, KEPT)

    def read(self, trip: Trip) -> Readings | None:
        load = _load(trip, _weight(trip, trip.red_hake, self.group))
        return None if load is None else ([load], (_("red hake"),))


class HakeByMesh(WeightKept):
    """How much silver and offshore hake is kept, by the smallest mesh on board."""

    key = "hake_by_mesh"
    dimension = "mass by mesh"
    group = species.SILVER_AND_OFFSHORE
    sheet = _told(HAKE, SMALLEST_MESH, KEPT)

    def read(self, trip: Trip) -> Readings | None:
        load = _load(trip, _weight(trip, trip.hake, self.group))
        return None if load is None else ([load], ("hake",))


class HakeWeight(WeightKept):
    """How much silver and offshore hake is kept."""

    key = "hake_weight"
    dimension = "mass"
    group = species.SILVER_AND_OFFSHORE
    sheet = _told(HAKE, KEPT)

    def read(self, trip: Trip) -> Readings | None:
        weight = _weight(trip, trip.hake, self.group)
        return None if weight is None else ([weight], ("hake",))


class BycatchShare(TripMeasure):
    """How much of the catch is of regulated species."""

    key = "bycatch_share"
    dimension = "share"
    sheet = _told(REGULATED, CAUGHT)

    def read(self, trip: Trip) -> Readings | None:
        if trip.regulated is None or not trip.caught:
            return None
        return [trip.regulated / trip.caught], ("catch",)
