"""Scenes for the tests of drawings."""

from datetime import date
from itertools import combinations
from random import Random

from rigs.drawing.area import area_view
from rigs.drawing.dropper import close_up
from rigs.drawing.in_flight import (
    five_places,
    flight_from_above,
    flight_from_ahead,
    flight_from_the_side,
)
from rigs.drawing.legs import legs_view
from rigs.drawing.lettering import text_box
from rigs.drawing.passing import passing_view
from rigs.drawing.plan import plan_view
from rigs.drawing.side import side_view
from rigs.drawing.straight import Rings, straight_view
from rigs.make import faults, sample
from rigs.physics.practice import FOOTROPE_HEIGHT
from rigs.plan.raised import raised
from rigs.rules import openings, rulebook
from rigs.rules.judge import judge
from rigs.words.gear import Dropper
from rigs.words.trip import Position, Trip
from rigs.words.units import INCH
from tests.rigs import flying

BOOK = rulebook.load("no-sweep", "1")
SWEEP_BOOK = rulebook.load("chain-sweep", "1")


def sound_rig(seed=3, book=BOOK, difficulty=2):
    """Return a rig that keeps every rule."""
    return sample.legal_rig(Random(seed), book, difficulty)


def spoilt_rig(*keys, seed=3, book=BOOK, difficulty=2):
    """Return a rig spoilt in ``keys``, one after another, each on its own sound part."""
    rig = sound_rig(seed, book, difficulty)
    for key in keys:
        rig = faults.spoil(rig, key, faults.Draw(Random(seed), book))
    return rig


def every_scene():
    """Return one or more scenes of each kind, by a name for the test's report."""
    rig, swept = sound_rig(), sound_rig(5, SWEEP_BOOK, 3)
    bad = spoilt_rig("dropper_spacing")
    verdict = judge(bad, BOOK)
    names = ("yours", "right places")
    wires = spoilt_rig("door_to_wing_end")
    return {
        "plan": plan_view(rig),
        "plan with a sweep": plan_view(swept),
        "plan marked": plan_view(bad, verdict, rig, names),
        "straight": straight_view(rig.footrope),
        "straight marked": straight_view(
            rig.footrope, bad.droppers, verdict, Rings(rig.droppers, names)
        ),
        "side": side_view(rig, height=18 * INCH),
        "side with a sweep": side_view(swept, height=9 * INCH),
        "close up": close_up(rig.droppers[0], shine=14 * INCH),
        "close up doubled": close_up(Dropper(0, 42 * INCH, 5 / 16 * INCH, 2, bare=False)),
        "passing on the bottom": passing(0),
        "passing": passing(18),
        "passing high up": passing(36),
        "legs": legs_view(rig),
        "legs marked": legs_view(wires, judge(wires, BOOK)),
        "sea chart": sea_chart("whiting", date(2025, 11, 25), Position(42.0, -69.75)),
        "sea chart by the shore": sea_chart("grate", date(2025, 8, 1)),
        **in_flight(),
        **at_five_places(),
    }


def in_flight():
    """Return nets in flight from all sides, alone and with what a change does to them."""
    views = {
        "ahead": flight_from_ahead,
        "the side": flight_from_the_side,
        "above": flight_from_above,
    }
    net = flying.flown(flying.net())
    return {
        f"in flight from {side}, {name}": view(net, after, with_heights=with_heights)
        for side, view in views.items()
        for name, after, with_heights in (
            ("alone", None, True),
            ("lopsided", flying.flown(flying.lopsided()), True),
            ("on the bottom", flying.flown(flying.lying()), False),
            ("with a sweep", flying.flown(flying.swept()), False),
        )
    }


def at_five_places():
    """Return nets of which five heights are known: as they fly, and with a change."""
    rig, heights = flying.net(), [inch * INCH for inch in (21, 19, 15, 11, 0.1)]
    shine, high = [20 * INCH] * 5, [45 * INCH] * 5
    views = {
        "alone": five_places(rig, heights, FOOTROPE_HEIGHT, shine=shine, speed=flying.SPEED),
        "changed": five_places(rig, high, FOOTROPE_HEIGHT, speed=flying.SPEED, before=heights),
    }
    return {f"at five places, {name}": view for name, view in views.items()}


def passing(inch):
    """Return the view of who passes under a footrope ``inch`` inches up."""
    made = raised(BOOK, inch * INCH)
    return passing_view(made.hang, made.height)


def sea_chart(name, day, position=None):
    """Return the chart of the areas of the rule set ``name`` on ``day``."""
    answer = openings.answer(rulebook.load(name), Trip(day, position))
    return area_view(answer.parts, position)


def overlapping(scene):
    """Return the pairs of lettering in ``scene`` that lie over one another."""
    boxes = [(text, text_box(text)) for text in scene.texts]
    return [
        (a.text, b.text) for (a, box_a), (b, box_b) in combinations(boxes, 2) if box_a.meets(box_b)
    ]
