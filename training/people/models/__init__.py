"""The people who use the site, the groups they train in, and who may see what of them."""

from .attending import Attendance
from .deeds import AccountDeed
from .email_changes import EmailChange
from .groups import Group, Membership, Session, with_groups
from .phone_resets import PhoneReset
from .seeing import Reach, SharingChoice
from .signing_up import SignUpChoice
from .tries import Tries
from .users import ReachBy, Role, User, UserManager

__all__ = [
    "AccountDeed",
    "Attendance",
    "EmailChange",
    "Group",
    "Membership",
    "PhoneReset",
    "Reach",
    "ReachBy",
    "Role",
    "Session",
    "SharingChoice",
    "SignUpChoice",
    "Tries",
    "User",
    "UserManager",
    "with_groups",
]
