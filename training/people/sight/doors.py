"""Who may open a page: said once above each view, and read by whoever asks the view."""

from enum import Enum
from functools import wraps

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.utils.translation import gettext as _


class Door(Enum):
    """
    Who may open a view; each view of the site has one as ``seen_by``.

    Those for which one has to sign in have ``lets_in`` too, which says so of a user.
    """

    ANYONE = "anyone, without signing in"
    SIGNED_IN = "everybody with an account"
    OWNER = "whose it is, and staff where the rule of its rows says so"
    OFFICERS = "officers and staff"
    STAFF = "staff"
    WHOLE_FLEET = "staff of the whole fleet, and administrators"


def _behind(door, may=lambda user: True):
    """
    Return the decorator of views that puts them behind ``door``.

    Whoever is not signed in is sent to sign in; whom ``may`` does not let in gets a 403.
    """

    def decorator(view):
        @wraps(view)
        def guarded(request, *args, **kwargs):
            if not may(request.user):
                raise PermissionDenied
            return view(request, *args, **kwargs)

        inside = login_required(guarded)

        @wraps(view)
        def found(request, *args, **kwargs):
            _say_if_lost(request)
            return inside(request, *args, **kwargs)

        found.seen_by, found.lets_in = door, may
        return found

    return decorator


def _say_if_lost(request):
    """Tell a person whose session ended before they sent a form that it was not saved."""
    by_hand = request.method == "POST" and request.accepts("text/html")
    if by_hand and not request.user.is_authenticated:
        said = _(
            "You were signed out before you sent this, so it was not saved. Sign in, then enter "
            "it again."
        )
        messages.warning(request, said)


def anyone(view):
    """Leave ``view`` open to all."""
    view.seen_by = Door.ANYONE
    return view


signed_in = _behind(Door.SIGNED_IN)
# For addresses that name a row of somebody's: others get a 404 from ``sight.rows``.
owner = _behind(Door.OWNER)
officers = _behind(Door.OFFICERS, lambda user: user.is_officer or user.is_staff)
staff = _behind(Door.STAFF, lambda user: user.is_staff)
whole_fleet = _behind(Door.WHOLE_FLEET, lambda user: user.sees_whole_fleet)
