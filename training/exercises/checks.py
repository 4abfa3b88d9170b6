"""Have bad lessons, and kinds of exercise without a page, refused before the site starts."""

from django.core.checks import Error, Warning, register
from django.db import OperationalError
from django.template import TemplateDoesNotExist
from django.template.loader import get_template
from django.utils.translation import gettext as _

from training.lessons.errors import LessonError
from training.lessons.loader import all_lessons

from .kinds import KINDS, VERSIONS
from .kinds.finding import where


@register
def lessons_can_be_read(app_configs, **kwargs):
    """Return an Error for the first lesson that cannot be used, naming file and line."""
    try:
        lessons = all_lessons()
    except LessonError as error:
        return [Error(str(error), id="lessons.E001")]
    except OperationalError as error:
        # Not every command that checks needs a database, but the rules may stand in one.
        return [
            Warning(_("The lessons were not read: {error}").format(error=error), id="lessons.W001")
        ]
    return [
        Error(
            _(
                "The lesson “{title}” names the exercise “{kind}”. There is no such exercise."
            ).format(title=lesson.title, kind=kind),
            id="lessons.E002",
        )
        for lesson in lessons
        for kind in lesson.kinds
        if kind not in KINDS
    ]


@register
def kinds_have_their_pages(app_configs, **kwargs):
    """Return an Error for each kind of exercise whose template is not there."""
    return [
        Error(
            _("{where} lacks its template “{template}”.").format(
                where=where(type(kind)), template=kind.template
            ),
            id="exercises.E001",
        )
        for versions in VERSIONS.values()
        for kind in versions.values()
        if not _is_there(kind.template)
    ]


def _is_there(template):
    try:
        get_template(template)
    except TemplateDoesNotExist:
        return False
    return True
