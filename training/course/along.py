"""What leads on from practice, taken along to where there is no signal."""

from django.urls import reverse
from django.utils.translation import gettext as _

from training.deck import along


@along.part
def practice(user, today):
    """Yield the page of practice, that of one's rules, and how practice comes back."""
    yield along.Part(along.What.START, _("Practice"), reverse("exercises:list"))
    how = (reverse("recall:how"),)
    yield along.Part(along.What.START, _("My rules"), reverse("recall:rules"), how)
