"""Limits as they are written in a rule set: sizes, seasons, areas, names, weights by mesh."""

from datetime import date
from typing import Any

from yaml import Node

from rigs.requirements import by_mesh, find
from rigs.words import units
from rigs.words.say import gettext as _

from . import outline
from .areas import Area, Corner, parse_degrees
from .limits import UNIT_DIMENSION, Printed
from .nodes import NodeReader
from .seasons import Season

_EQUIVALENT = 0.06
"""How far, as a share, the figure printed beside a limit may be off: 1/2 in is 1.2 cm."""

_READERS = {"length": units.parse_length, "mass": units.parse_mass}


class LimitReader(NodeReader):
    """Reads what a limit may be."""

    def limit(self, key: str, node: Node) -> tuple[Any, str]:
        """Return (limit, unit) for requirement ``key``."""
        dimension = find(key).dimension
        if dimension == "flag":
            self.choice(node, ("true",), _("a limit for a yes-or-no rule"))
            return True, "flag"
        if dimension == "days":
            return tuple(self.season(item) for item in self.listed(node)), "days"
        if dimension == "area":
            return tuple(self.area(item) for item in self.listed(node)), "area"
        if dimension == "names":
            return tuple(self.text(item) for item in self.listed(node)), "names"
        if dimension == "mass by mesh":
            return self.mesh_classes(node), _("lb by mesh")
        text = self.text(node)
        number, __, unit = text.rpartition(" ")
        if UNIT_DIMENSION.get(unit) != dimension:
            self.refuse(
                node,
                _("wrong unit: “{text}” is not a {dimension} with its unit").format(
                    text=text, dimension=dimension
                ),
            )
        try:
            if dimension == "length":
                return units.parse_length(text, bare=None), unit
            if dimension == "mass":
                return units.parse_mass(text.replace(",", ""), bare=None), unit
            if dimension == "share":
                return float(number) / 100, unit
            return int(number), "day" if dimension == "day count" else unit
        except ValueError as error:
            self.refuse(node, _("wrong unit: {error}").format(error=error))

    def printed(self, node: Node, limit: float, unit: str) -> Printed:
        """Return the Printed figure that the regulation gives beside ``limit``."""
        text = self.text(node)
        if UNIT_DIMENSION.get(unit) not in _READERS:
            self.refuse(node, _("only a length or a weight has a metric figure"))
        try:
            size = _READERS[UNIT_DIMENSION[unit]](text.replace(",", ""), bare=None)
        except units.UnitError as error:
            self.refuse(node, _("wrong unit: {error}").format(error=error))
        if abs(size - limit) > _EQUIVALENT * limit:
            self.refuse(
                node,
                _("“{text}” is not the limit in other units: change both or neither").format(
                    text=text
                ),
            )
        return Printed(size, text)

    def listed(self, node: Node) -> list[Node]:
        """Return the items of a limit that is a list."""
        items = self.items(node)
        if not items:
            self.refuse(node, _("the list of what is allowed is empty"))
        return items

    def mass(self, node: Node) -> float:
        """Return a weight in kilograms."""
        text = self.text(node)
        try:
            return units.parse_mass(text.replace(",", ""), bare=None)
        except units.UnitError as error:
            self.refuse(node, _("wrong unit: {error}").format(error=error))

    def mesh_classes(self, node: Node) -> tuple[by_mesh.MeshClass, ...]:
        """Return the rows of a limit that goes by the smallest mesh on board."""
        rows: list[by_mesh.MeshClass] = []
        for item in self.listed(node):
            parts = self.mapping(item, ("most",), ("under", "metric", "where"))
            row = by_mesh.MeshClass(
                self.length(parts["under"]) if "under" in parts else None,
                self.mass(parts["most"]),
                self.mass(parts["metric"]) if "metric" in parts else None,
                self.text(parts["where"]) if "where" in parts else "",
            )
            if 0 in (row.under, row.most):
                self.refuse(item, _("a mesh and a weight must be more than nothing"))
            begins = rows[-1].under if rows else 0.0
            if begins is None:
                self.refuse(
                    item, _("only the last row has no “under”: it holds for all larger mesh")
                )
            if row.under is not None and row.under <= begins:
                self.refuse(parts["under"], _("each row begins where the one before ends"))
            rows.append(row)
        if rows[-1].under is not None:
            self.refuse(node, _("the last row must have no “under”, so that no mesh is left out"))
        return tuple(rows)

    def season(self, node: Node) -> Season:
        """Return a Season from its first and last day."""
        parts = self.mapping(node, ("from", "to"))
        days = []
        for name in ("from", "to"):
            text = self.text(parts[name])
            try:
                # A leap year, so that the last of February can be named.
                days.append(date.fromisoformat(f"2020-{text}"))
            except ValueError:
                self.refuse(
                    parts[name],
                    _("“{text}” is not a day of the year, such as 09-01 for September 1").format(
                        text=text
                    ),
                )
        first, last = days
        return Season((first.month, first.day), (last.month, last.day))

    def area(self, node: Node) -> Area:
        """Return an Area whose corners enclose something."""
        parts = self.mapping(node, ("title", "corners"), ("season", "closed_by"))
        items = self.items(parts["corners"])
        corners = [self.corner(item) for item in items]
        if len(corners) < 3:
            self.refuse(node, _("an area needs three corners or more"))
        if (place := outline.repeated(corners)) is not None:
            self.refuse(
                items[place],
                _(
                    "the corner {corners} or its point is here twice: each is given once, and "
                    "the last is joined to the first"
                ).format(corners=corners[place][0]),
            )
        if (places := outline.crossing(corners)) is not None:
            one, other = (
                f"{corners[place][0]} to {corners[(place + 1) % len(corners)][0]}"
                for place in places
            )
            self.refuse(
                items[places[1]],
                _(
                    "the sides {one} and {other} cross or touch: check the order of the corners"
                ).format(one=one, other=other),
            )
        return Area(
            self.text(parts["title"]),
            tuple(corners),
            self.season(parts["season"]) if "season" in parts else None,
            self.text(parts["closed_by"]) if "closed_by" in parts else "",
        )

    def corner(self, node: Node) -> Corner:
        """Return (name, latitude, longitude) of one corner."""
        text = self.text(node)
        try:
            name, north, west = (piece.strip() for piece in text.split(","))
            latitude, longitude = parse_degrees(north), parse_degrees(west)
        except ValueError:
            self.refuse(
                node,
                _("“{text}” is not a corner, such as RF1, 42 14.05, 70 08.8").format(text=text),
            )
        if wrong := outline.out_of_range(latitude, longitude):
            self.refuse(node, _("“{text}” lies nowhere: {wrong}").format(text=text, wrong=wrong))
        return name, latitude, -longitude
