"""
The conversion of one's own net to a raised footrope without a sweep.

``plan`` takes the net as it is now and returns the net as it will be, the verdict on
each, what to do in which order, what to buy, and what the plan alone cannot fix.
"""

from .carry import CARRIED, TOO_HEAVY, UNSURE, Carry, carry
from .paired import Pair, paired
from .planned import (
    MOVED,
    NEW,
    STAYS,
    Choices,
    Placement,
    chain_options,
    default_choices,
    planned_rig,
)
from .rules import books_for, goals
from .steps import KINDS, QUARTER, PlanStep
from .stores import Item, Weights
from .whole import Plan, plan

__all__ = [
    "CARRIED",
    "KINDS",
    "MOVED",
    "NEW",
    "Pair",
    "QUARTER",
    "STAYS",
    "TOO_HEAVY",
    "UNSURE",
    "Carry",
    "Choices",
    "Item",
    "Placement",
    "Plan",
    "PlanStep",
    "Weights",
    "books_for",
    "carry",
    "chain_options",
    "default_choices",
    "goals",
    "paired",
    "plan",
    "planned_rig",
]
