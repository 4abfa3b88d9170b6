"""The codes by which people join a group."""

from django.utils.crypto import get_random_string

# No letter or figure that is taken for another when read from a wall or a phone.
ALPHABET = "ABCDEFGHJKMNPQRSTUVWXYZ23456789"
LENGTH = 8


def tidy_code(text):
    """Return ``text`` as codes are kept: capitals, without spaces and dashes."""
    return "".join(letter for letter in text.upper() if letter.isalnum())


def new_code():
    """Return a code that nobody will guess: about 40 bits."""
    return get_random_string(LENGTH, ALPHABET)
