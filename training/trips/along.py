"""Where and when, taken along to where there is no signal."""

from django.urls import reverse
from django.utils.translation import gettext as _

from training.deck import along


@along.part
def trip(user, today):
    """Yield the page with the days ahead, the charts and the rules' text in it."""
    yield along.Part(along.What.TRIP, _("Where and when"), reverse("trips:trip"))
