"""What of one's paired tows is taken along to where there is no signal."""

from django.urls import reverse
from django.utils.translation import gettext as _

from training.deck import along


@along.part
def pairs(user, today):
    """Yield one's own pairs, and the form on which another is noted."""
    if not user.is_staff:
        forms = (reverse("evidence:pair_new"),)
        yield along.Part(along.What.START, _("My paired tows"), reverse("evidence:pairs"), forms)
