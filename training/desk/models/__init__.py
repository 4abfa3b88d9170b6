"""What staff act on: calls made, reports mailed, and the sums of what people did."""

from .calls import CallGiven, CallNote, CallReason
from .mailings import SeasonMail
from .tallies import GroupRuleTally, PersonRuleTally, PersonTally

__all__ = [
    "CallGiven",
    "CallNote",
    "CallReason",
    "GroupRuleTally",
    "PersonRuleTally",
    "PersonTally",
    "SeasonMail",
]
