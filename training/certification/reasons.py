"""A reason that says something: what is asked wherever staff must say why."""

import re

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

FEWEST_WORDS = 3
FEWEST_LETTERS = 3  # different ones, in the words that count


def clean(text):
    """
    Return ``text`` without what surrounds it and with single spaces; a reason in words.

    Raise ValidationError if it says nothing: too few words, or the same letters or the same
    word over and over.
    """
    text = " ".join(text.split())
    words = [word.lower() for word in re.findall(r"[^\W\d_]{2,}", text)]
    telling = {word for word in words if len(set(word)) > 1}
    letters = set("".join(telling))
    if len(telling) < FEWEST_WORDS or len(letters) <= FEWEST_LETTERS:
        raise ValidationError(
            _("Say why in a few words, such as “Too many passed without knowing the spacing”.")
        )
    return text
