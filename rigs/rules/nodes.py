"""Walking a text in YAML so that every refusal can name its line."""

from collections.abc import Collection
from datetime import date
from typing import NoReturn

import yaml
from yaml import MappingNode, Node, ScalarNode, SequenceNode

from rigs.words import units
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy

from .seasons import date_text


class RulebookError(ValueError):
    """
    A rule set that cannot be used; the message names the file and the line.

    ``line`` and ``reason`` are these two apart, where a text was refused.
    """

    def __init__(self, message: str, line: int | None = None, reason: str = "") -> None:
        super().__init__(message)
        self.line = line
        self.reason = reason


class NodeReader:
    """Walks the nodes of a text from ``source``; ``refuse`` names the line of one."""

    def __init__(self, source: str) -> None:
        self.source = source

    def refuse(self, node: Node | None, message: str) -> NoReturn:
        """Raise RulebookError with the line of ``node``."""
        line = node.start_mark.line + 1 if node is not None else 1
        raise RulebookError(
            _("{source}, line {line}: {message}").format(
                source=self.source, line=line, message=message
            ),
            line,
            message,
        )

    def entries(self, node: Node) -> dict[str, Node]:
        """Return the values of a mapping by name, whatever the names are."""
        if not isinstance(node, MappingNode):
            self.refuse(node, _("a list of names and values was expected here"))
        found: dict[str, Node] = {}
        for key, value in node.value:
            if key.value in found:
                self.refuse(key, _("“{value}” is here twice").format(value=key.value))
            found[key.value] = value
        return found

    def mapping(
        self, node: Node, required: Collection[str], optional: Collection[str] = ()
    ) -> dict[str, Node]:
        """Return the values of a mapping by name; others, and lacking ones, are refused."""
        found = self.entries(node)
        for key, __ in node.value:
            if key.value not in required and key.value not in optional:
                self.refuse(key, _("unknown key “{value}”").format(value=key.value))
        for name in required:
            if name not in found or (
                isinstance(found[name], ScalarNode) and not found[name].value.strip()
            ):
                self.refuse(node, _("“{name}” is missing").format(name=name))
        return found

    def text(self, node: Node) -> str:
        """Return a single value as text, its white space made plain."""
        if not isinstance(node, ScalarNode):
            self.refuse(node, _("a single value was expected here"))
        return " ".join(node.value.split())

    def said(self, node: Node) -> str:
        """Return a text for people, which is looked up when it is shown."""
        return gettext_lazy(self.text(node))

    def day(self, node: Node) -> date:
        """Return a date."""
        text = self.text(node)
        if not text:
            self.refuse(node, _("a date is missing"))
        try:
            return date.fromisoformat(text)
        except ValueError:
            self.refuse(node, _("“{text}” is not a date, such as 2020-01-31").format(text=text))

    def length(self, node: Node) -> float:
        """Return a length in metres."""
        text = self.text(node)
        try:
            return units.parse_length(text, bare=None)
        except units.UnitError as error:
            self.refuse(node, _("wrong unit: {error}").format(error=error))

    def items(self, node: Node) -> list[Node]:
        """Return the nodes of a list."""
        if not isinstance(node, SequenceNode):
            self.refuse(node, _("a list was expected here"))
        return list(node.value)

    def choice(self, node: Node, options: Collection[str], what: str) -> str:
        """Return a text that is one of ``options``; ``what`` is what they are called."""
        text = self.text(node)
        if text not in options:
            self.refuse(
                node,
                _("“{text}” is not {what}: use one of {options}").format(
                    text=text, what=what, options=", ".join(options)
                ),
            )
        return text

    def dates(self, parts: dict[str, Node], first: str, last: str) -> list[date | None]:
        """Return the dates in ``parts`` called ``first`` and ``last``, None where there is none."""
        days = [
            self.day(parts[name])
            if name in parts and self.text(parts[name]) not in ("", "null")
            else None
            for name in (first, last)
        ]
        begins, ends = days
        if begins and ends and ends < begins:
            self.refuse(
                parts[last],
                _("the last day, {date_text}, comes before the first, {date_text2}").format(
                    date_text=date_text(ends), date_text2=date_text(begins)
                ),
            )
        return days


def compose(text: str, source: str) -> Node:
    """Return the root node of a YAML ``text``; RulebookError if there is none."""
    try:
        node = yaml.compose(text, Loader=yaml.SafeLoader)
    except yaml.YAMLError as error:
        mark = getattr(error, "problem_mark", None)
        line = mark.line + 1 if mark else 1
        raise RulebookError(
            _("{source}, line {line}: not readable as YAML ({getattr})").format(
                source=source, line=line, getattr=getattr(error, "problem", error)
            )
        ) from error
    if node is None:
        raise RulebookError(_("{source}, line 1: the file is empty").format(source=source))
    return node
