"""The list of harbors: their names, how else they are written, and two that are one."""

from django.contrib import messages
from django.db.models import Count
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST

from training.deck.forms import posted
from training.people import sight

from .. import harbors as harbors_of_fleet
from ..harbors import HarborError
from ..models import Harbor, HarborSpelling, Vessel
from .harbor_forms import HarborForm, JoinForm, SpellingForm


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def harbors(request):
    """List the harbors; let staff who look after the whole fleet add one."""
    form = HarborForm(posted(request))
    if request.method == "POST" and request.user.sees_whole_fleet and form.is_valid():
        try:
            added = harbors_of_fleet.add(form.cleaned_data["name"])
        except HarborError as error:
            form.add_error("name", str(error))
        else:
            messages.success(request, _("{name} is on the list.").format(name=added.name))
            return redirect("register:harbors")
    found = sight.rows(Harbor.objects.prefetch_related("spellings"), request.user)
    vessels = dict(Vessel.objects.order_by().values_list("harbor").annotate(number=Count("pk")))
    rows = [(each, vessels.get(each.name, 0), _others(each)) for each in found]
    return render(request, "register/harbors.html", {"form": form, "rows": rows})


def _others(harbor):
    return [each for each in harbor.spellings.all() if each.text != harbor.name]


@never_cache
@sight.whole_fleet
@require_http_methods(["GET", "HEAD", "POST"])
def harbor(request, pk):
    """Let staff rename a harbor, say how else it is written, or that it is another one."""
    found = get_object_or_404(Harbor, pk=pk)
    asked = request.POST.get("do")
    sent = {asked: request.POST}
    forms = {
        "rename": HarborForm(sent.get("rename"), initial={"name": found.name}),
        "spell": SpellingForm(sent.get("spell")),
        "join": JoinForm(sent.get("join"), harbor=found),
    }
    if asked in forms and forms[asked].is_valid():
        try:
            there = _DO[asked](found, forms[asked].cleaned_data)
        except HarborError as error:
            forms[asked].add_error(None, str(error))
        else:
            messages.success(request, _("It is saved."))
            return redirect("register:harbor", there.pk)
    context = {
        "harbor": found,
        "forms": forms,
        "others": _others(found),
        "vessels": Vessel.objects.filter(harbor=found.name).count(),
    }
    return render(request, "register/harbor.html", context)


def _rename(harbor, data):
    harbors_of_fleet.rename(harbor, data["name"])
    return harbor


def _spell(harbor, data):
    harbors_of_fleet.spell(harbor, data["text"])
    return harbor


def _join(harbor, data):
    harbors_of_fleet.join(harbor, data["other"])
    return data["other"]


_DO = {"rename": _rename, "spell": _spell, "join": _join}


@sight.whole_fleet
@require_POST
def spelling_remove(request, pk):
    """Take a spelling off a harbor; never its own name."""
    found = get_object_or_404(HarborSpelling.objects.select_related("harbor"), pk=pk)
    if harbors_of_fleet.plain(found.text) != harbors_of_fleet.plain(found.harbor.name):
        found.delete()
    messages.success(
        request,
        _("“{text}” no longer means {harbor}.").format(text=found.text, harbor=found.harbor.name),
    )
    return redirect("register:harbor", found.harbor_id)
