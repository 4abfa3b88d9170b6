"""Codes that people type: to join a group, to read a copy of what concerns them."""

from django.core.exceptions import ValidationError
from django.utils.crypto import get_random_string
from django.utils.translation import gettext as _

# No letter or figure that is taken for another when read from a wall or a phone.
ALPHABET = "ABCDEFGHJKMNPQRSTUVWXYZ23456789"
LENGTH = 8
LONG = 12


def tidy_code(text):
    """Return ``text`` as codes are kept: capitals and digits, without anything between them."""
    return "".join(letter for letter in text.upper() if letter.isascii() and letter.isalnum())


def new_code():
    """Return a code that nobody will guess: about 40 bits."""
    return get_random_string(LENGTH, ALPHABET)


def new_long_code():
    """Return a code that opens what is not everybody's: about 60 bits."""
    return get_random_string(LONG, ALPHABET)


def is_short(code):
    """Return whether ``code``, tidied, is shorter than one that is made, so that it is guessed."""
    return len(code) < LENGTH


def check_chosen(code, *names):
    """
    Check a ``code``, tidied, that somebody made up for what has these ``names``.

    Raise ValidationError for one that others would guess.
    """
    if is_short(code):
        words = _(
            "This code is too short. Take {LENGTH} letters and figures or more, or leave it empty "
            "for a new code such as {example}."
        )
        raise ValidationError(words.format(LENGTH=LENGTH, example=new_code()))
    if len(set(code)) < LENGTH // 2 or any(code in tidy_code(name) for name in names):
        raise ValidationError(
            _("Others would guess this code. Add some figures, or leave it empty for a new code.")
        )


def in_groups(code):
    """Return ``code`` as it is printed, in groups of four that are easy to type."""
    return "-".join(code[start : start + 4] for start in range(0, len(code), 4))
