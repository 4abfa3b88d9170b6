"""Who may see a view."""

from functools import wraps

from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied


def _required(test):
    def decorator(view):
        @wraps(view)
        def guarded(request, *args, **kwargs):
            if not test(request.user):
                raise PermissionDenied
            return view(request, *args, **kwargs)

        return login_required(guarded)

    return decorator


# Each sends whoever is not signed in to the sign-in page, and refuses others.
staff_required = _required(lambda user: user.is_staff)
officer_required = _required(lambda user: user.is_officer or user.is_staff)
# What is of everybody at once, for staff who are held to no harbor.
whole_fleet_required = _required(lambda user: user.sees_whole_fleet)
