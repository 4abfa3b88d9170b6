"""What of the exercises is taken along to where there is no signal."""

from django.urls import reverse
from django.utils.translation import gettext as _

from training.deck import along

from . import kinds
from .sea import setting


@along.part
def tasks(user, today):
    """Yield the tasks set for sea, each with what opens what is told of it; and their list."""
    yield along.Part(along.What.START, _("Tasks for sea"), reverse("exercises:sea"))
    for each in setting.along(user, today):
        yield along.Part(
            along.What.TASK,
            _("{kind}, level {level}").format(
                kind=kinds.KINDS[each.kind].title, level=each.difficulty
            ),
            reverse("exercises:sea_task", args=[each.pk]),
            (reverse("exercises:sea_key", args=[each.pk]),),
        )
