"""What can be wrong with the settings of this room."""

from django.conf import settings
from django.core.checks import Error, Warning
from django.utils.translation import gettext as _

from training.deck.checks import of_setting

SHORTEST_TOKEN = 20


@of_setting("READY_TOKEN")
def token_is_long():
    hint = _("Set READY_TOKEN to a random text of {count} letters or more.")
    hint = hint.format(count=SHORTEST_TOKEN)
    if not settings.READY_TOKEN:
        words = _("Nobody can read over the network what /ready/ finds wrong.")
        yield Warning(words, hint=hint)
    elif len(settings.READY_TOKEN) < SHORTEST_TOKEN:
        yield Error(_("READY_TOKEN can be guessed."), hint=hint)
