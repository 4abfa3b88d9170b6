"""The first page of somebody without an account: what it is, a task to try, a net to plan."""

from django.shortcuts import render

from training.course.progress import outline
from training.people.joining import needs_code
from training.trying import passing
from training.trying.kept import Kept


def page(request):
    """Return the response of the first page to a visitor."""
    context = {
        "passing": passing.shown(passing.HeightForm()),
        "kept": Kept(request.session),
        "needs_code": needs_code(),
        "outline": outline(),
    }
    return render(request, "home/visitor.html", context)
