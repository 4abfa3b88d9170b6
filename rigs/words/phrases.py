"""
The phrases that a requirement brings along, so that no code knows what it is about.

A phrase is a clause without a capital and without a full stop; ``wording`` makes sentences
of it. Its holes, such as ``{found}``, are filled from what was measured.
"""

import re

from .say import gettext as _

_FOUND, _LIMIT = frozenset({"found"}), frozenset({"allowed"})

PHRASES = {
    # What is there.
    "met": frozenset(),  # of a yes-or-no rule: "no sweep is on it"
    "broken": frozenset(),  # "a sweep is on it"
    "reading": _FOUND,  # of a measured one: "the smallest float is {found} across"
    "above": _FOUND,  # of a difference, by its sign: "it is {found} longer"
    "zero": frozenset(),  # "both are the same length"
    "below": _FOUND,  # "it is {found} shorter"
    "end": _FOUND | _LIMIT,  # a whole step is left at the end
    "none": frozenset(),  # there is nothing to measure
    # What is asked.
    "asks": _LIMIT,  # "there may be none"
    # By how much it is missed.
    "past": frozenset({"margin"}),  # "{margin} too wide"
    "at_edge": frozenset(),  # missed although it lies at the very limit: "one dropper short"
    # Why a step is missing at the end of a wing of whole steps, as sentences.
    "why_end": frozenset({"which", "wing", "steps", "allowed"}),
    # How to fix it where the remedy does not fit, as sentences.
    "remedy_none": _LIMIT,
    "remedy_zero": _LIMIT,
    "remedy_below": _LIMIT,
    "remedy_end": _LIMIT | {"where"},
}
"""Each phrase there can be, with the holes that it may have."""

FLAG_PHRASES = ("met", "broken", "asks")
"""What a yes-or-no rule cannot be told without."""

_HOLE = re.compile(r"\{([a-z]+)\}")


def wrong_holes(name: str, text: str) -> str:
    """Return what is wrong with the holes in ``text``, the phrase called ``name``; else empty."""
    if set("{}") & set(_HOLE.sub("", text)):
        return _("a brace without its partner")
    unknown = sorted(set(_HOLE.findall(text)) - PHRASES[name])
    if not unknown:
        return ""
    known = ", ".join(f"{{{hole}}}" for hole in sorted(PHRASES[name])) or "none"
    return _("“{name}” has no {{{unknown}}} to fill in: it can have {known}").format(
        name=name, unknown=unknown[0], known=known
    )
