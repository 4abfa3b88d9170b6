"""Long work on pages: what one asked for, how far it is, and the file that it made."""

from django.core.exceptions import PermissionDenied
from django.core.paginator import Paginator
from django.http import FileResponse, Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from training.people import factors, sight

from . import asking, daily, keeping, kinds
from .models import Job

JOBS_A_PAGE = 30


class Shown:
    """A job as pages show it."""

    def __init__(self, job):
        kind = kinds.of(job)
        self.job, self.title = job, kind.title(job)
        is_over = not job.is_going
        self.said = kind.said(job) if is_over else ""
        self.leads_to, self.makes_file = kind.leads_to(job), kind.makes_file
        self.has_file = (
            bool(job.file) and job.kept_until is not None and job.kept_until > timezone.now()
        )

    @property
    def may(self):
        """Whether its owner may have the file, as things are now."""
        return kinds.of(self.job).may(self.job.owner, self.job)


def _own(request, key):
    return get_object_or_404(sight.own(Job.objects.all(), request.user), key=key)


@never_cache
@sight.staff
@require_safe
def jobs(request):
    """List the long work that whoever asks asked for, the latest first."""
    page = Paginator(sight.own(Job.objects.all(), request.user), JOBS_A_PAGE).get_page(
        request.GET.get("page")
    )
    context = {
        "page": page,
        "shown": [Shown(job) for job in page.object_list],
        "trouble": keeping.trouble(),
        "by_clock": daily.latest(request.user),
    }
    return render(request, "work/jobs.html", context)


@never_cache
@sight.owner
@require_safe
def job(request, key):
    """Show how far a job is; with ``?part=1`` only the part of the page that changes."""
    found = _own(request, key)
    if not found.is_going and found.seen is None:
        Job.objects.filter(pk=found.pk).update(seen=timezone.now())
    context = {
        "shown": Shown(found),
        "job": found,
        "trouble": keeping.trouble() if found.state == Job.State.WAITING else None,
    }
    template = "work/job_part.html" if request.GET.get("part") else "work/job.html"
    return render(request, template, context)


@sight.owner
@require_POST
def stop(request, key):
    """Stop a job before its next step."""
    asking.stop(_own(request, key).pk)
    return redirect("work:job", key)


@sight.owner
@require_POST
def go_on(request, key):
    """Have a job go on that was stopped or that failed."""
    found = _own(request, key)
    if not kinds.of(found).may(request.user, found):
        raise PermissionDenied
    asking.go_on(found.pk)
    return redirect("work:job", key)


@never_cache
@sight.owner
@require_safe
def file(request, key):
    """Download what a job made, while it is kept and only to those who may still have it."""
    found = _own(request, key)
    kind = kinds.of(found)
    if not kind.may(request.user, found):
        raise PermissionDenied
    give = factors.when_it_matters(_give, to_look=True) if kind.matters(found) else _give
    return give(request, found)


def _give(request, found):
    if not Shown(found).has_file:
        raise Http404(_("This file is not kept any more."))
    return FileResponse(
        found.file.open("rb"),
        as_attachment=True,
        filename=found.file.name.rpartition("/")[2],
        content_type=found.file_type,
    )
