"""The first page of somebody without an account: what the site is for."""

from django.shortcuts import render

from training.course.progress import outline


def page(request):
    """Return the response of the first page to a visitor."""
    return render(request, "home/visitor.html", {"outline": outline()})
