"""One's own nets: enter, plan, print, copy, rename, delete and put back."""

import uuid
from urllib.parse import urlencode

from django.contrib import messages
from django.db import transaction
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from rigs import plan
from rigs.drawing.plan import plan_view
from rigs.physics import balance
from rigs.plan import entry, printed
from rigs.rules.judge import judge
from rigs.rules.lapse import is_lapsed
from training.deck.drawn import drawn
from training.people import sight

from .forms import NetForm, NetNameForm
from .models import Net


def own_net(request, pk):
    """Return the net ``pk`` of whoever asks, if it is not deleted; else answer 404."""
    return get_object_or_404(sight.own(Net.objects.there(), request.user), pk=pk)


def _posted_key(request):
    """Return the key that the posted form made up, None if it holds none."""
    try:
        return uuid.UUID(request.POST.get("key", ""))
    except ValueError:
        return None


@sight.signed_in
@require_GET
def nets(request):
    """Show one's nets, and those deleted, which can be put back."""
    mine = sight.own(Net.objects.all(), request.user)
    return render(
        request,
        "nets/nets.html",
        {
            "nets": mine.there(),
            "put_aside": mine.put_aside().order_by("-deleted")[:10],
            "copy_key": uuid.uuid4(),
        },
    )


def _preview(form):
    """Return what the live drawing shows of ``form``, as template context."""
    form.is_valid()
    if not form.has_ropes:
        return {"missing": True}
    present = entry.rig(form.measures)
    today = timezone.localdate()
    goals = [book.name for book in plan.goals(today)] or [plan.goals()[0].name]
    book, __ = plan.books_for(form.cleaned_data.get("goal") or goals[0], today)
    lapsed = is_lapsed(book, today)
    verdict = judge(present, book)
    return {
        "drawing": drawn(plan_view(present, None if lapsed else verdict), "net-preview"),
        "verdict": verdict,
        "lapsed": [book] if lapsed else [],
        "unread": [form[name].label for name in form.errors if name in form.fields],
    }


@sight.signed_in
@require_POST
def net_preview(request):
    """Draw the net that is being entered; nothing is kept."""
    return render(request, "nets/net_preview.html", _preview(NetForm(request.POST)))


def _net_form(request, form, net=None):
    context = {"form": form, "net": net}
    if form.is_bound:
        context |= _preview(form)
    return render(request, "nets/net_form.html", context)


def _entered(form):
    cleaned = form.cleaned_data
    return {
        "name": cleaned["name"],
        "goal": cleaned["goal"],
        "typed": form.typed,
        "measures": form.measures,
    }


def led_on(request, place, pk):
    """Return the way to the page ``place`` of ``pk``; it confirms the draft that the form has."""
    where = reverse(place, args=[pk])
    draft = request.POST.get("draft")
    return redirect(f"{where}?{urlencode({'saved': draft})}" if draft else where)


@sight.signed_in
@require_http_methods(["GET", "POST"])
def net_new(request):
    """Enter a net."""
    if request.method == "GET":
        return _net_form(request, NetForm())
    form = NetForm(request.POST)
    if "look" in request.POST or not form.is_valid():
        return _net_form(request, form)
    with transaction.atomic():
        net, __ = Net.objects.get_or_create(
            owner=request.user, key=form.cleaned_data["key"], defaults=_entered(form)
        )
    return led_on(request, "nets:net", net.pk)


@sight.owner
@require_http_methods(["GET", "POST"])
def net_edit(request, pk):
    """Change a net."""
    net = own_net(request, pk)
    if request.method == "GET":
        start = net.typed | {"key": net.key, "name": net.name, "goal": net.goal}
        return _net_form(request, NetForm(initial=start), net)
    form = NetForm(request.POST)
    if "look" in request.POST or not form.is_valid():
        return _net_form(request, form, net)
    for name, value in _entered(form).items():
        setattr(net, name, value)
    net.save()
    return led_on(request, "nets:net", net.pk)


def _weight_rows(weights):
    """Return the lines of the table of weights: chain off, on, and the change."""
    told = (
        (_("Sweep that comes off"), weights.off_sweep),
        (_("Droppers and offcuts that come off"), weights.off_droppers),
        (_("New chain that goes on"), weights.on_droppers),
        (_("The net gets lighter by"), None if weights.change is None else -weights.change),
    )
    if weights.change is not None and weights.change > 0:
        told = (*told[:3], (_("The net gets heavier by"), weights.change))
    return [
        {"what": what, "air": mass, "water": None if mass is None else weights.in_water(mass)}
        for what, mass in told
    ]


@sight.owner
@require_GET
def net_plan(request, pk):
    """Show a net's conversion."""
    net = own_net(request, pk)
    made = net.plan()
    ghost = made.present if made.present.droppers else None
    return render(
        request,
        "nets/net.html",
        {
            "net": net,
            "plan": made,
            "rulebook": made.rulebook,
            "drawing": drawn(
                plan_view(
                    made.planned, made.judged_after, ghost, (_("as planned"), _("as it is now"))
                ),
                "net-planned",
            ),
            "weights": _weight_rows(made.weights),
            "lift": balance.balance(made.planned),
            "lift_now": balance.balance(made.present),
            "copy_key": uuid.uuid4(),
        },
    )


@sight.owner
@require_http_methods(["GET", "POST"])
def net_rename(request, pk):
    """Give a net another name."""
    net = own_net(request, pk)
    form = NetNameForm(request.POST or None, initial={"name": net.name})
    if request.method == "POST" and form.is_valid():
        net.name = form.cleaned_data["name"]
        net.save(update_fields=["name", "changed"])
        return redirect("nets:net", net.pk)
    return render(request, "nets/net_rename.html", {"net": net, "form": form})


@sight.owner
@require_POST
def net_copy(request, pk):
    """Copy a net; the same button pressed twice makes one copy."""
    net = own_net(request, pk)
    key = _posted_key(request)
    if key is None:
        return redirect("nets:net", net.pk)
    twin = net.copy(key)
    messages.success(
        request, _("This is a copy of “{name}”. Change what is different.").format(name=net.name)
    )
    return redirect("nets:net", twin.pk)


@sight.owner
@require_POST
def net_delete(request, pk):
    """Delete a net, in such a way that it can be restored."""
    net = get_object_or_404(sight.own(Net.objects.all(), request.user), pk=pk)
    net.put_aside()
    messages.success(
        request, _("Net deleted: “{name}”. You can restore it below.").format(name=net.name)
    )
    return redirect("nets:nets")


@sight.owner
@require_POST
def net_restore(request, pk):
    """Restore a deleted net."""
    net = get_object_or_404(sight.own(Net.objects.all(), request.user), pk=pk)
    net.put_back()
    messages.success(request, _("Net restored: “{name}”.").format(name=net.name))
    return redirect("nets:net", net.pk)


def _sheet(request, pk, make, kind, ending):
    net = own_net(request, pk)
    address = request.build_absolute_uri(net.get_absolute_url())
    data = make(printed.RiggingSheet(net.name, net.plan(), timezone.localdate(), address))
    name = slugify(net.name) or "net"
    return HttpResponse(
        data,
        content_type=kind,
        headers={"Content-Disposition": f'attachment; filename="{name}.{ending}"'},
    )


@sight.owner
@require_GET
def net_sheet_pdf(request, pk):
    """Print a net's plan on one page."""
    return _sheet(request, pk, printed.as_pdf, "application/pdf", "pdf")


@sight.owner
@require_GET
def net_sheet_png(request, pk):
    """The same page as a picture."""
    return _sheet(request, pk, printed.as_png, "image/png", "png")
