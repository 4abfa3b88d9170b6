"""The first page of a trainee or an officer: one next step, and what is theirs below it."""

from django.shortcuts import render

from training.course.progress import progress_for


def page(request):
    """Return the response of the first page to a trainee or an officer."""
    return render(request, "home/learner.html", {"progress": progress_for(request.user)})
