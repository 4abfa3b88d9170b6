import random

from hypothesis import assume, given
from hypothesis import strategies as st

from rigs.make import faults, sample
from rigs.rules.judge import judge
from rigs.words.describe import describe
from tests.rigs.rig_factory import gear_books

seeds = st.integers(0, 2**32)
difficulties = st.sampled_from([1, 2, 3])


@given(seeds, gear_books, difficulties)
def test_a_sample_rig_passes_everything(seed, book, difficulty):
    verdict = judge(sample.legal_rig(random.Random(seed), book, difficulty), book)
    assert verdict.legal is True
    assert verdict.failed == ()


@given(seeds, gear_books, difficulties, st.data())
def test_a_spoilt_rig_fails_just_the_one_requirement(seed, book, difficulty, data):
    rng = random.Random(seed)
    rig = sample.legal_rig(rng, book, difficulty)
    key = data.draw(st.sampled_from(faults.spoilable(book, rig)))
    try:
        spoilt = faults.spoil(rig, key, faults.Draw(rng, book, difficulty))
    except faults.CannotMake:
        assume(False)
    assert judge(spoilt, book).failed_keys == {key}
    assert describe(spoilt) != describe(rig) or key == "float_spacing"


@given(seeds, gear_books, difficulties)
def test_the_same_seed_gives_the_same_rig(seed, book, difficulty):
    first, second = (sample.legal_rig(random.Random(seed), book, difficulty) for _ in range(2))
    assert first == second
    assert describe(first) == describe(second)
