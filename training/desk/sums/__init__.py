"""
The sums that staff pages read: kept up to date, counted anew, and compared.

Whoever changes what a person adds to any sum first takes hold of that person's
PersonTally row (``upkeep.hold``) and lets go of it at the end of the transaction. So of
two changes at once one waits, and then sees what the other did.
"""

from .recounting import differences, rebuild, recount
from .upkeep import attempt_made, joined, leaving, step_taken

__all__ = [
    "attempt_made",
    "differences",
    "joined",
    "leaving",
    "rebuild",
    "recount",
    "step_taken",
]
