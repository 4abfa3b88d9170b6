"""Limits in the words of a plan, each with a * if it was written from memory."""

from rigs.rules.rulebook import Requirement, Rulebook
from rigs.words.say import gettext as _


def star(requirement: Requirement, text: str) -> str:
    """Return ``text`` about a limit, with a * if the limit was written from memory."""
    return f"{text}*" if requirement.known == "memory" else text


def limit(requirement: Requirement) -> str:
    """Return the limit of ``requirement`` in words, with a * if it was written from memory."""
    return star(requirement, requirement.limit_text)


def of_droppers(rulebook: Rulebook) -> str:
    """Return what ``rulebook`` asks of droppers, and what is done by custom, in words."""
    stock, spacing, length = (
        rulebook.requirement(key) for key in ("dropper_stock", "dropper_spacing", "dropper_length")
    )
    rules = [
        _("chain {star}").format(star=star(stock, stock.allowed_text)),
        _("one every {limit} on a wing").format(limit=limit(spacing)),
    ]
    long = _("{star} long").format(star=star(length, length.allowed_text))
    if length.by_custom:
        return _("Rules: {rules}. By custom: {long}.").format(rules=", ".join(rules), long=long)
    return _("Rules: {join}.").format(join=", ".join([rules[0], long, rules[1]]))
