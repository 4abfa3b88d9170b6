"""What is odd on a rig breaks no rule, and shows."""

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs import faults, rulebook, sample
from rigs.describe import describe, describe_beside_drawings
from rigs.drawing.legs import legs_view
from rigs.drawing.plan import plan_view
from rigs.judge import judge
from rigs.oddities import ODDITIES, make_odd

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
def test_an_odd_rig_is_still_legal_and_looks_otherwise(seed, book, difficulty, name):
    rng = Random(seed)
    rig = sample.legal_rig(rng, book, difficulty)
    try:
        odd = make_odd(rig, rng, book, name)
    except faults.CannotSpoil:
        assert name in ("light dropper", "long sweep half")
        return
    assert judge(odd, book).legal
    assert describe(odd) != describe(rig)


@given(seeds, books)
def test_oddities_leave_the_faults_of_a_spoilt_rig_as_they_were(seed, book):
    rng = Random(seed)
    rig = sample.legal_rig(rng, book)
    spoilt = faults.spoil(rig, "float_diameter", rng, book)
    try:
        odd = make_odd(spoilt, rng, book)
    except faults.CannotSpoil:
        return
    assert judge(odd, book).failed_keys == {"float_diameter"}


def test_every_oddity_can_be_had_somewhere():
    had = set()
    for book in BOOKS:
        for seed in range(6):
            for name in ODDITIES:
                rng = Random(seed)
                rig = sample.legal_rig(rng, book)
                try:
                    make_odd(rig, rng, book, name)
                except faults.CannotSpoil:
                    continue
                had.add(name)
    assert had == set(ODDITIES)


def test_a_slack_half_needs_a_sweep():
    book = rulebook.load("no-sweep")
    with pytest.raises(faults.CannotSpoil):
        make_odd(sample.legal_rig(Random(1), book), Random(1), book, "long sweep half")


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
                spoilt = faults.spoil(rig, key, rng, book)
            except faults.CannotSpoil:
                continue
            break
        assert told(spoilt) != told(rig), key


def test_words_beside_the_drawings_do_not_say_where_droppers_hang():
    book = rulebook.load("chain-sweep")
    rng = Random(5)
    rig = sample.legal_rig(rng, book, 3)
    leaning = faults.spoil(rig, "sweep_attachment", rng, book)
    parts = dict(describe_beside_drawings(leaning))
    assert not any(part.startswith("Dropper at") for part in parts)
    assert f"{len(rig.droppers) - 1} droppers" in parts
    assert parts["1 dropper"].endswith("in off straight down")
