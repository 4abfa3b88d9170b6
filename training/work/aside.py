"""
Files that a page makes at once while they are short, and that are made on the side otherwise.

A view that answers with a file stands below its door and says how many rows go into it:

    @sight.staff
    @require_safe
    @aside.if_long(gettext_lazy("People who train"), lambda request, ending: few(people(request)))
    def trainees_table(request, ending): ...

Up to AT_ONCE rows it answers as any view. Above, it leads to a job, in which the same view is
called for the same person and address. Its door is asked again then, and again when the file
is fetched, which also takes that the person looks after the same as when it was made.
"""

import hashlib
import io
import json
import re
import tempfile
import time
import uuid
from collections.abc import Callable
from datetime import timedelta
from functools import wraps
from typing import NamedTuple

from django.core.files import File
from django.core.handlers.wsgi import WSGIRequest
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import Resolver404, resolve
from django.utils import timezone, translation
from django.utils.translation import gettext as _

from training.deck.passing import heard
from training.people import sight

from . import asking, kinds
from .models import Job

# Half a second or so: 2,500 to 4,000 rows a second go into a table or a report, if nothing else
# is done on the machine.
AT_ONCE = 1500
# Who asks for the same again gets the file that is there, if it was made as lately as this.
SAME_FOR = timedelta(seconds=15)
LOOK_EVERY = 1.0  # seconds between two steps while a file is made
_NAMED = re.compile(r'filename="([^"]+)"')


class Made(NamedTuple):
    """A ``view`` that makes a file, what it is called, and how many rows go into it."""

    view: Callable
    title: str
    rows: Callable


def if_long(title, rows):
    """
    Have a view, below its door, make its file on the side if it is long.

    ``rows`` is called as the view is, and returns a number that is cheap to count.
    """

    def decorator(view):
        @wraps(view)
        def either(request, *args, **kwargs):
            number = rows(request, *args, **kwargs)
            if number <= AT_ONCE:
                return view(request, *args, **kwargs)
            if request.method == "HEAD":
                return HttpResponse()
            return redirect(_ask(request, number))

        # Each decorator above hands this on, and so the address leads to it.
        either.made_aside = Made(view, title, rows)
        return either

    return decorator


def few(found):
    """Return how many rows ``found``, a queryset, has; past AT_ONCE they are not counted."""
    return found.order_by()[: AT_ONCE + 1].count()


def _ask(request, number):
    """Return the Job that makes what ``request`` asks for; the one that is at it, if there is."""
    about = {
        "path": request.path_info,
        "query": request.GET.urlencode(),
        "host": request.get_host(),
        "scheme": request.scheme,
        "language": translation.get_language(),
        "rows": number,
    }
    told = json.dumps([about[name] for name in ("path", "query", "language")])
    about["same"] = hashlib.sha256(told.encode()).hexdigest()
    jobs = Job.objects.filter(owner=request.user, kind=FileWork.slug, about__same=about["same"])
    last = jobs.order_by("-made", "-pk").first()
    if last and _is_at_hand(last, request.user):
        return last
    key = asking.next_key(uuid.uuid5(uuid.NAMESPACE_URL, about["same"]), last)
    return asking.ask(asking.Order(FileWork.slug, about), request.user, key)


def _is_at_hand(job, user):
    """Return whether ``job`` is being done for ``user`` as they are now, or was just done."""
    if job.is_going:
        return not job.stop_asked
    is_new = job.state == Job.State.DONE and job.ended > timezone.now() - SAME_FOR
    return is_new and job.result.get("reach") == sight.reach_of(user)


def _found(job):
    """Return (view as its address leads to it, arguments), None for one that is gone."""
    try:
        match = resolve(job.about["path"])
    except (Resolver404, KeyError):
        return None
    return (match.func, match.kwargs) if hasattr(match.func, "made_aside") else None


@kinds.kind
class FileWork(kinds.Kind):
    """Making a file that a page was asked for."""

    slug = "file"
    makes_file = True
    at_once = -1  # none: how long it takes is known by its rows

    def title(self, job):
        found = _found(job)
        return str(found[0].made_aside.title) if found else _("A file")

    def may(self, user, job):
        """Whether the door lets ``user`` in, who looks after the same as when it was made."""
        found = _found(job)
        return (
            user.is_active
            and found is not None
            and found[0].lets_in(user)
            and (job.is_going or not job.file or job.result["reach"] == sight.reach_of(user))
        )

    def matters(self, job):
        found = _found(job)
        return found is not None and getattr(found[0], "matters", False)

    def work(self, run):
        view, arguments = _found(run.job)
        reach = sight.reach_of(run.job.owner)
        with run.step():
            run.job.done, run.job.total = 0, 0
            run.job.result = {"reach": reach}
        with (
            translation.override(run.job.about["language"]),
            heard(_Counter(run)),
            tempfile.TemporaryFile() as file,
        ):
            response = view.made_aside.view(_request(run.job), **arguments)
            if response.status_code != 200:
                raise LookupError(response.status_code)
            for part in response:
                file.write(part)
            name = _NAMED.search(response["Content-Disposition"])[1]
            file.seek(0)
            run.keep(name, response["Content-Type"], File(file))

    def said(self, job):
        if job.state == job.State.DONE:
            return _("The file is made.")
        return _("No file was made.")


class _Counter:
    """Counts the parts of a file, and once in a while notes them in a step of ``run``."""

    def __init__(self, run):
        self.run, self.number, self.looked = run, 0, time.monotonic()

    def __call__(self):
        self.number += 1
        if time.monotonic() - self.looked < LOOK_EVERY:
            return
        with self.run.step(done=self.number - self.run.job.done):
            self.run.job.total = max(self.number, self.run.job.about["rows"])
        self.looked = time.monotonic()


def _request(job):
    """Return the request of ``job``, as its owner made it."""
    about = job.about
    request = WSGIRequest(
        {
            "REQUEST_METHOD": "GET",
            "PATH_INFO": about["path"],
            "QUERY_STRING": about["query"],
            "HTTP_HOST": about["host"],
            "wsgi.url_scheme": about["scheme"],
            "wsgi.input": io.BytesIO(),
        }
    )
    request.user = job.owner
    return request
