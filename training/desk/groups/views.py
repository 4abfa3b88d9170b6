"""Groups: their list, each one's page, and who is in it."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import Count, Q
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from training.deck.forms import posted
from training.people import sight
from training.people.joining_links import joining_path, picture_of_link
from training.people.models import Group, User
from training.register.models import Vessel

from ..meetings.soon import with_came
from ..missed import missed_rules
from ..trainees import TRAINED, people, size_of_group
from .forms import GroupForm, MovingForm
from .moving import move

GROUPS_A_PAGE = 60
MEMBERS_A_PAGE = 100
MOST_GROUPS = 500  # to choose from
MOST_MISSED = 5
MOST_SESSIONS = 5
MOST_VESSELS = 40


def _at_hand(request, pk):
    return get_object_or_404(sight.rows(Group.objects.all(), request.user), pk=pk)


@never_cache
@sight.staff
@require_safe
def groups(request):
    """List the groups, those that take new members first."""
    found = sight.rows(Group.objects.order_by("-is_open", "name"), request.user)
    page = Paginator(found, GROUPS_A_PAGE).get_page(request.GET.get("page"))
    page.object_list = page.object_list.annotate(
        members=Count("memberships", filter=Q(memberships__user__role__in=TRAINED))
    )
    return render(request, "desk/groups.html", {"groups": page.object_list, "page": page})


@never_cache
@sight.staff
@require_safe
def group(request, pk):
    """Show when a group meets, how people join it, and how it is doing as a whole."""
    found = _at_hand(request, pk)
    link = request.build_absolute_uri(joining_path(found))
    vessels = Vessel.objects.none()
    if found.harbor:
        vessels = Vessel.objects.filter(harbor=found.harbor)
    context = {
        "group": found,
        "sessions": with_came(found.sessions.filter(ends__gte=timezone.now()))[:MOST_SESSIONS],
        "link": link,
        "picture": picture_of_link(link),
        "size": size_of_group(found),
        "missed": missed_rules(found.rule_tallies.all(), MOST_MISSED),
        "vessels": vessels[:MOST_VESSELS],
        "more_vessels": max(0, vessels.count() - MOST_VESSELS),
    }
    return render(request, "desk/group.html", context)


@never_cache
@sight.staff
def new_group(request):
    """Make a group."""
    return _edit(request, None)


@never_cache
@sight.staff
def change_group(request, pk):
    """Change a group's name, harbor, role or code."""
    return _edit(request, _at_hand(request, pk))


def _edit(request, found):
    known = Vessel.objects.exclude(harbor="").order_by("harbor").values_list("harbor", flat=True)
    form = GroupForm(posted(request), instance=found, user=request.user, known=known.distinct())
    if request.method == "POST" and form.is_valid():
        saved = form.save()
        messages.success(request, _("{name} is saved.").format(name=saved.name))
        return redirect("desk:group", saved.pk)
    name = found and Group.objects.get(pk=found.pk).name  # not what was typed
    context = {"form": form, "group": found, "name": name}
    return render(request, "desk/group_form.html", context, status=422 if form.errors else 200)


@sight.staff
@require_POST
def close_group(request, pk):
    """Close a group to new members, or open it again; its people stay."""
    found = _at_hand(request, pk)
    found.is_open = request.POST.get("open") == "yes"
    found.save(update_fields=["is_open"])
    words = _("{name} takes new members.") if found.is_open else _("{name} is closed.")
    messages.success(request, words.format(name=found.name))
    return redirect("desk:group", found.pk)


@never_cache
@sight.staff
def group_members(request, pk):
    """List who is in a group; move some of them, after asking."""
    found = _at_hand(request, pk)
    members = User.objects.filter(memberships__group=found)
    others = sight.rows(Group.objects.exclude(pk=found.pk), request.user)[:MOST_GROUPS]
    form = MovingForm(
        posted(request), members=members, groups=sight.rows(Group.objects.all(), request.user)
    )
    if request.method == "POST" and form.is_valid():
        return _move(request, found, form.cleaned_data)
    text = request.GET.get("name", "")
    page = Paginator(people(text=text, among=members), MEMBERS_A_PAGE)
    context = {
        "group": found,
        "form": form,
        "others": others,
        "text": text,
        "page": page.get_page(request.GET.get("page")),
        "checked": request.POST.getlist("people"),
    }
    return render(request, "desk/group_members.html", context, status=422 if form.errors else 200)


def _move(request, found, asked):
    """Move people as ``asked`` once the member of staff is sure of it; ask first."""
    if "sure" not in request.POST:
        return render(request, "desk/group_moving.html", {"group": found, **asked})
    done = move(found, asked["people"], asked["deed"], asked["to"])
    words = {
        "add": ngettext("{done} person is in {to} too.", "{done} people are in {to} too.", done),
        "move": ngettext(
            "{done} person is moved to {to}.", "{done} people are moved to {to}.", done
        ),
        "out": ngettext("{done} person is taken out.", "{done} people are taken out.", done),
    }[asked["deed"]]
    messages.success(request, words.format(done=done, to=asked["to"]))
    return redirect("desk:group_members", found.pk)
