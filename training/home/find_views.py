"""The find box of the staff."""

from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from training.people import sight

from .finding import find

LONGEST = 80


@never_cache
@sight.staff
@require_safe
def found(request):
    """Show what was found, or go there where it is only one."""
    asked = request.GET.get("q", "")[:LONGEST].replace("\0", "")
    results = find(asked, request.user)
    hits = [hit for each in results for hit in each.hits]
    if len(hits) == 1:
        return redirect(hits[0].url)
    return render(request, "home/find.html", {"asked": asked, "results": results})
