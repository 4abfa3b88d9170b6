"""The page that says what is on the phone is on it too."""

from django.urls import reverse
from django.utils.translation import gettext as _

from training.deck import along


@along.part
def own_page(user, today):
    """Yield the page "Ready for sea"."""
    yield along.Part(along.What.START, _("Ready for sea"), reverse("sea:ready"))
