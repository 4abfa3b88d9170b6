"""A rule set read from YAML, and refused when anything is missing."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from functools import partial
from pathlib import Path

from yaml import Node, ScalarNode

from rigs.words.say import gettext as _

from .book import COURSES, LEVELS, Rulebook, Taught
from .dated import Dated, versions
from .nodes import NodeReader, compose
from .requirement import Requirement
from .requirement_reader import RequirementReader

FOLDER = Path(__file__).parent / "books"


class BookReader(NodeReader):
    """Reads what a rule set says of itself, and all that it includes."""

    def _day(self, parts: dict[str, Node]) -> tuple[date, date | None, bool]:
        """Return the first and last day, and whether it resumes rules that had ended."""
        effective = self.mapping(parts["effective"], ("from",), ("to", "resumes"))
        if "resumes" in effective:
            self.choice(effective["resumes"], ("true",), _("a word on a gap"))
        first, last = self.dates(effective, "from", "to")
        if first is None:
            self.refuse(effective["from"], _("a date is missing"))
        return first, last, "resumes" in effective

    def _allowance(self, parts: dict[str, Node]) -> dict[str, float]:
        """Return the measuring allowances in metres by kind of measure."""
        if "allowances" not in parts:
            return {}
        given = self.mapping(parts["allowances"], (), ("length", "diameter"))
        return {name: self.length(node) for name, node in given.items()}

    def _taught(self, parts: dict[str, Node]) -> Taught | None:
        """Return where the rule set is taught; None if it is not."""
        if "taught" not in parts:
            return None
        told = self.mapping(parts["taught"], ("from", "courses"), ("exercises",))
        other: dict[str, Node] = {}
        if "exercises" in told:
            other = self.entries(told["exercises"])
        return Taught(
            self._level(told["from"]),
            tuple(self.choice(each, COURSES, "a course") for each in self.items(told["courses"])),
            tuple(sorted((slug, self._level(node)) for slug, node in other.items())),
        )

    def _level(self, node: Node) -> int:
        return int(self.choice(node, [str(level) for level in LEVELS], "a level"))

    def _part(self, node: Node) -> tuple[str, str]:
        """
        Return the shared part to include, and the clause that takes over those in it.

        The second is empty for a part that is a rule set's own.
        """
        if isinstance(node, ScalarNode):
            return self.text(node), ""
        parts = self.mapping(node, ("part", "under"))
        return self.text(parts["part"]), self.text(parts["under"])

    def _included(self, node: Node, name: str, reader: RequirementReader) -> Iterator[Dated]:
        path = FOLDER / "shared" / f"{name}.yaml"
        if not path.is_file():
            self.refuse(node, _("there is no shared part called “{name}”").format(name=name))
        shared = reader.of_part(path.name)
        root = shared.mapping(compose(path.read_text("utf-8"), path.name), ("requirements",))
        for item in shared.items(root["requirements"]):
            yield shared.requirement(item)

    def _requirements(self, parts: dict[str, Node], reader: RequirementReader) -> tuple[Dated, ...]:
        found: dict[str, Dated] = {}
        names = set()
        for node in self.items(parts["include"]) if "include" in parts else ():
            name, under = self._part(node)
            if name in names:
                self.refuse(node, _("the shared part “{name}” is included twice").format(name=name))
            names.add(name)
            for each in self._included(node, name, reader):
                key = each.first.key
                if key in found:
                    self.refuse(
                        node,
                        _("“{key}” of the shared part “{name}” is here twice").format(
                            key=key, name=name
                        ),
                    )
                found[key] = each.each(partial(_taken_over, under)) if under else each
        for node in self.items(parts["requirements"]):
            each = reader.requirement(node)
            key = each.first.key
            if key in found:
                self.refuse(node, _("“{key}” is here twice").format(key=key))
            found[key] = each
        return tuple(found.values())

    def versions(self, root: Node) -> tuple[Rulebook, ...]:
        """Return the Rulebook in ``root`` as a version for each day on which a limit changes."""
        parts = self.mapping(
            root,
            ("name", "version", "title", "summary", "citation", "effective", "requirements"),
            (
                *("effective_note", "allowances", "allowance_note", "include", "gear", "follows"),
                "taught",
            ),
        )
        first, last, resumes = self._day(parts)
        allowance = self._allowance(parts)

        def told(name: str) -> str:
            return self.text(parts[name]) if name in parts else ""

        def said(name: str) -> str:
            return self.said(parts[name]) if name in parts else ""

        requirements = self._requirements(
            parts, RequirementReader(self.source, allowance, (first, last))
        )
        book = Rulebook(
            name=told("name"),
            version=told("version"),
            title=said("title"),
            summary=said("summary"),
            citation=told("citation"),
            effective_from=first,
            effective_to=last,
            effective_note=said("effective_note"),
            allowances=tuple(sorted(allowance.items())),
            allowance_note=said("allowance_note"),
            gear=tuple(self.text(item) for item in self.items(parts["gear"]))
            if "gear" in parts
            else (),
            requirements=(),
            resumes=resumes,
            follows=told("follows"),
            taught=self._taught(parts),
        )
        return versions(book, requirements)


def _short(clause: str) -> str:
    """Return a clause without its title and section, as another of the same section names it."""
    return clause[clause.index("(") :] if "(" in clause else clause


def _taken_over(under: str, requirement: Requirement) -> Requirement:
    """Return ``requirement`` as the clause ``under`` takes it over."""
    if not requirement.clause:
        return requirement
    clause = _("{under}, which takes over {short}").format(
        under=under, short=_short(requirement.clause)
    )
    return replace(requirement, clause=clause)


def parse(text: str, source: str) -> Rulebook:
    """
    Return the Rulebook that the YAML ``text`` describes, as it stands on its first day.

    Raise RulebookError as ``parse_versions`` does.
    """
    return parse_versions(text, source)[0]


def parse_versions(text: str, source: str) -> tuple[Rulebook, ...]:
    """
    Return the versions that come of the YAML ``text``, one for each day a limit changes on.

    Raise RulebookError, naming ``source`` and the line, for a missing citation or
    clause, an unknown key, a wrong unit, or anything else that cannot be used.
    """
    return BookReader(source).versions(compose(text, source))
