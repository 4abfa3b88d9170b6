"""
Doing by the worker what is to be done again and again.

Each time of each command is a Job whose key follows from both: of several workers one does
it, once.
"""

import uuid
from datetime import timedelta
from io import StringIO

from django.core.management import call_command
from django.utils.translation import gettext as _

from . import aside, asking, keeping, kinds, running
from .clock import repeated
from .models import Job

KEPT_FOR = timedelta(days=30)  # what was done, for staff to look up
_SPACE = uuid.UUID("3d1c2f6e-0f0c-4f0b-9f43-6a4e8f0a7d52")


def ask(now):
    """Ask for what is due by ``now`` and was not asked for yet."""
    for each in repeated.values():
        if each.wanted is not None and not each.wanted():
            continue
        moment = each.due(now)
        key = uuid.uuid5(_SPACE, f"{each.command} {moment.timestamp():.0f}")
        if not Job.objects.filter(key=key).exists():
            asking.ask(asking.Order("repeated", {"command": each.command}, 1), None, key)


@kinds.kind
class RepeatedWork(kinds.Kind):
    """A command that is run again and again."""

    slug = "repeated"

    def title(self, job):
        return _("{command}, by the clock").format(command=job.about["command"])

    def may(self, user, job):
        return False  # the site's own

    def work(self, run):
        command = run.job.about["command"]
        if command not in repeated:
            return
        # What it says is for a terminal; what fails is raised, and told as any other job's.
        call_command(command, stdout=StringIO(), stderr=StringIO())
        with run.step(done=1):
            pass


def clear_work(now):
    """Take away files and jobs of the site's own that were kept long enough."""
    keeping.clear(now)
    over = Job.objects.exclude(state__in=Job.GOING)
    over.filter(owner=None, made__lt=now - KEPT_FOR).delete()
    # These hold what a page was asked for, such as a name that was looked for.
    over.filter(kind=aside.FileWork.slug, ended__lt=now - running.KEPT_FOR).delete()


def latest(user):
    """Return the latest Job of each command, by its words; for staff of the whole fleet."""
    found = {}
    if user.sees_whole_fleet:
        for job in Job.objects.filter(owner=None).order_by("made", "pk"):
            found[job.about.get("command", "")] = job
    return [found[command] for command in sorted(found)]
