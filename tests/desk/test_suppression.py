"""Small counts left out."""

from training.deck.suppression import shown


def test_noughts_and_large_counts_are_shown():
    assert [shown(count) for count in (0, 1, 4, 5, 6)] == [0, None, None, 5, 6]
