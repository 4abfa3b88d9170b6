"""The states and tallies: kept up step by step, they are what a recount finds."""

import random
from datetime import date, timedelta

import pytest

from rigs.rules import rulebook
from rigs.words.units import FOOT
from tests.register.events_factory import happen, make_vessel, new_key
from training.register import events, uptake
from training.register.models import AdoptionEvent, UptakeTally, Vessel, VesselState
from training.register.sizes import SIZES, size_of
from training.register.stages import Stage

pytestmark = pytest.mark.django_db

HARBOURS = ["Kettle Harbor", "Marrow Point", "Eastlight"]
DAY = date(2025, 7, 1)


def tallies():
    """Return the tallies as a dict, noughts left out."""
    return {
        tuple(cell): (entered, left)
        for *cell, entered, left in UptakeTally.objects.values_list(
            "harbor", "size", "month", "stage", "entered", "left"
        )
        if entered or left
    }


def states():
    return {
        state.vessel_id: [getattr(state, name) for name in (*uptake.FOLDED, "counted")]
        for state in VesselState.objects.all()
    }


def wreck():
    """Make everything that is kept wrong."""
    VesselState.objects.filter(pk__in=VesselState.objects.values("pk")[:2]).delete()
    VesselState.objects.update(stage=Stage.TOLD, counted={})
    UptakeTally.objects.update(entered=77)


class TestSizes:
    def test_the_upper_line_is_that_of_the_mesh_rule(self):
        # 60 ft: 50 CFR 648.80(a)(15), as read.
        assert SIZES[1].up_to == SIZES[2].over == pytest.approx(60 * FOOT)

    @pytest.mark.parametrize(
        ("feet", "key"),
        [(20, "small"), (45, "small"), (46, "middle"), (60, "middle"), (61, "large")],
    )
    def test_every_length_has_one(self, feet, key):
        assert size_of(feet * FOOT).key == key
        assert sum(size.holds(feet * FOOT) for size in SIZES) == 1

    def test_a_length_typed_in_metres_falls_on_the_same_side(self):
        assert size_of(60 * FOOT + rulebook.ROUNDING / 2).key == "middle"


class TestRefresh:
    def test_a_new_vessel_stands_nowhere(self):
        vessel = make_vessel()
        assert (vessel.standing.stage, vessel.standing.since) == ("", None)
        assert tallies() == {}

    def test_an_event_moves_it(self):
        vessel = make_vessel()
        happen(vessel, Stage.TOLD, "2026-07-03")
        happen(vessel, Stage.CONVERTED, "2026-09-20")
        state = VesselState.objects.get(vessel=vessel)
        assert (state.stage, state.since) == (Stage.CONVERTED, date(2026, 9, 20))
        assert (state.first_contact, state.converted) == (date(2026, 7, 3), date(2026, 9, 20))
        place = ("Kettle Harbor", "middle")
        assert tallies() == {
            (*place, date(2026, 7, 1), Stage.TOLD): (1, 0),
            (*place, date(2026, 9, 1), Stage.TOLD): (0, 1),
            (*place, date(2026, 9, 1), Stage.CONVERTED): (1, 0),
        }

    def test_two_vessels_are_summed(self):
        for name in ("Dunlin", "Petrel"):
            happen(make_vessel(name), Stage.TOLD, "2026-07-03")
        assert list(tallies().values()) == [(2, 0)]

    def test_a_vessel_that_moves_harbor_or_grows_is_counted_there(self):
        vessel = make_vessel()
        happen(vessel, Stage.TOLD, "2026-07-03")
        vessel.harbor, vessel.length = "Eastlight", 70 * FOOT
        vessel.save()
        assert tallies() == {("Eastlight", "large", date(2026, 7, 1), Stage.TOLD): (1, 0)}

    def test_a_withdrawal_takes_it_out_again(self, staff):
        vessel = make_vessel()
        event = happen(vessel, Stage.TOLD, "2026-07-03")
        events.withdraw(event, key=new_key(), by=staff)
        assert tallies() == {}
        assert VesselState.objects.get(vessel=vessel).stage == ""

    @pytest.mark.parametrize("number", [3, 60])
    def test_asks_the_database_little(self, number, django_assert_max_num_queries):
        vessels = [make_vessel(f"Vessel {index}") for index in range(number)]
        for vessel in vessels:
            happen(vessel, Stage.TOLD, "2026-07-03")
        UptakeTally.objects.all().delete()
        VesselState.objects.update(counted={})
        with django_assert_max_num_queries(14):
            uptake.refresh([vessel.pk for vessel in vessels])
        assert list(tallies().values()) == [(number, 0)]


def at_random(rng, staff):
    """Do something to a vessel of the fleet, or add one."""
    vessels = list(Vessel.objects.all())
    what = rng.choice(["add", "move", "grow", *["event"] * 6, *["correct"] * 3, "withdraw"])
    if what == "add" or not vessels:
        name = f"Vessel {len(vessels)}"
        return make_vessel(name, rng.choice(HARBOURS), rng.randint(30, 80))
    vessel = rng.choice(vessels)
    stage, day = rng.choice(list(Stage)), DAY + timedelta(rng.randrange(500))
    if what == "move":
        vessel.harbor = rng.choice(HARBOURS)
        return vessel.save()
    if what == "grow":
        vessel.length = rng.randint(30, 80) * FOOT
        return vessel.save()
    if what == "event":
        return happen(vessel, stage, day)
    open_events = list(AdoptionEvent.objects.filter(correction=None))
    if not open_events:
        return None
    event = rng.choice(open_events)
    if what == "correct":
        return events.correct(event, key=new_key(), by=staff, stage=stage, day=day)
    return events.withdraw(event, key=new_key(), by=staff)


class TestRecount:
    @pytest.mark.parametrize("seed", range(4))
    def test_step_by_step_comes_to_the_same(self, seed, staff):
        rng = random.Random(seed)
        for _ in range(80):
            at_random(rng, staff)
        assert uptake.check() == []
        kept = tallies(), states()
        assert kept[0]
        wreck()
        uptake.rebuild()
        assert (tallies(), states()) == kept

    def test_every_vessel_is_somewhere(self, staff):
        rng = random.Random(11)
        for _ in range(80):
            at_random(rng, staff)
        came = sum(entered - left for entered, left in tallies().values())
        assert came == VesselState.objects.exclude(stage="").count()

    def test_check_names_what_is_kept_wrong(self):
        happen(make_vessel(), Stage.TOLD, "2026-07-03")
        VesselState.objects.update(stage=Stage.BACK)
        UptakeTally.objects.update(entered=3)
        assert uptake.check() == [
            "Sanderling, Kettle Harbor: not kept as its events say",
            "Kettle Harbor, middle, 2026-07, told: 3 in and 0 out kept, 1 and 0 counted",
        ]

    def test_check_misses_nothing_that_is_not_there(self):
        happen(make_vessel(), Stage.TOLD, "2026-07-03")
        VesselState.objects.all().delete()
        UptakeTally.objects.all().delete()
        assert len(uptake.check()) == 2

    def test_rebuilding_says_how_far_it_is(self, monkeypatch):
        monkeypatch.setattr(uptake, "CHUNK", 2)
        for index in range(3):
            make_vessel(f"Vessel {index}")
        said = []
        uptake.rebuild(said.append)
        assert said == ["  2 of 3 vessels looked at.", "  3 of 3 vessels looked at."]

    def test_stopped_half_way_it_leaves_what_agrees(self, monkeypatch):
        for index in range(3):
            happen(make_vessel(f"Vessel {index}"), Stage.TOLD, "2026-07-03")
        kept = tallies(), states()

        def stop(line):
            raise KeyboardInterrupt

        with pytest.raises(KeyboardInterrupt):
            uptake.rebuild(stop)
        assert (tallies(), states()) == kept
