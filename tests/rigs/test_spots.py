"""One reading put near its limit, on either side, and nothing else with it."""

from random import Random

import pytest

from rigs.make import faults, near
from rigs.make.clearance import roomy_rig
from rigs.make.spots import Wanted, measured, put, put_many, readings, seen
from rigs.requirements.spans import NEAREST
from rigs.rules import rulebook
from rigs.rules.judge import judge
from rigs.words.units import FOOT

BOOKS = [rulebook.load(name) for name in rulebook.gear_names()]
EACH = [(book, key) for book in BOOKS for key in (*measured(book), *seen(book))]


def ids(value):
    return value if isinstance(value, str) else value.name


def made(book, key, broken, rng):
    """Return the first of many roomy rigs on which ``key`` can be put."""
    while True:
        try:
            return put(roomy_rig(rng, book), Wanted(key, broken), faults.Draw(rng, book, NEAREST))
        except faults.CannotMake:
            continue


@pytest.mark.parametrize(("book", "key"), EACH, ids=ids)
def test_a_rule_is_broken_or_met_and_every_other_stays_met(book, key):
    for seed in range(4):
        broken = judge(made(book, key, True, Random(seed)), book).missed_keys
        assert key in broken <= {key} | near.follows(key)
        assert judge(made(book, key, False, Random(seed)), book).missed_keys == set()


@pytest.mark.parametrize("book", BOOKS, ids=ids)
def test_many_are_put_on_one_rig_and_none_undoes_another(book):
    sides = dict.fromkeys(("float_spacing", "dropper_spacing", "door_to_wing_end"), False)
    sides |= dict.fromkeys(("float_diameter", "legs_equal", "ground_cable_wire"), True)
    for seed in range(6):
        rng = Random(seed)
        while True:
            try:
                rig = put_many(roomy_rig(rng, book), sides, faults.Draw(rng, book, NEAREST))
                break
            except faults.CannotMake:
                continue
        assert judge(rig, book).missed_keys == {key for key, broken in sides.items() if broken}
        for key in ("float_spacing", "dropper_spacing"):
            limit = book.requirement(key).limit
            # A near miss is at most the next round figure off, here a foot.
            assert 0 <= limit - readings(rig, [key], book)[key] <= FOOT + 1e-9


def test_with_a_side_the_other_wing_stays_as_it_is():
    book, rng = BOOKS[0], Random(4)
    for side, sign in (("port", -1), ("starboard", 1)):
        rig, wanted = roomy_rig(rng, book), Wanted("dropper_spacing", True, side=side)
        while True:
            try:
                changed = put(rig, wanted, faults.Draw(rng, book, NEAREST))
                break
            except faults.CannotMake:
                rig = roomy_rig(rng, book)
        assert [each for each in rig.droppers if each.position * sign <= 0] == [
            each for each in changed.droppers if each.position * sign <= 0
        ]


def test_what_is_broken_already_cannot_be_put_again():
    book, rng = BOOKS[0], Random(1)
    rig = made(book, "float_diameter", True, rng)
    with pytest.raises(faults.CannotMake):
        put(rig, Wanted("float_diameter", True), faults.Draw(rng, book))
