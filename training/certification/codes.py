"""The codes by which anyone may verify a certificate."""

from django.utils.crypto import get_random_string

from training.fleet.codes import ALPHABET

LENGTH = 12


def new_code():
    """Return a code that nobody will guess: about 60 bits."""
    return get_random_string(LENGTH, ALPHABET)


def in_groups(code):
    """Return ``code`` as it is printed, in groups of four that are easy to type."""
    return "-".join(code[start : start + 4] for start in range(0, len(code), 4))
