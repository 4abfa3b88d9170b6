"""What is odd on a rig breaks no rule, and shows."""

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs.drawing.legs import legs_view
from rigs.drawing.plan import plan_view
from rigs.make import faults, sample
from rigs.make.clearance import roomy_rig
from rigs.make.oddities import ODDITIES, apart_from, with_oddities
from rigs.rules import rulebook
from rigs.rules.judge import judge
from rigs.words.describe import describe, describe_beside_drawings

BOOKS = [rulebook.load(name) for name in rulebook.gear_names()]
seeds = st.integers(0, 10**6)
books = st.sampled_from(BOOKS)


def told(rig):
    """Return all that the drawings of a rig and the words beside them say."""
    scenes = (plan_view(rig), legs_view(rig))
    return (
        describe_beside_drawings(rig),
        [(scene.description, [text.text for text in scene.texts]) for scene in scenes],
    )


@given(seeds, books, st.integers(1, 3), st.sampled_from(sorted(ODDITIES)))
def test_an_odd_rig_is_still_sound_and_looks_otherwise(seed, book, difficulty, name):
    rng = Random(seed)
    rig = sample.legal_rig(rng, book, difficulty)
    odd, had = with_oddities(rig, [name], rng, book)
    assert judge(odd, book).legal
    assert had in ((), (name,))
    if had:
        assert describe(odd) != describe(rig)


@given(seeds, books)
def test_oddities_leave_the_faults_of_a_spoilt_rig_as_they_were(seed, book):
    rng = Random(seed)
    rig = sample.legal_rig(rng, book)
    spoilt = faults.spoil(rig, "float_diameter", faults.Draw(rng, book))
    odd, _ = with_oddities(spoilt, sorted(ODDITIES), rng, book)
    assert judge(odd, book).failed_keys == {"float_diameter"}


def test_every_oddity_can_be_had_somewhere_and_the_sweeps_only_with_a_sweep():
    had = {book.name: set() for book in BOOKS}
    for book in BOOKS:
        for seed in range(6):
            rng = Random(seed)
            for name in ODDITIES:
                had[book.name].update(with_oddities(roomy_rig(rng, book), [name], rng, book)[1])
    assert set().union(*had.values()) == set(ODDITIES)
    slack = [name for name, names in had.items() if "slack half" in names]
    assert "chain-sweep" in slack
    assert slack == [book.name for book in BOOKS if book.has("sweep_stock")]


@pytest.mark.parametrize("book", BOOKS, ids=lambda book: book.name)
def test_those_apart_from_some_rules_seem_to_break_others_that_are_law(book):
    names = apart_from(book, {"float_spacing"})
    keys = {ODDITIES[name].key for name in names}
    assert "float_spacing" not in keys
    assert all(not book.requirement(key).by_custom for key in keys)


@pytest.mark.parametrize("book", BOOKS, ids=lambda book: book.name)
@pytest.mark.parametrize("seed", range(4))
def test_every_fault_shows_in_the_drawings_or_in_the_words_beside_them(book, seed):
    for key in faults.spoilable(book):
        rng = Random(seed)
        while True:
            rig = sample.legal_rig(rng, book, 2)
            if key not in faults.spoilable(book, rig):
                continue
            try:
                spoilt = faults.spoil(rig, key, faults.Draw(rng, book))
            except faults.CannotMake:
                continue
            break
        assert told(spoilt) != told(rig), key


def test_words_beside_the_drawings_do_not_say_where_droppers_hang():
    book = rulebook.load("chain-sweep", "1")
    rng = Random(5)
    rig = sample.legal_rig(rng, book, 3)
    leaning = faults.spoil(rig, "sweep_attachment", faults.Draw(rng, book))
    parts = dict(describe_beside_drawings(leaning))
    assert not any(part.startswith("Dropper at") for part in parts)
    assert f"{len(rig.droppers) - 1} droppers" in parts
    assert parts["1 dropper"].endswith("in off straight down")
