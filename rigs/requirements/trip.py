"""Where and when a vessel fishes, what she carries, and what she keeps."""

from rigs.words import species
from rigs.words.say import gettext as _
from rigs.words.trip import Trip

from .base import Measure
from .by_mesh import Load
from .readings import Readings


class TripMeasure(Measure, shared=True):
    """What is read off a Trip."""

    trip = True


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

    def read(self, trip: Trip) -> Readings | None:
        return [trip.letter_aboard], ("letter",)


class LetterDay(TripMeasure):
    """How many days after it was asked for the letter is fished under."""

    key = "letter_day"
    dimension = "day count"

    def read(self, trip: Trip) -> Readings | None:
        if trip.day is None or trip.letter_asked is None:
            return None
        return [(trip.day - trip.letter_asked).days], ("letter",)


class KeptSpecies(TripMeasure):
    """What is kept."""

    key = "kept_species"
    dimension = "names"

    def read(self, trip: Trip) -> Readings | None:
        return None if trip.kept is None else (trip.kept, trip.kept)


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


class RedHakeByMesh(TripMeasure):
    """How much red hake is kept, by the smallest mesh on board."""

    key = "red_hake_by_mesh"
    dimension = "mass by mesh"

    def read(self, trip: Trip) -> Readings | None:
        load = _load(trip, _weight(trip, trip.red_hake, species.RED))
        return None if load is None else ([load], (_("red hake"),))


class HakeByMesh(TripMeasure):
    """How much silver and offshore hake is kept, by the smallest mesh on board."""

    key = "hake_by_mesh"
    dimension = "mass by mesh"

    def read(self, trip: Trip) -> Readings | None:
        load = _load(trip, _weight(trip, trip.hake, species.SILVER_AND_OFFSHORE))
        return None if load is None else ([load], ("hake",))


class HakeWeight(TripMeasure):
    """How much silver and offshore hake is kept."""

    key = "hake_weight"
    dimension = "mass"

    def read(self, trip: Trip) -> Readings | None:
        weight = _weight(trip, trip.hake, species.SILVER_AND_OFFSHORE)
        return None if weight is None else ([weight], ("hake",))


class BycatchShare(TripMeasure):
    """How much of the catch is of regulated species."""

    key = "bycatch_share"
    dimension = "share"

    def read(self, trip: Trip) -> Readings | None:
        if trip.regulated is None or not trip.caught:
            return None
        return [trip.regulated / trip.caught], ("catch",)
