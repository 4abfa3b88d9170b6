"""What counts as a reason, and what is none."""

import pytest

from training.certification.fair.reasons import says_something


@pytest.mark.parametrize(
    "text",
    [
        "",
        "   \n\t ",
        "n/a",
        "N/A n/a n/a",
        "none",
        "aaaaaaaaaaaa",
        "aaa aaaa aaaaa",
        "ab ab ab ab",
        "wrong wrong wrong",
        "123 456 789",
        "... --- ...",
        "a b c",
        "ok",
    ],
)
def test_it_says_nothing(text):
    assert not says_something(text)


@pytest.mark.parametrize(
    "text",
    [
        "A wrong key.",
        "The drawing of question 4 did not print.",
        "two hands, one phone",
        "Desenho não foi mostrado",
    ],
)
def test_it_says_something(text):
    assert says_something(text)
