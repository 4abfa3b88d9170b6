"""The first page of the staff: what waits for them today."""

from django.shortcuts import render
from django.utils import timezone

from rigs.rules import rulebook
from training.course.progress import outline


def page(request):
    """Return the response of the first page to one of the staff."""
    context = {"outline": outline(), "lapsed": rulebook.lapsed(timezone.localdate())}
    return render(request, "home/today.html", context)
