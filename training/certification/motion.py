"""What one person proposes, for a second one to decide."""

from typing import Any, NamedTuple
from uuid import UUID


class Motion(NamedTuple):
    """Who proposes something, and why; the same ``key``, which the form made up, proposes once."""

    by: Any
    reason: str
    key: UUID
