"""The vessels of the fleet, what happened to them, and the sums kept of all that."""

from .adoption import AdoptionEvent, StageWording
from .asked import BerthAsked
from .drafts import HeadingMemory, ImportDraft, ImportWrite
from .harbors import Harbor, HarborSpelling
from .history import VesselDetails
from .removals import Removal
from .tallies import UptakeTally, VesselState
from .vessels import Crew, Vessel

__all__ = [
    "AdoptionEvent",
    "BerthAsked",
    "Crew",
    "Harbor",
    "HarborSpelling",
    "HeadingMemory",
    "ImportDraft",
    "ImportWrite",
    "Removal",
    "StageWording",
    "UptakeTally",
    "Vessel",
    "VesselDetails",
    "VesselState",
]
