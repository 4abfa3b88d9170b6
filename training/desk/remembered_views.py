"""What staff see of what stays: on questions, and on nets that officers check."""

from django.core.paginator import Paginator
from django.shortcuts import render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from training.deck.suppression import SMALLEST
from training.people import sight
from training.people.models import Group, Membership

from .after_passing import NOBODY, SOONER, checks_after_passing
from .remembered import kept
from .spans import SPANS

GROUPS_A_PAGE = 8


@never_cache
@sight.staff
@require_safe
def remembered(request):
    """Show what each group remembers, and what officers found on the nets of those who passed."""
    groups = sight.rows(Group.objects.all(), request.user)
    page = Paginator(groups, GROUPS_A_PAGE).get_page(request.GET.get("page"))
    shown = list(page.object_list)
    teams = {None: None} | _members(shown)
    checks = checks_after_passing(request.user, teams)
    questions = kept(request.user, shown)
    context = {
        "page": page,
        "spans": SPANS,
        "questions": [(group, questions[group and group.pk]) for group in (None, *shown)],
        "checks": [(group, checks[group and group.pk].values()) for group in (None, *shown)],
        "checked_after": [SOONER, *(span.words for span in SPANS)],
        "nobody": NOBODY,
        "smallest": SMALLEST,
        "any_demo": any(group.is_demo for group in shown),
    }
    return render(request, "desk/remembered.html", context)


def _members(groups):
    """Return the numbers of the people of each of ``groups``, by the group's number."""
    found = {group.pk: set() for group in groups}
    members = Membership.objects.filter(group__in=groups).order_by()
    for group, person in members.values_list("group", "user"):
        found[group].add(person)
    return found
