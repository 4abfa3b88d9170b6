"""Finds names that may be one name written twice: near, but not the same."""

import unicodedata
from collections import defaultdict

SHORTEST = 5  # letters: shorter names that differ by one are two names; common sense, no source
# Set before a vessel's name by some and not by others.
PREFIXES = {"f", "v", "m", "fv", "mv", "the"}
SPELLED = {
    "hbr": "harbor",
    "hrbr": "harbor",
    "harbour": "harbor",
    "pt": "point",
    "cv": "cove",
    "st": "saint",
    "isl": "island",
    "ii": "2",
    "iii": "3",
    "iv": "4",
}


def folded(name):
    """Return what is left of ``name`` when accents, signs, spaces and short forms are gone."""
    bare = "".join(c for c in unicodedata.normalize("NFKD", name) if not unicodedata.combining(c))
    bare = bare.replace("'", "").replace("’", "")
    words = "".join(c if c.isalnum() else " " for c in bare).casefold().split()
    while len(words) > 1 and words[0] in PREFIXES:
        words = words[1:]
    return "".join(SPELLED.get(word, word) for word in words)


def _figures(text):
    return [c for c in text if c.isdigit()]


def _shorter(text):
    """Return ``text`` and all that it is with one letter out."""
    return {text, *(text[:at] + text[at + 1 :] for at in range(len(text)))}


def one_off(one, other):
    """Return whether two texts differ by one letter: another, one more, or two changed about."""
    if one == other or abs(len(one) - len(other)) > 1:
        return False
    if len(one) != len(other):
        long, short = sorted((one, other), key=len, reverse=True)
        return short in _shorter(long)
    differ = [at for at, (a, b) in enumerate(zip(one, other, strict=True)) if a != b]
    if len(differ) == 2 and differ[1] == differ[0] + 1:
        first, second = differ
        return one[first] == other[second] and one[second] == other[first]
    return len(differ) == 1


def near(one, other):
    """Return whether two folded names may be one; names that differ in a figure are not."""
    if one == other:
        return True
    long_enough = min(len(one), len(other)) >= SHORTEST
    return long_enough and _figures(one) == _figures(other) and one_off(one, other)


class NearNames:
    """Things by their names, to ask which are near another; quick at any number of them."""

    def __init__(self):
        self.by_part = defaultdict(list)

    def add(self, name, thing):
        """Put ``thing`` under ``name``."""
        told = folded(name)
        for part in _shorter(told) if len(told) >= SHORTEST else {told}:
            self.by_part[part].append((told, thing))

    def near(self, name):
        """Return the things whose names are near ``name``, each with whether it is the same."""
        told, found = folded(name), {}
        for part in _shorter(told) if len(told) >= SHORTEST else {told}:
            for other, thing in self.by_part.get(part, ()):
                if near(told, other):
                    found[id(thing)] = thing, told == other
        return list(found.values())
