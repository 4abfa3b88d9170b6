"""What nets have to tell of a person: only of one who shows them to staff."""

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from training.deck import story
from training.people.sharing import Level, What, sharers

from .models import Net, Tow


def shared(people):
    """Return the nets, with their owners, of those of ``people`` who show them to staff."""
    owners = sharers(What.NETS, [Level.STAFF]).filter(pk__in=people)
    return Net.objects.there().filter(owner__in=owners.values("pk")).select_related("owner")


@story.PERSON.teller
def nets(person, user):
    """Tell which nets ``person`` entered."""
    for net in shared([person.pk]):
        text = _("Entered the net “{name}” and got a plan for it.").format(name=net.name)
        yield story.Telling(net.created, story.Kind.NET, text)


@story.PERSON.teller
def tows(person, user):
    """Tell on which days ``person`` logged tows."""
    logs = sharers(What.CATCHES, [Level.STAFF]).filter(pk=person.pk)
    by_day = {}
    for tow in Tow.objects.there().filter(net__deleted=None, net__owner__in=logs.values("pk")):
        by_day[tow.day] = by_day.get(tow.day, 0) + 1
    for day, number in by_day.items():
        words = ngettext("Logged {number} tow.", "Logged {number} tows.", number)
        yield story.Telling(day, story.Kind.NET, words.format(number=number))
