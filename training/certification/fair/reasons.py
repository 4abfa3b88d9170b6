"""Whether a reason says something."""

import re

WORDS = 3
LETTERS = 8  # in all
SORTS = 5  # of letters, so that a key held down is no reason

HINT = "Say what happened in a few words, such as “The drawing of question 4 did not print.”"


def says_something(text):
    """
    Return whether ``text`` can be a reason: a few different words, of more than a few letters.

    Nothing, spaces, “n/a”, one word over and over and a key held down are none. Whether a
    reason is a good one is for the second person to say.
    """
    words = re.findall(r"[^\W\d_]+", text.casefold())
    letters = "".join(words)
    return len(set(words)) >= WORDS and len(letters) >= LETTERS and len(set(letters)) >= SORTS
