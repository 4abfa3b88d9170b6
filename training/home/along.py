"""The first page, taken along to where there is no signal."""

from django.urls import reverse
from django.utils.translation import gettext as _

from training.deck import along


@along.part
def first_page(user, today):
    """Yield the first page of a trainee or an officer; that of staff tells of other people."""
    if not user.is_staff:
        yield along.Part(along.What.START, _("Home"), reverse("home"))
