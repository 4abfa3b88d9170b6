"""Moments that tests share."""

from datetime import timedelta

from django.utils import timezone

BEFORE = timezone.now() - timedelta(days=30)
"""Since when those have been here who are to agree to what others ask for now."""
