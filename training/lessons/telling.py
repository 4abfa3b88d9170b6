"""What the lessons have to tell of a person: which were read, and when."""

from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from training.deck import story

from .loader import all_lessons


@story.PERSON.teller
def lessons(person, user):
    """Tell day by day which lessons ``person`` read for the first time."""
    titles = {lesson.slug: lesson.title for lesson in all_lessons()}
    by_day = {}
    for slug, moment in person.lessons_read.values_list("slug", "read_at"):
        by_day.setdefault(timezone.localdate(moment), []).append((moment, titles.get(slug, slug)))
    for read in by_day.values():
        words = ngettext(
            "Read the lesson “{titles}”.", "Read {number} lessons: “{titles}”.", len(read)
        )
        titles_read = _("”, “").join(title for __, title in read)
        last = max(moment for moment, __ in read)
        text = words.format(number=len(read), titles=titles_read)
        yield story.Telling(last, story.Kind.LESSON, text)
