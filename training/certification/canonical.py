"""
One way only to write a JSON value: the JSON Canonicalization Requirements, RFC 8785.

A signature is made over bytes, so signer and verifier must write a document alike. Of
the requirements, all but the writing of fractions is here; a credential holds none.
"""

import json

LARGEST = 2**53 - 1


def canonical(value):
    """
    Return ``value`` (dict, list, str, int, bool or None) as canonical JSON bytes.

    Raises ValueError for a fraction, a whole number beyond 2**53 - 1, a key that is not
    text, half of a surrogate pair, and any other type.
    """
    try:
        return _write(value).encode()
    except UnicodeEncodeError:
        raise ValueError("Half of a surrogate pair is not text.") from None


def _write(value):
    if value is None or isinstance(value, bool | str):
        return json.dumps(value, ensure_ascii=False)
    if isinstance(value, int):
        if abs(value) > LARGEST:
            raise ValueError(f"{value} is too large a number for every reader of JSON.")
        return str(value)
    if isinstance(value, list | tuple):
        return "[" + ",".join(map(_write, value)) + "]"
    if isinstance(value, dict):
        if not all(isinstance(key, str) for key in value):
            raise ValueError("A key of a JSON object is text.")
        # The requirements orders keys by their UTF-16 units, not by code points.
        keys = sorted(value, key=lambda key: key.encode("utf-16-be", "surrogatepass"))
        return "{" + ",".join(f"{_write(key)}:{_write(value[key])}" for key in keys) + "}"
    raise ValueError(f"{type(value).__name__} has no canonical form here.")


def read_strictly(text):
    """
    Return the value of the JSON ``text`` (str or UTF-8 bytes).

    Raises ValueError for what is not JSON, for NaN and infinities, and for an object
    that has a key twice: readers differ in which one they take, so a signed document
    could mean two things.
    """
    if isinstance(text, bytes):
        text = text.decode()
    return json.loads(text, object_pairs_hook=_no_key_twice, parse_constant=_no_constant)


def _no_key_twice(pairs):
    found = dict(pairs)
    if len(found) < len(pairs):
        raise ValueError("A key is in one JSON object twice.")
    return found


def _no_constant(name):
    raise ValueError(f"{name} is not JSON.")
