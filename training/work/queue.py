"""
The queue of jobs: put in, taken out by a worker, done, and put back if the worker stops.

A job's place in the queue is written in the transaction that has it wait; so none is lost.
"""

import logging
import uuid

from django.db import transaction
from django.utils import timezone
from django_tasks import task

from training.deck.logs.number import numbered

from . import kinds
from .models import Job
from .running import Halt, Leave, Run, held

MOST_TRIES = 5  # work that takes its worker down with it is not tried for ever

log = logging.getLogger("training.work")


@task(takes_context=True)
def do(context, pk):
    """Do the job ``pk``: what the worker takes out of the queue."""
    with numbered():
        run(pk, context.task_result.worker_ids[-1])


def put(job):
    """Have ``job`` wait in the queue; to be called in a transaction that holds its row."""
    job.state, job.claim, job.ended, job.seen = Job.State.WAITING, None, None, None
    job.stop_asked = False
    job.task = do.enqueue(job.pk).id
    job.save()


def run(pk, worker=""):
    """Do the job ``pk``, as the ``worker`` of this name; one that nobody may do is left."""
    job, claim = _claim(pk, worker)
    if job is None:
        return
    kind = kinds.of(job)
    try:
        if job.owner is not None and not kind.may(job.owner, job):
            raise PermissionError(job.owner_id)
        kind.work(Run(job, claim))
    except Leave:
        _put_back(pk, claim)
    except Halt:
        _note_stop(pk, claim)
    except Exception:
        log.exception("A job failed.", extra={"job": pk, "kind": job.kind, "tries": job.tries})
        _end(pk, claim, Job.State.FAILED)
    except BaseException:
        _put_back(pk, claim)
        raise
    else:
        _end(pk, claim, Job.State.DONE)


@transaction.atomic
def _claim(pk, worker):
    """Return the job ``pk`` and the claim of a new run of it, or two None if it does not wait."""
    found = Job.objects.select_for_update(of=["self"]).select_related("owner")
    job = found.filter(pk=pk, state=Job.State.WAITING).first()
    if job is None:
        return None, None
    now = timezone.now()
    job.state, job.claim, job.worker = Job.State.WORKING, uuid.uuid4(), worker
    job.tries, job.beat, job.begun = job.tries + 1, now, job.begun or now
    job.save(update_fields=["state", "claim", "worker", "tries", "beat", "begun"])
    return job, job.claim


@transaction.atomic
def _end(pk, claim, state):
    found = Job.objects.filter(pk=pk, claim=claim)
    found.update(state=state, claim=None, ended=timezone.now())


@transaction.atomic
def _note_stop(pk, claim):
    job = held(pk, claim, may_be_lost=True)
    if job is not None:
        stop(job)


def stop(job):
    """Have ``job``, whose row is held, be at its end without a run."""
    job.state, job.claim, job.ended = Job.State.STOPPED, None, timezone.now()
    job.save(update_fields=["state", "claim", "ended"])
    kinds.of(job).stopped(job)


def _wait_again(job):
    """Have ``job``, whose row is held, wait again, unless somebody asked for it to stop."""
    if job.stop_asked:
        stop(job)
    else:
        put(job)


@transaction.atomic
def _put_back(pk, claim):
    job = held(pk, claim, may_be_lost=True)
    if job is not None:
        job.tries -= 1  # it was the worker that stopped
        _wait_again(job)


@transaction.atomic
def take_back(pk, claim):
    """Have the job ``pk`` wait again or stop, whose run with ``claim`` is taken for dead."""
    job = held(pk, claim, may_be_lost=True)
    if job is None:
        return
    if job.tries >= MOST_TRIES:
        log.error("A job was given up.", extra={"job": pk, "kind": job.kind, "tries": job.tries})
        _end(pk, claim, Job.State.FAILED)
    else:
        _wait_again(job)


@transaction.atomic
def put_again(pk, task):
    """Put the job ``pk`` into the queue, in which its place ``task`` is gone, if it still waits."""
    found = Job.objects.select_for_update().filter(pk=pk, task=task, state=Job.State.WAITING)
    if job := found.first():
        put(job)
