"""What staff act on: calls made, reports mailed, and the sums of what people did."""

from .calls import CallNote
from .mailings import SeasonMail
from .tallies import GroupRuleTally, PersonRuleTally, PersonTally

__all__ = ["CallNote", "GroupRuleTally", "PersonRuleTally", "PersonTally", "SeasonMail"]
