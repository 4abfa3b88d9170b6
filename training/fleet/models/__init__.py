"""Groups, vessels, what happened to them, and the sums kept of all that."""

from .adoption import AdoptionEvent, StageWording
from .calls import CallNote
from .comparison import PairedCatch, PairedTows
from .drafts import ImportDraft
from .groups import Group, Membership, Session
from .mailings import SeasonMail
from .privacy import Reach, SharingChoice
from .tallies import (
    GroupRuleTally,
    PersonRuleTally,
    PersonTally,
    UptakeTally,
    VesselState,
)
from .vessels import Crew, Vessel

__all__ = [
    "AdoptionEvent",
    "CallNote",
    "Crew",
    "Group",
    "GroupRuleTally",
    "ImportDraft",
    "Membership",
    "PairedCatch",
    "PairedTows",
    "PersonRuleTally",
    "PersonTally",
    "Reach",
    "SeasonMail",
    "Session",
    "SharingChoice",
    "StageWording",
    "UptakeTally",
    "Vessel",
    "VesselState",
]
