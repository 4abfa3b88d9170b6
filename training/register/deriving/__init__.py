"""
Stages that the site knows of by itself: an event stands as long as what it was made from.

``sources`` says what should stand; ``derive`` records what is missing, and corrects or
withdraws what is otherwise by new events. What staff corrected by hand is left alone.
"""

from .matching import derive, derive_all

__all__ = ["derive", "derive_all"]
