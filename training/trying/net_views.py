"""One's own net without an account: entered, planned, changed."""

from urllib.parse import urlencode

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_safe

from training.nets import entering, showing
from training.nets.forms import NetForm
from training.people import limits, sight

from .kept import Kept

NETS = limits.Load("trying.net", most=300, minutes=10)


@never_cache
@sight.anyone
@require_http_methods(["GET", "HEAD", "POST"])
def net(request):
    """Enter a net, or change the one that was entered."""
    if request.user.is_authenticated:
        return redirect("nets:net_new")
    kept = Kept(request.session)
    if request.method != "POST":
        return _form(request, NetForm(initial=kept.net) if kept.net else NetForm())
    form = NetForm(request.POST)
    if "look" in request.POST or not form.is_valid():
        return _form(request, form)
    if NETS.is_reached(request):
        return limits.ask_to_wait(request, NETS)
    kept.put_net(entering.kept(form))
    where = reverse("trying:plan")
    draft = request.POST.get("draft")
    return redirect(f"{where}?{urlencode({'saved': draft})}" if draft else where)


def _form(request, form):
    context = {"form": form, "cancel": reverse("home")}
    if form.is_bound:
        context |= entering.preview(form)
    return render(request, "trying/net.html", context)


@never_cache
@sight.anyone
@require_safe
def plan(request):
    """Show the plan of the net that is kept."""
    kept = Kept(request.session)
    if not kept.net:
        return redirect("trying:net")
    found = entering.unsaved(kept.net)
    if found is None:
        messages.warning(request, _("Look over your net once more, then save it."))
        return redirect("trying:net")
    context = {"kept": kept, **showing.shown(found, reverse("trying:net"))}
    return render(request, "trying/plan.html", context)
