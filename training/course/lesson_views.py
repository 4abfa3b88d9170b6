"""The lessons, and saying that one has been read."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from rigs.rules.wording import FROM_MEMORY
from training.lessons import standing
from training.lessons.loader import all_lessons, find
from training.lessons.models import LessonRead
from training.people import sight

from .progress import outline, progress_for


def _find_or_404(slug):
    try:
        return find(slug)
    except KeyError:
        raise Http404(_("There is no lesson called “{slug}”.").format(slug=slug)) from None


def _progress_of(user):
    """Return the Progress of a person who is signed in, None for anybody else."""
    return progress_for(user) if user.is_authenticated else None


@sight.anyone
@require_safe
def lesson_list(request):
    """Show every lesson in order, with how far the person has come if they are signed in."""
    progress = _progress_of(request.user)
    return render(request, "lessons/list.html", {"progress": progress, "outline": outline()})


@sight.anyone
@require_safe
def detail(request, slug):
    """Show one lesson."""
    lesson = _find_or_404(slug)
    progress = _progress_of(request.user)
    lessons = all_lessons()
    after = [each for each in lessons if each.number > lesson.number]
    return render(
        request,
        "lessons/detail.html",
        {
            "lesson": lesson,
            "body": standing.filled(lesson.body),
            "state": progress.of(slug) if progress else None,
            "minutes": _minutes(progress, slug),
            "progress": progress,
            "following": after[0] if after else None,
            "rulebook": lesson.rulebook,
            "from_memory": FROM_MEMORY if lesson.has_marks else "",
        },
    )


def _minutes(progress, slug):
    """Return the minutes for the lesson ``slug``, on the person's own course if it is there."""
    state = progress.of(slug) if progress else None
    return (state or outline().of(slug)).minutes


@require_POST
@sight.signed_in
def read(request, slug):
    """Note that the person has read the lesson; saying it again changes nothing."""
    lesson = _find_or_404(slug)
    LessonRead.objects.note(request.user, lesson.slug)
    messages.success(request, _("Saved: you have read “{title}”.").format(title=lesson.title))
    # To the end of the page, where the reader was and where the next step is.
    return redirect(reverse("lessons:detail", args=[slug]) + "#next")
