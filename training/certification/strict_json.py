"""Reading JSON that was signed: only what every reader takes alike."""

import json

from django.utils.translation import gettext as _


def read_strictly(text):
    """
    Return the value of the JSON ``text`` (str or UTF-8 bytes).

    Raises ValueError for what is not JSON, for fractions, NaN and infinities, and for an
    object that has a key twice: readers differ in how finely they read the one and in
    which they take of the other, so a signed document could mean two things.
    """
    if isinstance(text, bytes):
        text = text.decode()
    return json.loads(
        text, object_pairs_hook=_no_key_twice, parse_float=_no_number, parse_constant=_no_number
    )


def _no_key_twice(pairs):
    found = dict(pairs)
    if len(found) < len(pairs):
        raise ValueError(_("A key is in one JSON object twice."))
    return found


def _no_number(text):
    raise ValueError(_("{text} is not read alike by all.").format(text=text))
