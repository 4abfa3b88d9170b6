"""Have bad lessons refused before the site serves anybody."""

from django.core.checks import Error, Warning, register
from django.db import OperationalError

from training.lessons.errors import LessonError
from training.lessons.loader import all_lessons


@register
def lessons_can_be_read(app_configs, **kwargs):
    """Return an Error for the first lesson that cannot be used, naming file and line."""
    try:
        lessons = all_lessons()
    except LessonError as error:
        return [Error(str(error), id="lessons.E001")]
    except OperationalError as error:
        # Not every command that checks needs a database, but the rules may stand in one.
        return [Warning(f"The lessons were not read: {error}", id="lessons.W001")]
    # Late, since the exercises may come to need the lessons.
    from .kinds import KINDS

    return [
        Error(
            f"The lesson “{lesson.title}” names the exercise “{kind}”. There is no such exercise.",
            id="lessons.E002",
        )
        for lesson in lessons
        for kind in lesson.exercises
        if kind not in KINDS
    ]
