"""What can be wrong with a lesson."""

from django.utils.translation import gettext as _


class LessonError(ValueError):
    """A lesson that cannot be shown; the message names the file and the line."""

    def __init__(self, source, line, message):
        super().__init__(
            _("{source}, line {line}: {message}").format(source=source, line=line, message=message)
        )


class TagError(ValueError):
    """A tag that asks for what there is not; the file and line are added further up."""
