"""Telling what is written for people from what is written for programs."""

import re

from rigs.requirements.base import TESTS

_HOLE = "\x01"
_OF_RULE_SETS = set(TESTS).union(*TESTS.values())
"""How rule sets name a kind of quantity and how a limit is put: names, though of two words."""
_NOT_WORDS = re.compile(
    r"^\s*<[a-z!/]|^SELECT |^https?://|^\(\?|[\\^$]\w|%[YmdHMBj]|\bfilename=|^[a-z-]+=|^--|;\s*$|^%s"
)


def is_prose(text):
    """Return whether ``text``, with holes in braces, reads like words for people."""
    if text in _OF_RULE_SETS:
        return False
    flat = re.sub(r"\{[^{}]*\}", _HOLE, text).strip()
    words = re.findall(r"[A-Za-z]+", flat)
    if not any(len(word) > 2 for word in words) or _NOT_WORDS.search(text):
        return False
    if not re.search(rf"[\s{_HOLE}]", flat):
        return bool(re.fullmatch(r"[A-Z][a-z]+[.,:!?]?", flat))
    together = rf"[A-Za-z]{{2,}}[,;:.)”\"’]*[ {_HOLE}]+[“(\"‘]*[A-Za-z]"
    beside_hole = rf"{_HOLE} [a-z]{{2,}}|[a-z]{{2,}}[:,]? {_HOLE}"
    return bool(
        re.search(f"{together}|{beside_hole}", flat) or re.match(r"[A-Z][a-z]+[ .,:!?]", flat)
    )
