"""The lessons, and saying that one has been read."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from rigs.rules.wording import FROM_MEMORY
from training.deck import signal
from training.inbox.once import once
from training.lessons import standing
from training.lessons.loader import find
from training.lessons.models import LessonRead
from training.people import sight

from .known_views import open_readings
from .progress import outline, progress_for


def _find_or_404(slug):
    try:
        return find(slug)
    except KeyError:
        raise Http404(_("There is no lesson called “{slug}”.").format(slug=slug)) from None


def _progress_of(user):
    """Return the Progress of a person who is signed in, None for anybody else."""
    return progress_for(user) if user.is_authenticated else None


@signal.opens
@sight.anyone
@require_safe
def lesson_list(request):
    """Show every lesson in order, with how far the person has come if they are signed in."""
    progress = _progress_of(request.user)
    return render(request, "lessons/list.html", {"progress": progress, "outline": outline()})


@signal.opens
@sight.anyone
@require_safe
def detail(request, slug):
    """Show one lesson."""
    lesson = _find_or_404(slug)
    progress = _progress_of(request.user)
    own = progress.of(slug) if progress else None
    shown = own or outline().of(slug)
    return render(
        request,
        "lessons/detail.html",
        {
            "lesson": lesson,
            "body": standing.filled(lesson.body),
            "state": own,
            "number": shown.number,
            "minutes": shown.minutes,
            "step": progress.step_from(slug) if progress else None,
            "following": None if progress else _following(shown),
            "rulebook": lesson.rulebook,
            "from_memory": FROM_MEMORY if lesson.has_marks else "",
        },
    )


def _following(state):
    """Return the lesson that comes after that of ``state`` on its track, None at the end."""
    after = [
        each
        for __, track in outline().tracks
        for each in track
        if state in track and each.number > state.number
    ]
    return after[0].lesson if after else None


@require_POST
@sight.signed_in
@once
def read(request, slug):
    """Note that the person has read the lesson, and lead on; said again it only leads on."""
    lesson = _find_or_404(slug)
    LessonRead.objects.note(request.user, lesson.slug)
    messages.success(request, _("Saved: you have read “{title}”.").format(title=lesson.title))
    progress = progress_for(request.user)
    state = progress.of(slug)
    if state and state.rules_left:
        return open_readings(request, state)
    step = progress.step_from(slug)
    return redirect(step.url if step else "home")
