"""What staff see of the sums: the rules that are missed, and where people stop."""

from django.core.paginator import Paginator
from django.http import Http404
from django.shortcuts import get_object_or_404, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from training.deck.plain import percent_sign
from training.deck.suppression import SMALLEST
from training.people import sight
from training.people.models import Group, Role

from . import heat, stops
from .calls.numbers import QUIET_DAYS
from .forms import WayForm
from .missed import requirement_called
from .models import PersonRuleTally
from .trainees import people

GROUPS_A_PAGE = 8
PEOPLE_A_PAGE = 50


@never_cache
@sight.staff
@require_safe
def rules(request):
    """Show how often each rule is missed, in all and in each group."""
    groups = sight.rows(Group.objects.all(), request.user)
    page = Paginator(groups, GROUPS_A_PAGE).get_page(request.GET.get("page"))
    shown = list(page.object_list)
    context = {
        "page": page,
        "groups": shown,
        "lines": heat.lines(groups, shown),
        "with_intervals": request.GET.get("intervals") == "yes",
        "smallest": SMALLEST,
        "steps": [percent_sign(share) for share in heat.SHADES],
        "any_demo": any(group.is_demo for group in shown),
    }
    return render(request, "desk/rules.html", context)


@never_cache
@sight.staff
@require_safe
def missed_by(request, rule, pk):
    """List the people of a group who missed a rule."""
    group = get_object_or_404(sight.rows(Group.objects.all(), request.user), pk=pk)
    try:
        requirement = requirement_called(rule)
    except KeyError as error:
        raise Http404(_("There is no rule called “{rule}”.").format(rule=rule)) from error
    found = PersonRuleTally.objects.filter(
        rule=rule, missed__gt=0, user__in=people(group).order_by().values("pk")
    )
    found = found.select_related("user").order_by("-missed", "user__name", "user")
    page = Paginator(found, PEOPLE_A_PAGE).get_page(request.GET.get("page"))
    context = {"group": group, "requirement": requirement, "page": page}
    return render(request, "desk/missed_by.html", context)


@never_cache
@sight.staff
@require_safe
def way(request):
    """Show the steps from signing up to a certificate, and how many stopped at each."""
    form = WayForm(request.GET, sight.rows(Group.objects.all(), request.user))
    group, role = form.chosen()
    found = stops.stops(sight.rows(people(group), request.user), role)
    context = {
        "form": form,
        "officers": role == Role.OFFICER,
        "role": role,
        "group": group,
        "stops": found,
        "people": found[0].came,
        "quiet_days": QUIET_DAYS,
        "worst": max(found, key=lambda stop: stop.quiet),
    }
    return render(request, "desk/way.html", context)
