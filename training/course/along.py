"""Lessons, and what leads on from practice, taken along to where there is no signal."""

from django.urls import reverse
from django.utils.translation import gettext as _

from training.deck import along

from .progress import lessons_of


@along.part
def practice(user, today):
    """Yield the page of practice, that of one's rules, and how practice comes back."""
    yield along.Part(along.What.START, _("Practice"), reverse("exercises:list"))
    how = (reverse("recall:how"),)
    yield along.Part(along.What.START, _("My rules"), reverse("recall:rules"), how)


@along.part
def lessons(user, today):
    """Yield the list of lessons, and each of one's own with the tables of its live figures."""
    yield along.Part(along.What.START, _("Lessons"), reverse("lessons:list"))
    seen = set()
    for lesson in lessons_of(user):
        address = reverse("lessons:detail", args=[lesson.slug])
        # Drawings are in the page. A table goes with the first lesson that shows its figure.
        tables = [each for each in lesson.live if each not in seen]
        seen.update(lesson.live)
        yield along.Part(along.What.LESSON, lesson.title, address, tuple(tables))
