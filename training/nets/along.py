"""What of one's own gear is taken along to where there is no signal."""

from django.db.models import Prefetch
from django.urls import reverse
from django.utils.translation import gettext as _

from training.deck import along
from training.people import sight

from .models import Net, Tow

LATEST = 6
"""Tows of a net that can be changed without signal: the latest so many."""


@along.part
def nets(user, today):
    """Yield the list of one's nets, and each net with its plan, its prints and its log."""
    forms = (reverse("nets:net_new"),)
    yield along.Part(along.What.START, _("My nets"), reverse("nets:nets"), forms)
    tows = Prefetch("tows", Tow.objects.there().order_by("-day", "-created", "-pk"), "latest")
    found = sight.own(Net.objects.there(), user).select_related("card").prefetch_related(tows)
    for net in found:
        yield along.Part(along.What.NET, net.name, net.get_absolute_url(), _parts(net))


def _parts(net):
    pages = ("net_edit", "net_sheet_pdf", "net_sheet_png", "log", "tow_new")
    tows = (reverse("nets:tow_edit", args=[tow.pk]) for tow in net.latest[:LATEST])
    if hasattr(net, "card"):  # worked out once, it opens at once
        pages = (*pages, "flight_card")
    return (*(reverse(f"nets:{page}", args=[net.pk]) for page in pages), *tows)
