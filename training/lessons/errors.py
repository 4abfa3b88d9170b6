"""What can be wrong with a lesson."""


class LessonError(ValueError):
    """A lesson that cannot be shown; the message names the file and the line."""

    def __init__(self, source, line, message):
        super().__init__(f"{source}, line {line}: {message}")


class TagError(ValueError):
    """A tag that asks for what there is not; the file and line are added further up."""
