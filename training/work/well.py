"""What readiness says of workers, of what waits for them, and of what they do by the clock."""

from datetime import timedelta

from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext
from django_tasks import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from training.deck.plain import listed
from training.deck.readiness import Unknown, Well, check

from . import keeping
from .models import Hand, Job

LATE = timedelta(hours=1)  # for a place in the queue
LOOK_BACK = timedelta(days=2)  # for what is done by the clock, once a day at least


@check("worker", gettext_lazy("Worker"))
def somebody_works():
    if words := keeping.trouble():
        return words
    count = Hand.alive().count()
    return Well(ngettext("{count} worker runs.", "{count} workers run.", count).format(count=count))


@check("queue", gettext_lazy("Long work"))
def nothing_waits_long():
    waiting = DBTaskResult.objects.filter(status=TaskResultStatus.READY).order_by("enqueued_at")
    first = waiting.values_list("enqueued_at", flat=True).first()
    if first and timezone.now() - first > LATE:
        words = _("Work has waited since {moment}. Run more workers, or look what they are at.")
        moment = date_format(timezone.localtime(first), "F j, Y, g:i a")
        return words.format(moment=moment)
    count = waiting.count()
    if not count:
        return Well(_("Nothing waits for a worker."))
    words = ngettext(
        "{count} piece of work waits, for less than an hour.",
        "{count} pieces of work wait, for less than an hour.",
        count,
    )
    return Well(words.format(count=count))


def _last_ends():
    """Return {command: whether its last run by the clock that is over worked out}."""
    over = Job.objects.filter(owner=None, kind="repeated", made__gte=timezone.now() - LOOK_BACK)
    over = over.exclude(state__in=Job.GOING).order_by("made", "pk")
    return {about["command"]: state == Job.State.DONE for about, state in _told(over)}


def _told(jobs):
    return jobs.values_list("about", "state").iterator()


@check("clock", gettext_lazy("Done by the clock"))
def what_is_due_gets_done():
    ends = _last_ends()
    if failed := sorted(command for command, is_well in ends.items() if not is_well):
        words = _("The last run did not work out: {commands}. Run it by hand to see why.")
        return words.format(commands=listed(failed))
    if not ends:
        words = _("None came to an end in two days: the site is new, or a scheduler does it.")
        return Unknown(words)
    return Well(
        _("The last run of each of these worked out: {commands}.").format(
            commands=listed(sorted(ends))
        )
    )
