"""
The tags of a lesson: words in double braces that stand for figures of the rule module.

``grammar`` reads them, ``inline``, ``blocks``, ``figures``, ``mesh``, ``passages`` and ``waters``
say what each stands for, ``page`` is what they may ask, and ``fill`` puts their answers in their
place.
"""

from . import (  # noqa: F401  (each puts its tags on the list)
    blocks,
    figures,
    inline,
    mesh,
    passages,
    waters,
)
from .fill import fill
from .page import Page

__all__ = ["Page", "fill"]
