"""The footrope set anew without a script, and what a script moves it by."""

from django.http import JsonResponse
from django.shortcuts import render
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_safe

from training.people import sight

from .passing import HeightForm, frames, shown


@sight.anyone
@require_safe
def footrope(request):
    """Show the footrope as it was set, on a page of its own."""
    return render(request, "trying/footrope.html", {"passing": shown(HeightForm(request.GET))})


@sight.anyone
@require_safe
@cache_control(public=True, max_age=3600)
def all_heights(request):
    """Return all that moves in the drawing, for the script."""
    return JsonResponse(frames())
