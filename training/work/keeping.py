"""Signs of life of workers, and the jobs of those that gave none for a while."""

from datetime import timedelta

from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext as _
from django_tasks import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from . import queue
from .models import SILENT, Hand, Job

FORGOTTEN = timedelta(days=1)  # a worker that went without a word
QUEUE_KEPT = timedelta(days=14)  # places in the queue that are over
# A job that was begun in a request has no worker: it is dead if it went no step further.
NO_WORKER = timedelta(minutes=5)


def begin(name):
    """Note that the worker ``name`` works."""
    Hand.objects.create(name=name)


def beat(name):
    """Note that the worker ``name`` lives."""
    Hand.objects.update_or_create(name=name, defaults={"beat": timezone.now()})


def end(name):
    """Note that the worker ``name`` stopped."""
    Hand.objects.filter(name=name).delete()


def take_back_lost(name=""):
    """Have the jobs wait again whose workers are dead; return how many."""
    now = timezone.now()
    Hand.objects.filter(beat__lt=now - FORGOTTEN).delete()
    alive = {*Hand.alive().values_list("name", flat=True), name}
    dead = Q(beat__lt=now - SILENT) & ~Q(worker__in=alive) & ~Q(worker="")
    dead |= Q(worker="", beat__lt=now - NO_WORKER)
    lost = Job.objects.filter(dead, state=Job.State.WORKING).values_list("pk", "claim")
    for pk, claim in lost:
        queue.take_back(pk, claim)
    return len(lost) + _put_again(now)


def _put_again(now):
    """Put jobs into the queue that wait and have no place in it; return how many."""
    ready = DBTaskResult.objects.filter(status=TaskResultStatus.READY).values("pk")
    found = Job.objects.filter(state=Job.State.WAITING, made__lt=now - SILENT)
    lost = found.exclude(task__in=ready).values_list("pk", "task")
    for pk, task in lost:
        queue.put_again(pk, task)
    return len(lost)


def clear(now):
    """Delete files that were kept long enough, and what is over in the queue."""
    for job in Job.objects.filter(kept_until__lt=now):
        job.file.delete(save=False)
        # The type stays, to tell that there was one.
        job.kept_until = None
        job.save(update_fields=["file", "kept_until"])
    DBTaskResult.objects.finished().filter(finished_at__lt=now - QUEUE_KEPT).delete()


def trouble():
    """Return in a sentence what is wrong with the queue, None if nothing is."""
    if not Hand.alive().exists():
        return _("No worker runs: long work waits. Start “manage.py work”.")
    return None
