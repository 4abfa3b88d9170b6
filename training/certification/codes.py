"""The codes by which anyone may verify a certificate."""

from django.utils.crypto import get_random_string

from training.fleet.codes import ALPHABET

LENGTH = 12


def new_code():
    """Return a code that nobody will guess: about 60 bits."""
    return get_random_string(LENGTH, ALPHABET)
