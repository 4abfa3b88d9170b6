"""The sheet that an address names, for those who may see it or change it."""

from django.shortcuts import get_object_or_404

from training.people import sight

from .models import CheckSheet


def seen_sheet(request, key):
    """Return the sheet ``key`` if whoever asks may see it; else answer 404."""
    return get_object_or_404(sight.rows(CheckSheet.objects.all(), request.user), key=key)


def own_sheet(request, key):
    """Return the sheet ``key`` if it belongs to whoever asks; else answer 404."""
    return get_object_or_404(sight.own(CheckSheet.objects.all(), request.user), key=key)
