"""Who may see check sheets: officers their own, staff all."""

from functools import wraps

from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.shortcuts import get_object_or_404

from .models import CheckSheet


def officer_required(view):
    """Send whoever is not signed in to sign in, and refuse all but officers and staff."""

    @wraps(view)
    def guarded(request, *args, **kwargs):
        if not (request.user.is_officer or request.user.is_staff):
            raise PermissionDenied
        return view(request, *args, **kwargs)

    return login_required(guarded)


def seen_sheet(request, key):
    """Return the sheet ``key`` if whoever asks may see it; else answer 404."""
    return get_object_or_404(CheckSheet.objects.seen_by(request.user), key=key)


def own_sheet(request, key):
    """Return the sheet ``key`` if it belongs to whoever asks; else answer 404."""
    return get_object_or_404(CheckSheet.objects.of(request.user), key=key)
