"""What staff see of what stays: on questions, and on nets that officers check."""

from django.core.paginator import Paginator
from django.http import Http404
from django.shortcuts import get_object_or_404, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from rigs.words.say import gettext_lazy
from training.checks.models import CheckSheet
from training.deck.downloads import table
from training.deck.numbers import whole_number
from training.deck.passing import in_lots
from training.deck.suppression import SMALLEST
from training.people import sight
from training.people.models import Group, Membership
from training.recall.models import AskedAgain
from training.work import aside

from .after_passing import NOBODY, SOONER, WORDS, checks_after_passing, sheets_behind
from .missed import rule_title
from .remembered import asked_in, kept
from .spans import SPANS

GROUPS_A_PAGE = 8
ROWS_A_PAGE = 50
ROWS_AT_ONCE = 500  # read together for a download
SHEETS = ("day", "vessel", "harbor", "officer", "outside")
QUESTIONS = ("asked", "name", "rule", gettext_lazy("days since right"), gettext_lazy("right again"))


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


def _chosen(request, words):
    """Return (Group or None, one of ``words``) as the address says; else answer 404."""
    groups = sight.rows(Group.objects.all(), request.user)
    group = request.GET.get("group", "")
    pk, after = whole_number(group), whole_number(request.GET.get("after", "0"))
    if after is None or after >= len(words) or (group and pk is None):
        raise Http404(_("There is no such list."))
    return get_object_or_404(groups, pk=pk) if group else None, words[after]


def _sheets(request):
    """Return (CheckSheets, context) of the list that the address asks for."""
    group, after = _chosen(request, WORDS)
    people = _members([group])[group.pk] if group else None
    clear = request.GET.get("clear") == "on"
    pks = sheets_behind(request.user, people, after, clear)
    found = CheckSheet.objects.filter(pk__in=pks).select_related("officer")
    return found, {"group": group, "after": after, "only": clear, "sheets": True}


def _questions(request):
    """Return (AskedAgain, context) of the list that the address asks for."""
    group, span = _chosen(request, SPANS)
    found = sight.rows(AskedAgain.objects.filter(asked_in(span)), request.user)
    if group:
        found = found.filter(user__memberships__group=group)
    right = request.GET.get("right") == "on"
    if right:
        found = found.filter(right=True)
    found = found.select_related("user").order_by("user__name", "user", "pk")
    return found, {"group": group, "after": span.words, "only": right}


def _page(request, found):
    return Paginator(found, ROWS_A_PAGE).get_page(request.GET.get("page"))


@never_cache
@sight.staff
@require_safe
def sheets(request):
    """List the check sheets that a figure of the page "What stays" counts."""
    found, context = _sheets(request)
    context["page"] = _page(request, found)
    return render(request, "desk/remembered_rows.html", context)


@never_cache
@sight.staff
@require_safe
@aside.if_long(
    gettext_lazy("Table of the check sheets counted"),
    lambda request, ending: aside.few(_sheets(request)[0]),
)
def sheets_table(request, ending):
    """Download the check sheets that a figure counts."""
    found, __ = _sheets(request)
    rows = (
        (each.day, each.vessel_name, each.harbor, each.officer.name, each.outside)
        for each in in_lots(found, ROWS_AT_ONCE)
    )
    return table(ending, "sheets-counted", SHEETS, rows)


@never_cache
@sight.staff
@require_safe
def questions(request):
    """List the questions asked again that a figure of the page "What stays" counts."""
    found, context = _questions(request)
    page = context["page"] = _page(request, found)
    page.object_list = [(each, rule_title(each.key)) for each in page.object_list]
    return render(request, "desk/remembered_rows.html", context)


@never_cache
@sight.staff
@require_safe
@aside.if_long(
    gettext_lazy("Table of the questions counted"),
    lambda request, ending: aside.few(_questions(request)[0]),
)
def questions_table(request, ending):
    """Download the questions asked again that a figure counts."""
    found, __ = _questions(request)
    rows = (
        (each.asked, each.user.name, rule_title(each.key), each.days, each.right)
        for each in in_lots(found, ROWS_AT_ONCE)
    )
    return table(ending, "questions-counted", QUESTIONS, rows)


def _members(groups):
    """Return the numbers of the people of each of ``groups``, by the group's number."""
    found = {group.pk: set() for group in groups}
    members = Membership.objects.filter(group__in=groups).order_by()
    for group, person in members.values_list("group", "user"):
        found[group].add(person)
    return found
