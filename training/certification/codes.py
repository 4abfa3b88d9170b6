"""The codes by which anyone may verify a certificate, and those that open a supervised exam."""

from django.utils.crypto import get_random_string

from training.deck.codes import ALPHABET

LENGTH = 12
SUPERVISION_LENGTH = 6


def new_code():
    """Return a code that nobody will guess: about 60 bits."""
    return get_random_string(LENGTH, ALPHABET)


def new_supervision_code():
    """Return a code short enough to call out in a room: about 30 bits, good for some hours."""
    return get_random_string(SUPERVISION_LENGTH, ALPHABET)
