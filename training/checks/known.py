"""
The vessels whose names an officer can pick on a sheet; any other may be typed.

Rooms above that know vessels register themselves here when the site starts.
"""

from typing import NamedTuple


class KnownVessel(NamedTuple):
    """A vessel by its ``name``, with the ``number`` painted on its hull."""

    name: str
    harbor: str
    number: str = ""
    permit: str = ""


_ways = []


def vessels(way):
    """Let ``way``, which takes a user and yields KnownVessels, name more of them; return it."""
    _ways.append(way)
    return way


def known(user):
    """Return the KnownVessels that ``user``, an officer or staff, can pick from, in order."""
    return sorted({vessel for way in _ways for vessel in way(user)})
