"""One's own nets: enter, plan, print, copy, rename, delete and put back."""

import uuid

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.template.response import TemplateResponse
from django.urls import reverse
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from rigs.plan import printed
from training.deck import signal
from training.deck.forms import posted
from training.inbox import beside, leading
from training.inbox.once import once
from training.people import limits, sight

from . import entering, showing
from .forms import NetForm, NetNameForm, RiggingForm
from .models import Net, Rigging

PREVIEWS = limits.Load("nets.preview", most=3000, minutes=10)


NOT_OF_THE_NET = ("sure",)


def own_net(request, pk, hold=False):
    """
    Return the net ``pk`` of whoever asks, if it is not deleted; else answer 404.

    With ``hold`` nobody else changes it until the transaction ends.
    """
    nets = Net.objects.select_for_update() if hold else Net.objects.all()
    return get_object_or_404(sight.own(nets.there(), request.user), pk=pk)


def _posted_key(request):
    """Return the key that the posted form made up, None if it holds none."""
    try:
        return uuid.UUID(request.POST.get("key", ""))
    except ValueError:
        return None


@signal.opens
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


@sight.anyone
@require_POST
def net_preview(request):
    """Draw the net that is being entered; nothing is kept."""
    if PREVIEWS.is_reached(request):
        return limits.ask_to_wait(request, PREVIEWS)
    return render(request, "nets/net_preview.html", entering.preview(NetForm(request.POST)))


def _net_form(request, form, net=None):
    context = {
        "form": form,
        "net": net,
        "seen": net and beside.stamp(net.changed),
        "cancel": net.get_absolute_url() if net else reverse("nets:nets"),
    }
    if form.is_bound:
        context |= entering.preview(form)
    return TemplateResponse(request, "nets/net_form.html", context)


def led_on(request, place, pk):
    """Return the way to the page ``place`` of ``pk``; it confirms the draft that the form has."""
    return leading.led_on(request, reverse(place, args=[pk]))


@signal.opens
@sight.signed_in
@require_http_methods(["GET", "POST"])
@once
def net_new(request):
    """Enter a net; the same form sent twice makes one."""
    if request.method == "GET":
        return _net_form(request, NetForm())
    form = NetForm(request.POST)
    if "look" in request.POST or not form.is_valid():
        return _net_form(request, form)
    net, is_new = entering.save_once(request.user, form)
    if not is_new:
        edit = reverse("nets:net_edit", args=[net.pk])
        beside.differ(net, form, entering.as_now(net), edit, NOT_OF_THE_NET)
    return led_on(request, "nets:net", net.pk)


@signal.opens
@sight.owner
@require_http_methods(["GET", "POST"])
@once
def net_edit(request, pk):
    """Change a net; if it was changed since its form was opened, its owner chooses."""
    if request.method == "GET":
        net = own_net(request, pk)
        return _net_form(request, entering.as_now(net), net)
    net = own_net(request, pk, hold=True)
    form = NetForm(request.POST)
    if "look" in request.POST or not form.is_valid():
        return _net_form(request, form, net)
    beside.look(request, net, form, entering.as_now(net), request.path, NOT_OF_THE_NET)
    for name, value in entering.entered(form).items():
        setattr(net, name, value)
    net.save()
    return led_on(request, "nets:net", net.pk)


def _plan_page(request, net, form):
    context = showing.shown(net, reverse("nets:net_edit", args=[net.pk]))
    context |= showing.hanging(net, context["plan"])
    context |= {"rigging_form": form, "copy_key": uuid.uuid4(), "seen": beside.stamp(net.changed)}
    return TemplateResponse(request, "nets/net.html", context)


@signal.opens
@sight.owner
@require_GET
def net_plan(request, pk):
    """Show a net's conversion."""
    return _plan_page(request, own_net(request, pk), RiggingForm())


@sight.owner
@require_POST
@once
def net_rigged(request, pk):
    """Keep that a net was rigged as planned; the same button pressed twice says it once."""
    net = own_net(request, pk, hold=True)
    form = RiggingForm(request.POST, net=net, seen=request.POST.get("seen"))
    if not form.is_valid():
        return _plan_page(request, net, form)
    net.say_rigged(form.cleaned_data["key"], form.cleaned_data["day"])
    messages.success(request, _("Saved: “{name}” is rigged as planned.").format(name=net.name))
    return led_on(request, "nets:net", net.pk)


def _own_rigging(request, pk):
    riggings = sight.own(Rigging.objects.filter(net__deleted=None), request.user)
    return get_object_or_404(riggings.select_related("net"), pk=pk)


@sight.owner
@require_POST
def rigging_delete(request, pk):
    """Take back that a net was rigged, in such a way that it can be said again."""
    rigging = _own_rigging(request, pk)
    rigging.put_aside()
    messages.success(request, _("Taken back. You can undo this below."))
    return redirect(f"{rigging.net.get_absolute_url()}#rigged")


@sight.owner
@require_POST
def rigging_restore(request, pk):
    """Let what was taken back hold again."""
    rigging = _own_rigging(request, pk)
    rigging.put_back()
    messages.success(request, _("It counts as rigged again."))
    return redirect(f"{rigging.net.get_absolute_url()}#rigged")


@sight.owner
@require_http_methods(["GET", "POST"])
def net_rename(request, pk):
    """Give a net another name."""
    net = own_net(request, pk)
    form = NetNameForm(posted(request), initial={"name": net.name})
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


@signal.opens
@sight.owner
@require_GET
def net_sheet_pdf(request, pk):
    """Print a net's plan on one page."""
    return _sheet(request, pk, printed.as_pdf, "application/pdf", "pdf")


@signal.opens
@sight.owner
@require_GET
def net_sheet_png(request, pk):
    """The same page as a picture."""
    return _sheet(request, pk, printed.as_png, "image/png", "png")
