"""The register: its vessels and who fishes on them."""

from typing import NamedTuple

from django.contrib import messages
from django.core.paginator import Paginator
from django.db import IntegrityError, transaction
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from rigs.words.say import gettext_lazy
from training.certification.holders import CertificateState, certificate_states
from training.deck import story
from training.deck.downloads import table
from training.deck.forms import posted
from training.deck.sorting import in_order
from training.deck.story_page import story_page
from training.people import sight
from training.people.phones import to_ring
from training.work import aside

from .. import aboard, pointing
from ..models import Crew
from ..stages import MEANS
from ..table import exporting
from ..telling import links_to
from ..wording import stage_words
from .finding import harbors_for, narrowed, removal_of, vessels_for
from .forms import CrewForm, VesselFilterForm, VesselForm
from .next_steps import NEXT

VESSELS_A_PAGE = 50
MORE = ("harbor", "size", "stage", "fishing", "sort")  # fields that are folded away unless used


def _filter_form(request, words):
    return VesselFilterForm(request.GET, harbors=harbors_for(request.user), words=words)


@never_cache
@sight.staff
@require_safe
def vessels(request):
    """List the vessels, with where each stands."""
    words = stage_words()
    form = _filter_form(request, words)
    chosen = form.chosen()
    found = narrowed(vessels_for(request.user), **chosen).select_related("standing")
    page = Paginator(in_order(found, form), VESSELS_A_PAGE).get_page(request.GET.get("page"))
    rows = []
    for vessel in page.object_list:
        standing = getattr(vessel, "standing", None)
        rows.append((vessel, standing, words.get(standing.stage, "") if standing else ""))
    context = {
        "form": form,
        "came": form.came_words(),
        "narrowed": any(any(each) for each in chosen.values()),
        "more": any(request.GET.get(name) for name in MORE),
        "page": page,
        "rows": rows,
        "any_demo": any(vessel.is_demo for vessel, *__ in rows),
    }
    return render(request, "register/list.html", context)


def _listed(request):
    """Return the vessels that the page lists, in its order."""
    form = _filter_form(request, stage_words())
    return in_order(narrowed(vessels_for(request.user), **form.chosen()), form)


@never_cache
@sight.staff
@require_safe
@aside.if_long(
    gettext_lazy("Table of the vessels"),
    lambda request, ending: aside.few(_listed(request)),
)
def vessels_table(request, ending):
    """Download the vessels, narrowed down as the page is."""
    return table(ending, "vessels", exporting.HEADER, exporting.rows(_listed(request)))


@never_cache
@sight.staff
@require_safe
def vessel(request, pk):
    """Show a vessel: where it stands, what comes next, its crew, and what happened."""
    found = vessels_for(request.user).select_related("standing").filter(pk=pk).first()
    if found is None:
        return _gone(request, pk)
    words = stage_words()
    standing = getattr(found, "standing", None)
    stage = standing.stage if standing else ""
    crew = list(found.crew.filter(until=None).select_related("user"))
    context = {
        "vessel": found,
        "standing": standing,
        "stage": words.get(stage, ""),
        "next_step": NEXT[stage],
        "gear": dict(VesselForm.base_fields["gear"].choices).get(found.gear, found.gear),
        "means": MEANS.get(stage, ""),
        "points": pointing.of_vessel(found, crew),
        "crew": _crew(crew, request.user),
        "story": story_page(story.VESSEL.told(found, request.user), request.GET),
    }
    return render(request, "register/vessel.html", context)


def _gone(request, pk):
    """Lead on whoever asks for a vessel that was removed; raise Http404 if there was none."""
    removal = removal_of(request.user, pk)
    if removal is None:
        raise Http404
    name = removal.vessel.name
    if removal.into is None:
        messages.info(request, _("{name} was taken off the register.").format(name=name))
        return redirect("register:removed_vessels")
    text = _("{name} was merged into {into}.").format(name=name, into=removal.into.name)
    messages.info(request, text)
    return redirect("register:vessel", removal.into_id)


class Aboard(NamedTuple):
    """A berth of now: the holder's certificate, and the page and phone, "" if not to be had."""

    berth: Crew
    certificate: CertificateState
    link: str
    ring: str


def _crew(berths, user):
    """Return an Aboard for each of ``berths``, captains first."""
    pks = [each.user_id for each in berths]
    certificates, links = certificate_states(pks), links_to(pks, user)
    found = [
        Aboard(
            each, certificates[each.user_id], links.get(each.user_id, ""), to_ring(each.user.phone)
        )
        for each in berths
    ]
    return sorted(found, key=lambda each: each.berth.part != Crew.Part.CAPTAIN)


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def vessel_new(request):
    """Add a vessel to the register."""
    return _vessel_form(request, None)


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def vessel_edit(request, pk):
    """Change what the register says of a vessel."""
    return _vessel_form(request, get_object_or_404(vessels_for(request.user), pk=pk))


def _vessel_form(request, found):
    form = VesselForm(posted(request), instance=found, user=request.user)
    if request.method == "POST":
        if form.is_valid():
            with transaction.atomic():
                saved = form.save()
            messages.success(request, _("{name} is saved.").format(name=saved.name))
            return redirect("register:vessel", saved.pk)
        if twin := form.twin():
            return redirect("register:vessel", twin.pk)
    return render(request, "register/form.html", {"form": form, "vessel": found})


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def crew_new(request, pk):
    """Tie somebody with an account to a vessel."""
    found = get_object_or_404(vessels_for(request.user), pk=pk)
    form = CrewForm(posted(request), instance=Crew(vessel=found), by=request.user)
    if request.method == "POST" and form.is_valid():
        person = form.person
        if person is None or not aboard.looks_after(request.user, person):
            return _asked(request, found, form)
        try:
            with transaction.atomic():
                form.save()
        except IntegrityError:
            words = _("{name} is down as fishing on {name2} already.")
            messages.info(request, words.format(name=person.name, name2=found.name))
        else:
            messages.success(
                request,
                _("{name} is down as fishing on {name2}.").format(
                    name=person.name, name2=found.name
                ),
            )
        return redirect("register:vessel", found.pk)
    return render(request, "register/crew_form.html", {"form": form, "vessel": found})


def _asked(request, vessel, form):
    """Ask the person of ``form``, if there is one; say the same if there is none."""
    told = form.cleaned_data
    if form.person:
        about = {"part": told["part"], "since": told["since"]}
        aboard.ask(vessel, form.person, about, request.user)
    words = _(
        "You do not look after anybody with this email. If there is such an account, that "
        "person is asked on their own page, and is in the crew once they say yes."
    )
    messages.info(request, words)
    return redirect("register:vessel", vessel.pk)


@sight.staff
@require_POST
def crew_end(request, pk):
    """Note that somebody fishes on a vessel no more, from today."""
    crew = get_object_or_404(
        sight.rows(Crew.objects.select_related("vessel", "user"), request.user), pk=pk
    )
    if crew.until is None:
        crew.until = timezone.localdate()
        crew.save(update_fields=["until"])
    messages.success(
        request,
        _("{name} is down as having left {name2}.").format(
            name=crew.user.name, name2=crew.vessel.name
        ),
    )
    return redirect("register:vessel", crew.vessel_id)
