"""Drawings that are measured: what is read off them is what the rig has."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs.drawing.lettering import Box, text_box
from rigs.drawing.scene import WIDTH
from rigs.drawing.sheets import SHEETS, room
from rigs.drawing.sheets.sheet import FINEST, Measurement
from rigs.make import faults
from rigs.make.clearance import roomy_rig, stands_clear
from rigs.make.oddities import ODDITIES, with_oddities
from rigs.requirements import find
from rigs.rules import rulebook
from rigs.rules.judge import NOT_MEASURED, judge
from rigs.rules.rulebook import ROUNDING
from rigs.words.gear import PORT, SIDES
from rigs.words.units import FATHOM, FOOT, INCH
from tests.rigs.drawn import overlapping

BOOKS = [rulebook.load(name) for name in rulebook.gear_names()]
KEYS = [key for sheet in SHEETS.values() for key in sheet.keys]
ROOM = room(KEYS)

seeds = st.integers(0, 10**6)
books = st.sampled_from(BOOKS)
levels = st.integers(1, 3)
sets_of_keys = st.sets(st.sampled_from(KEYS), max_size=3)


def roomy(seed, book, difficulty=2):
    return roomy_rig(random.Random(seed), book, ROOM, difficulty)


def spoilt(seed, book, keys, difficulty=2):
    """Return a rig with the faults ``keys``, from the first seed of which one can be had."""
    while True:
        rng = random.Random(seed)
        rig = roomy_rig(rng, book, ROOM, difficulty)
        try:
            return faults.spoil_many(rig, keys, faults.Draw(rng, book, suits=clear_of(book)))
        except faults.CannotMake:
            seed += 1


def clear_of(book):
    return lambda rig: stands_clear(rig, book, ROOM)


@given(seeds, books, levels)
def test_a_roomy_rig_is_legal_and_off_every_limit(seed, book, difficulty):
    rig = roomy(seed, book, difficulty)
    verdict = judge(rig, book)
    assert verdict.legal
    for key, least in ROOM.items():
        finding = verdict.finding(key)
        allowed_none = finding.requirement.limit == 0 and finding.requirement.test == "at most"
        assert finding.margin >= (0 if allowed_none else least) - ROUNDING, key
        assert not allowed_none or finding.measured <= ROUNDING


def test_at_the_limit_is_not_clear_of_it():
    book = BOOKS[0]
    rig = roomy(1, book)
    limit = book.requirement("dropper_length").limit
    near = rig.with_(
        droppers=tuple(
            type(each)(each.position, limit, each.diameter, sweep_position=each.sweep_position)
            for each in rig.droppers
        )
    )
    assert judge(near, book).legal
    assert stands_clear(rig, book, ROOM)
    assert not stands_clear(near, book, ROOM)


@given(seeds, books, sets_of_keys.filter(lambda keys: len(keys) > 0), levels)
def test_many_faults_are_just_those_and_clear_of_their_limits(seed, book, keys, difficulty):
    if {"footrope_longer", "footrope_excess"} <= keys:
        keys = keys - {"footrope_excess"}
    rig = spoilt(seed, book, keys, difficulty)
    verdict = judge(rig, book)
    assert verdict.missed_keys == keys
    for finding in verdict.failed:
        assert finding.margin is None or -finding.margin >= ROOM[finding.key] - ROUNDING


def test_faults_that_gainsay_each_other_are_refused():
    rig, draw = roomy(1, BOOKS[0]), faults.Draw(random.Random(1), BOOKS[0])
    with pytest.raises(faults.CannotMake, match="footrope"):
        faults.spoil_many(rig, ["footrope_longer", "footrope_excess"], draw)


@given(seeds, books, levels, st.sampled_from(sorted(ODDITIES)))
def test_oddities_change_the_rig_and_no_outcome(seed, book, difficulty, name):
    rig = roomy(seed, book, difficulty)
    odd, had = with_oddities(rig, [name], random.Random(seed), book, clear_of(book))
    assert judge(odd, book).legal
    assert stands_clear(odd, book, ROOM)
    assert (odd != rig) == (had == (name,))


# No sheet shows a sweep.
DRAWN = [name for name, each in ODDITIES.items() if each.key != "sweep_excess_each_side"]


@pytest.mark.parametrize("name", DRAWN)
def test_every_oddity_shows_on_the_sheet_of_its_rule(name):
    key, book = ODDITIES[name].key, rulebook.load("no-sweep", "1")
    sheet = next(each for each in SHEETS.values() if key in each.keys)
    for seed in range(40):
        rig = roomy(seed, book)
        odd, had = with_oddities(rig, [name], random.Random(seed), book, clear_of(book))
        if had:
            assert sheet(odd).scene().parts != sheet(rig).scene().parts
            break
    else:
        pytest.fail(f"{name} was never had")


@given(seeds, books, sets_of_keys)
def test_oddities_leave_faults_as_they_were(seed, book, keys):
    keys = keys - {"footrope_excess"}
    rig = spoilt(seed, book, keys)
    odd, _ = with_oddities(rig, sorted(ODDITIES), random.Random(seed), book)
    assert judge(odd, book).missed_keys == keys


# What is measured on a drawing ------------------------------------------


def at(sheet, name):
    """Return the x of what is called ``name`` on ``sheet``."""
    # By the full lists of names: those told on the page are cut short.
    return next(x for x, names in sheet.ends.items() if name in names)


def between(sheet, one, other):
    """Return the metres between two things on ``sheet``, as the tool tells them."""
    return abs(at(sheet, one) - at(sheet, other)) * sheet.metres_per_unit()


def gaps(sheet, kind, count, first, last):
    names = [first, *(f"{kind} {number}" for number in range(1, count + 1)), last]
    places = sorted(at(sheet, name) for name in names)
    return [(b - a) * sheet.metres_per_unit() for a, b in zip(places, places[1:], strict=False)]


@given(seeds, books, sets_of_keys)
def test_ropes_measure_as_the_rule_module_reads_them(seed, book, keys):
    rig = spoilt(seed, book, keys - {"footrope_excess"})
    sheet = SHEETS["ropes"](rig)
    values, _ = find("float_spacing").read(rig)
    drawn = gaps(sheet, "float", len(rig.floats), "port end", "headrope's starboard end")
    assert sorted(drawn) == pytest.approx(sorted(values), abs=1e-4)
    excess = between(sheet, "port end", "footrope's starboard end") - between(
        sheet, "port end", "headrope's starboard end"
    )
    assert excess == pytest.approx(find("footrope_excess").read(rig)[0][0], abs=1e-4)
    numbers = range(1, len(rig.droppers) + 1)
    (center,), _ = find("dropper_at_centre").read(rig)
    nearest = min(between(sheet, "center", f"dropper {number}") for number in numbers)
    assert nearest == pytest.approx(center, abs=1e-4)
    corners, _ = find("dropper_at_corners").read(rig)
    for side, value in zip(("port", "starboard"), corners, strict=True):
        nearest = min(between(sheet, f"{side} corner", f"dropper {number}") for number in numbers)
        assert nearest == pytest.approx(value, abs=1e-4)
    spaces, spots = find("dropper_spacing").read(rig)
    for side in SIDES:
        values = [value for value, spot in zip(spaces, spots, strict=True) if spot[0] == side]
        assert wing_gaps(sheet, side) == pytest.approx(values, abs=1e-4)


def wing_gaps(sheet, side):
    """Return the gaps on one wing from its corner outwards, as drawn."""
    end = "port end" if side == PORT else "footrope's starboard end"
    corner = at(sheet, f"{side} corner")
    hung = (at(sheet, f"dropper {n}") for n in range(1, len(sheet.rig.droppers) + 1))
    beyond = [x for x in hung if (x < corner - 0.01 if side == PORT else x > corner + 0.01)]
    places = sorted([corner, *beyond, at(sheet, end)], reverse=side == PORT)
    return [abs(b - a) * sheet.metres_per_unit() for a, b in zip(places, places[1:], strict=False)]


SIZES = [
    ("droppers", "dropper_length", "footrope", "end of dropper {}"),
    ("floats", "float_diameter", "left of float {}", "right of float {}"),
    ("chain", "dropper_stock", "left of dropper {}", "right of dropper {}"),
]


@given(seeds, books, sets_of_keys, st.sampled_from(SIZES))
def test_sizes_measure_as_the_rule_module_reads_them(seed, book, keys, which):
    name, key, left, right = which
    rig = spoilt(seed, book, keys - {"footrope_excess"})
    sheet = SHEETS[name](rig)
    values, _ = find(key).read(rig)
    for number, value in enumerate(values, 1):
        drawn = between(sheet, left.format(number), right.format(number))
        assert drawn == pytest.approx(value, abs=1e-5)


@given(seeds, books, sets_of_keys)
def test_wires_measure_as_the_rule_module_reads_them(seed, book, keys):
    rig = spoilt(seed, book, keys - {"footrope_excess"})
    sheet = SHEETS["wires"](rig)
    for key, name in (
        ("top_leg_wire", "top leg"),
        ("bottom_leg_wire", "bottom leg"),
        ("ground_cable_wire", "ground cable"),
    ):
        for value, part in zip(*find(key).read(rig), strict=True):
            wire = f"{part.side} {name}"
            drawn = between(sheet, f"left of {wire}", f"right of {wire}")
            assert drawn == pytest.approx(value, abs=1e-5)
    sheet = SHEETS["legs"](rig)
    for value, leg in zip(*find("legs_equal").read(rig), strict=True):
        ends = [f"end of {leg.side} {which} leg" for which in ("top", "bottom")]
        assert between(sheet, *ends) == pytest.approx(value, abs=1e-4)
    sheet = SHEETS["doors"](rig)
    for value, side in zip(*find("door_to_wing_end").read(rig), strict=True):
        end = f"end of {side.split()[0]} ground cable and leg"
        assert between(sheet, "door", end) == pytest.approx(value, abs=1e-2)


@pytest.mark.parametrize("sheet", SHEETS.values(), ids=lambda sheet: sheet.name)
def test_what_must_be_told_apart_is_several_pixels_wide(sheet):
    """At the greatest enlargement a fault and a limit lie two readings of the tool apart."""
    pixels = sheet.room_needed() * sheet.scale * sheet.zooms[-1]
    assert pixels >= 2 * FINEST - 1e-6
    # A finger on glass, helped by buttons and snapping, is good for two pixels an end.
    assert FINEST >= 4


@pytest.mark.parametrize(
    ("name", "metres"),
    # What one wants to tell on deck: a tape to the inch, a gauge to less than a size.
    [
        ("ropes", INCH),
        ("legs", INCH),
        ("droppers", INCH / 2),
        ("floats", INCH / 2),
        ("chain", INCH / 32),
        ("wires", INCH / 32),
        ("doors", FATHOM / 6),
    ],
)
def test_resolution_is_as_fine_as_on_deck(name, metres):
    assert SHEETS[name].resolution() <= metres + 1e-9


@pytest.mark.parametrize(
    ("name", "metres", "words"),
    [
        ("ropes", 8 * FOOT + INCH / 4, "8 ft 1/4 in"),
        ("chain", 5 * INCH / 16, "5/16 in"),
        ("doors", 38 * FATHOM, "228 ft"),
    ],
)
def test_lengths_are_said_as_finely_as_they_can_be_read(name, metres, words):
    assert SHEETS[name].say(metres) == words


# The drawing itself ------------------------------------------------------


def scenes():
    book = rulebook.load("no-sweep", "1")
    keys = ("dropper_spacing", "dropper_length", "float_diameter", "top_leg_wire", "legs_equal")
    for seed in range(4):
        rig = spoilt(seed, book, keys, 1 + seed % 3)
        rig, _ = with_oddities(rig, sorted(ODDITIES), random.Random(seed), book)
        verdict = judge(rig, book)
        measured = (Measurement("port wing, second gap", 40, 140.5), Measurement("", 200, 30))
        for name, sheet in SHEETS.items():
            yield f"{name} {seed}", sheet(rig).scene()
            yield f"{name} {seed} marked", sheet(rig).scene(verdict, measured)


SCENES = dict(scenes())


@pytest.fixture(params=SCENES, ids=str)
def scene(request):
    return SCENES[request.param]


def test_everything_lies_on_the_sheet_in_letters_that_can_be_read(scene):
    assert scene.width >= WIDTH
    bounds = Box(0, 0, scene.width, scene.height)
    assert [text.text for text in scene.texts if not text_box(text).within(bounds)] == []
    assert min(text.size for text in scene.texts) >= 12
    assert len(scene.description) > 40


@pytest.mark.parametrize("name", [name for name in SCENES if "marked" not in name])
def test_lettering_is_clear_of_other_lettering(name):
    assert overlapping(SCENES[name]) == []


@given(seeds, books, levels, sets_of_keys)
def test_every_place_on_the_footrope_is_named(seed, book, difficulty, keys):
    rig = spoilt(seed, book, keys - {"footrope_excess"}, difficulty)
    said = [text.text for text in SHEETS["ropes"](rig).scene().texts]
    assert said.count("corner") == 2
    assert said.count("center") == said.count("wing end") == 1
    for number in range(1, len(rig.droppers) + 1):
        assert str(number) in said


@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_says_no_measure_and_tells_no_fault(name):
    book = rulebook.load("no-sweep", "1")
    sound = roomy(3, book)
    for key in SHEETS[name].keys:
        rig = spoilt(3, book, [key])
        scene = SHEETS[name](rig).scene()
        assert {part.style for part in scene.parts} <= {
            part.style for part in SHEETS[name](sound).scene().parts
        }
        assert not any(part.data for part in scene.parts)
        assert not any(f" {unit}" in text.text for text in scene.texts for unit in ("fm",))
        lengths = [t.text for t in scene.texts if t.text.endswith((" ft", " in", " fathoms"))]
        assert lengths == [f"this bar is {SHEETS[name].bar[1]}"]
        assert not any(unit in scene.description for unit in (" ft", " in,", " in."))


@pytest.mark.parametrize("key", KEYS)
def test_what_fails_is_framed_on_its_sheet(key):
    book = rulebook.load("grate", "1")  # where the length of a dropper is law as well
    rig = spoilt(5, book, [key])
    verdict = judge(rig, book)
    sheet = next(each for each in SHEETS.values() if key in each.keys)
    scene = sheet(rig).scene(verdict)
    assert len(scene.of_style("fault")) == len(verdict.finding(key).spots)
    assert verdict.finding(key).title in scene.description


@pytest.mark.parametrize("name", ["droppers", "floats", "chain", "wires"])
def test_what_is_not_drawn_cannot_be_judged(name):
    book, sheet = rulebook.load("no-sweep", "1"), SHEETS[name]
    verdict = judge(sheet.hidden(roomy(3, book)), book)
    untold = {finding.key for finding in verdict.findings if finding.outcome == NOT_MEASURED}
    assert untold == set(sheet.keys)
