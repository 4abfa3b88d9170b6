"""What staff see of those who train."""

from django.core.paginator import Paginator
from django.db.models import Count
from django.shortcuts import get_object_or_404, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from training.accounts.access import staff_required
from training.exercises.models import Attempt
from training.lessons.progress import progress_for, progress_for_many

from . import tables
from .forms import FilterForm
from .groups import joining_path, picture_of_link
from .missed import missed_rules
from .models import Group, Vessel
from .records import attempts_of, entry, lessons_of
from .spreadsheet import csv_response
from .trainees import groups_of, people, rows

PEOPLE_A_PAGE = 50
ATTEMPTS_A_PAGE = 20
MOST_MISSED = 5


@never_cache
@staff_required
@require_safe
def trainees(request):
    """List those who train, with how far they have come."""
    form = FilterForm(request.GET)
    chosen, text = form.chosen()
    page = Paginator(people(chosen, text), PEOPLE_A_PAGE).get_page(request.GET.get("page"))
    found = rows(page.object_list)
    context = {
        "form": form,
        "chosen": chosen,
        "narrowed": chosen is not None or bool(text),
        "page": page,
        "rows": found,
        "any_demo": any(row.is_demo for row in found),
    }
    return render(request, "fleet/trainees.html", context)


@never_cache
@staff_required
@require_safe
def trainees_csv(request):
    """Download the list, narrowed down as the page is, but all of it."""
    found = people(*FilterForm(request.GET).chosen())
    return csv_response("trainees.csv", tables.TRAINEES, tables.trainees(rows(found)))


@never_cache
@staff_required
@require_safe
def trainee(request, pk):
    """Show one person's whole record."""
    person = get_object_or_404(people().prefetch_related("memberships__group"), pk=pk)
    progress = progress_for(person)
    handed_in = attempts_of(person)
    page = Paginator(handed_in, ATTEMPTS_A_PAGE).get_page(request.GET.get("page"))
    groups = groups_of(person)
    context = {
        "person": person,
        "groups": groups,
        "is_demo": any(each.is_demo for each in groups),
        "progress": progress,
        "lessons": lessons_of(person, progress),
        "missed": missed_rules(handed_in, MOST_MISSED),
        "page": page,
        "entries": [entry(attempt) for attempt in page.object_list],
    }
    return render(request, "fleet/trainee.html", context)


@never_cache
@staff_required
@require_safe
def attempts_csv(request, pk):
    """Download everything that one person has handed in."""
    person = get_object_or_404(people(), pk=pk)
    return csv_response(
        f"attempts-{person.pk}.csv", tables.ATTEMPTS, tables.attempts(attempts_of(person))
    )


@never_cache
@staff_required
@require_safe
def groups(request):
    """List the groups."""
    found = Group.objects.annotate(members=Count("memberships"))
    return render(request, "fleet/groups.html", {"groups": found})


@never_cache
@staff_required
@require_safe
def group(request, pk):
    """Show how people join a group, and how the group as a whole is doing."""
    found = get_object_or_404(Group, pk=pk)
    link = request.build_absolute_uri(joining_path(found))
    progress = progress_for_many(people(found)).values()
    context = {
        "group": found,
        "link": link,
        "picture": picture_of_link(link),
        "members": len(progress),
        "finished": sum(each.complete for each in progress),
        "missed": missed_rules(
            Attempt.objects.filter(assignment__user__memberships__group=found), MOST_MISSED
        ),
        "vessels": Vessel.objects.filter(harbour=found.harbour) if found.harbour else [],
    }
    return render(request, "fleet/group.html", context)
