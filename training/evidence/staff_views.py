"""The evidence of paired tows as outreach staff see it."""

import uuid
from typing import NamedTuple

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_safe

from rigs.words.say import gettext_lazy
from training.deck.downloads import table
from training.deck.figures import marked, png_of, table_of
from training.deck.forms import posted
from training.people import sight
from training.people.models import User

from . import figures, keeping, pooled, words
from .forms import OwnerForm, PairForm
from .models import PairedTows
from .species import BY_KEY
from .views import shown

PAIRS_A_PAGE = 20
ALL = "all"
"""Pairs counted in any group, in an address."""
PAIRS_HEADER = (
    "day",
    "owner",
    "vessel",
    gettext_lazy("group of species"),
    gettext_lazy("without the sweep, kg"),
    gettext_lazy("with the sweep, kg"),
    "note",
    gettext_lazy("demo data"),
)


def _listed(user):
    """Return the pairs whose owners show them to staff, of people whom ``user`` looks after."""
    pairs = sight.rows(PairedTows.objects.filter(deleted=None), user)
    return pairs.select_related("owner", "vessel").prefetch_related("catches")


class CountedPairs(NamedTuple):
    """How many pairs went into the sums of a group, and how many of them can be opened."""

    key: str
    name: str
    pairs: int
    opened: int


def _counted(found, user):
    """Return the CountedPairs of all groups together and of each in the Evidence ``found``."""
    seen = set(_listed(user).order_by().values_list("pk", flat=True))
    sets = {ALL: frozenset().union(*found.counted.values())} | found.counted
    names = {ALL: _("All groups")} | {key: BY_KEY[key].name for key in found.counted}
    return [CountedPairs(key, names[key], len(of), len(of & seen)) for key, of in sets.items()]


def _asked(request, found):
    """Return (pairs, words) that the address asks for: all shown, or those that were counted."""
    pairs, key = _listed(request.user), request.GET.get("counted", "")
    if not key:
        return pairs, ""
    if key == ALL:
        return pairs.filter(pk__in=frozenset().union(*found.counted.values())), _("all groups")
    if key not in BY_KEY:
        raise Http404(_("There is no such list."))
    return pairs.filter(pk__in=found.counted.get(key, ())), BY_KEY[key].name_within


@never_cache
@sight.staff
@require_safe
def evidence(request):
    """Show what the fleet's paired tows say, and the pairs that their owners show."""
    found = pooled.evidence()
    asked, only = _asked(request, found)
    page = Paginator(asked, PAIRS_A_PAGE).get_page(request.GET.get("page"))
    context = {
        "evidence": found,
        "basis": words.basis(found),
        "needed": words.NEEDED,
        "told": figures.told(found),
        "figure": _marked(found) if found.enough else None,
        "few": [BY_KEY[key].name_within for key in found.few],
        "method": words.METHOD,
        "counted": _counted(found, request.user) if found.enough else [],
        "held": sight.harbors_of(request.user) is not None,
        "only": only,
        "page": page,
        "pairs": shown(page.object_list),
    }
    return render(request, "evidence/evidence.html", context)


def _figure():
    found = pooled.evidence()
    if not found.enough:
        raise Http404(_("There are not enough paired tows to show together."))
    return _marked(found)


def _marked(found):
    figures_of = [figures.ratios(found)]
    return marked(figures_of, timezone.localdate(), found.is_demo, _("The whole fleet"))[0]


@never_cache
@sight.staff
@require_safe
def evidence_table(request, ending):
    """Download the sums as a table."""
    return table_of(_figure(), ending)


@never_cache
@sight.staff
@require_safe
def evidence_png(request):
    """Download the chart as a picture."""
    return png_of(_figure())


@never_cache
@sight.staff
@require_safe
def pairs_table(request, ending):
    """Download the pairs that their owners show, a line a group of species."""
    rows = (
        (
            pair.day,
            pair.owner.name,
            pair.vessel.name if pair.vessel else None,
            name,
            round(without, 2),
            round(with_sweep, 2),
            pair.note,
            pair.is_demo,
        )
        for pair in _asked(request, pooled.evidence())[0]
        for name, without, with_sweep, __ in figures.pair_rows(pair)
    )
    return table(ending, "paired-tows-shown", PAIRS_HEADER, rows)


@sight.staff
@require_http_methods(["GET", "POST"])
def pair_owner(request):
    """Ask whose pair a member of staff is about to enter."""
    form = OwnerForm(posted(request), user=request.user)
    if form.is_valid():
        return redirect("evidence:pair_for", form.owner.pk)
    return render(request, "evidence/pair_owner.html", {"form": form})


@sight.staff
@require_http_methods(["GET", "POST"])
def pair_for(request, pk):
    """Enter a pair for a fisherman who asked for it; from then on it is his."""
    owner = get_object_or_404(sight.rows(User.objects.filter(is_active=True), request.user), pk=pk)
    if request.method == "GET":
        form = PairForm(owner=owner, initial={"key": uuid.uuid4()})
        return render(request, "evidence/pair_form.html", {"form": form, "owner": owner})
    form = PairForm(request.POST, owner=owner)
    if not form.is_valid():
        return render(request, "evidence/pair_form.html", {"form": form, "owner": owner})
    keeping.keep(form)
    messages.success(
        request, _("The pair of tows is saved. It is {name}'s from now on.").format(name=owner.name)
    )
    return redirect("evidence:evidence")
