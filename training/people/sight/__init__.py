"""
Who may see what: the one place that decides it.

A view says who may open it: ``@sight.staff`` above it, or another Door. The class of a model
says whose its rows are and which of them staff see: ``@sight.rule(own="owner")`` above it.
Pages and downloads take their rows from ``sight.rows``, or from ``sight.own`` where staff too
see nothing but what is their own.
"""

from .doors import Door, anyone, officers, owner, signed_in, staff, whole_fleet
from .reach import belonging, harbors_of, reach_of
from .rows import every, of_harbor, of_people, own, people_in_reach, rows, rule

__all__ = [
    "Door",
    "anyone",
    "belonging",
    "every",
    "harbors_of",
    "of_harbor",
    "of_people",
    "officers",
    "own",
    "owner",
    "people_in_reach",
    "reach_of",
    "rows",
    "rule",
    "signed_in",
    "staff",
    "whole_fleet",
]
