"""
What kinds of animal a name can mean, and how a list of names compares with a closed list.

The names stand in ``species.yaml``. A name is looked up whole, never
found inside another: "cod" is not in "codling". One that may mean several kinds is taken
for any of them, and one that is not in the table for none: both are questions to the
person who wrote it, not breaches.
"""

import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import yaml

from .say import gettext as _
from .say import gettext_lazy

FILE = Path(__file__).with_name("species.yaml")

SILVER_AND_OFFSHORE = gettext_lazy("silver and offshore hake")
RED = gettext_lazy("red hake")


class _Table(NamedTuple):
    """Kinds by plain name, and the kinds of each group."""

    kinds: dict[str, frozenset[str]]
    groups: dict[str, frozenset[str]]


class Sorted(NamedTuple):
    """
    Names as somebody wrote them, sorted by a closed list.

    ``listed`` are on it and ``unlisted`` are not. ``unclear`` may mean kinds of both
    sorts; ``unknown`` are not in the table of names.
    """

    listed: tuple[str, ...]
    unlisted: tuple[str, ...]
    unclear: tuple[str, ...]
    unknown: tuple[str, ...]


def split_names(text: str) -> tuple[str, ...]:
    """
    Return the names that ``text`` lists, each once, as they are written.

    Commas, semicolons, lines, ``&`` and the word ``and`` part one from the next.
    """
    names: list[list[str]] = [[]]
    for part in re.split(r"[,;&\n]", text):
        names.append([])
        for word in part.split():
            if word.lower() == "and":
                names.append([])
            else:
                names[-1].append(word)
    return tuple(dict.fromkeys(" ".join(words) for words in names if words))


def _plain(name: str) -> str:
    """Return ``name`` without case, hyphens, dots and needless space."""
    return " ".join(re.sub(r"[-‐‑–.]", " ", name).casefold().split())


def _names(entry: Mapping[str, Any]) -> Iterator[str]:
    """Yield the names that an entry of the file stands under."""
    yield entry["name"]
    yield from entry.get("also", ())


@cache
def _table() -> _Table:
    """Return the _Table on file; raise ValueError where a name stands for two things."""
    told = yaml.safe_load(FILE.read_text("utf-8"))
    kinds: dict[str, frozenset[str]] = {}
    groups: dict[str, set[str]] = {}

    def add(names: Iterable[str], meant: frozenset[str]) -> None:
        for name in names:
            if _plain(name) in kinds:
                raise ValueError(
                    _("{name}: “{name2}” stands for two things.").format(name=FILE.name, name2=name)
                )
            kinds[_plain(name)] = meant

    for entry in told["kinds"]:
        add(_names(entry), frozenset((entry["name"],)))
        if "group" in entry:
            groups.setdefault(entry["group"], set()).add(entry["name"])
    names = frozenset().union(*kinds.values())
    for entry in told["shared"]:
        if stray := set(entry["of"]) - names:
            raise ValueError(
                _("{name}: “{entry}” is of no such kind: {stray}.").format(
                    name=FILE.name, entry=entry["name"], stray=stray
                )
            )
        add(_names(entry), frozenset(entry["of"]))
    return _Table(kinds, {name: frozenset(members) for name, members in groups.items()})


def kinds(name: str) -> frozenset[str]:
    """Return the kinds that ``name`` can mean, by their names in the table; none if unknown."""
    known, plain = _table().kinds, _plain(name)
    # Fish by the box: "haddocks", "scups", "skates".
    for each in (plain, plain.removesuffix("s"), plain.removesuffix("es")):
        if each in known:
            return known[each]
    return frozenset()


def every_name() -> dict[str, list[str]]:
    """Return the kinds, in order, that each name can mean, for a script to sort by."""
    return {name: sorted(meant) for name, meant in _table().kinds.items()}


def of_group(group: str) -> frozenset[str]:
    """Return the kinds of a ``group``, such as ``SILVER_AND_OFFSHORE``."""
    return _table().groups[group]


def may_be(name: str, group: str) -> bool:
    """Return whether ``name`` can mean a kind of ``group``; one not in the table can."""
    meant = kinds(name)
    return not meant or bool(meant & of_group(group))


def sort_out(names: Iterable[str], allowed: Collection[str]) -> Sorted:
    """
    Return ``names`` as Sorted by the closed list ``allowed``.

    A name on the list that is not in the table stands for itself alone.
    """
    allowed_kinds = frozenset().union(*map(kinds, allowed))
    as_written = {_plain(name) for name in allowed if not kinds(name)}
    found: dict[str, list[str]] = {field: [] for field in Sorted._fields}
    for name in names:
        meant = kinds(name)
        if not meant:
            field = "listed" if _plain(name) in as_written else "unknown"
        elif meant <= allowed_kinds:
            field = "listed"
        else:
            field = "unclear" if meant & allowed_kinds else "unlisted"
        found[field].append(name)
    return Sorted(*(tuple(each) for each in found.values()))
