"""
Dated, cited rule sets, read from YAML and refused when anything is missing.

A rule set is one file in ``books/``; each of its limits carries its clause,
how well it is known, and why it is there. Nothing else in the project knows a
limit. This is the door: what lies behind it is one file a job.
"""

from rigs.words.units import ROUNDING

from .areas import Area, parse_degrees
from .book import COURSES, LEVELS, Rulebook, Taught
from .book_reader import FOLDER, parse, parse_versions
from .joining import refuse_gaps_and_overlaps
from .limits import Printed
from .nodes import RulebookError
from .requirement import FISHERY, KNOWN, PRACTICE, REGULATION, Requirement
from .seasons import Season, date_text
from .shelf import (
    add_source,
    everything,
    find_in_force,
    gear_books,
    gear_names,
    in_force,
    lapsed,
    load,
    names,
    nearest,
    nearest_gear_books,
    remove_source,
    trying,
    versions,
)
from .teaching import on_course, taught

__all__ = [
    "COURSES",
    "FISHERY",
    "FOLDER",
    "KNOWN",
    "LEVELS",
    "PRACTICE",
    "REGULATION",
    "ROUNDING",
    "Area",
    "Printed",
    "Requirement",
    "Rulebook",
    "RulebookError",
    "Season",
    "Taught",
    "add_source",
    "date_text",
    "everything",
    "find_in_force",
    "gear_books",
    "gear_names",
    "in_force",
    "lapsed",
    "load",
    "names",
    "nearest",
    "nearest_gear_books",
    "on_course",
    "parse",
    "parse_degrees",
    "parse_versions",
    "refuse_gaps_and_overlaps",
    "remove_source",
    "taught",
    "trying",
    "versions",
]
