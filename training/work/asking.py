"""Asking for work, stopping it and having it go on."""

import uuid
from typing import NamedTuple

from django.db import transaction
from django.utils import timezone

from . import kinds, queue
from .models import Job


class Order(NamedTuple):
    """What is asked for: the slug of a ``kind``, ``about`` what, in how many parts if known."""

    kind: str
    about: dict
    total: int = 0


def own_key(owner, key):
    """Return the key of the job that ``owner`` asked for by a form with ``key``."""
    return key if owner is None else uuid.uuid5(key, str(owner.pk))


def ask(order, owner, key):
    """
    Return the Job of the ``order`` of ``owner``, made once per ``key``.

    What is short is done when this returns. To be called outside a transaction.
    """
    with transaction.atomic():
        job, is_new = Job.objects.get_or_create(
            key=own_key(owner, key),
            owner=owner,
            defaults={"kind": order.kind, "about": order.about, "total": order.total},
        )
        if is_new:
            queue.put(job)
            kinds.of(job).asked(job)
    if is_new:
        _do_short(job)
    return job


def _do_short(job):
    """Do ``job`` here and now if it is short."""
    if job.total <= kinds.of(job).at_once:
        queue.run(job.pk)
        # The page that asked for it shows what came of it.
        Job.objects.filter(pk=job.pk, state=Job.State.DONE).update(seen=timezone.now())
        job.refresh_from_db()


def next_key(key, last):
    """Return the key of another job about the thing with ``key``, whose ``last`` is over."""
    return uuid.uuid5(key, str(last.pk) if last else "first")


@transaction.atomic
def stop(pk):
    """Have the job ``pk`` stop before its next step; one that waits stops at once."""
    job = Job.objects.select_for_update().get(pk=pk)
    if job.state == Job.State.WAITING:
        queue.stop(job)
    elif job.state == Job.State.WORKING:
        job.stop_asked = True
        job.save(update_fields=["stop_asked"])


def go_on(pk):
    """Have the job ``pk`` go on if it was stopped or failed. To be called outside a transaction."""
    with transaction.atomic():
        job = Job.objects.select_for_update().get(pk=pk)
        is_over = job.state in (Job.State.STOPPED, Job.State.FAILED)
        if is_over:
            job.tries = 0
            queue.put(job)
    if is_over:
        _do_short(job)


def going(kind, **about):
    """Return whether a job of ``kind`` that is ``about`` this is not at its end."""
    told = {f"about__{name}": value for name, value in about.items()}
    return Job.objects.filter(kind=kind, state__in=Job.GOING, **told).exists()
