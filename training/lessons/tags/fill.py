"""Put the answers of a lesson's tags in their place."""

import re
from html import escape

from ..errors import LessonError, TagError
from .grammar import CAPTION, TAG, answer, read

_BRACES = re.compile(r"\{\{|\}\}")


def fill(text, page, source, keep, first_line=1):
    """
    Return the Markdown ``text`` with every tag replaced by a placeholder.

    ``keep`` is called with the HTML of each answer and returns the placeholder that
    Markdown will swap back. ``first_line`` is the line of the file ``source`` on which
    ``text`` begins. Raise LessonError, naming file and line, for a tag that is unknown,
    badly written, or asks for what there is not.
    """
    done = []
    at = 0
    try:
        while match := TAG.search(text, at):
            _check_braces(text[at : match.start()])
            done.append(text[at : match.start()])
            at = match.start()  # where to point if the tag is refused
            html, at = _answered(text, match, page)
            done.append(keep(html))
        _check_braces(text[at:])
    except TagError as error:
        line = first_line + text.count("\n", 0, at)
        raise LessonError(source, line, str(error)) from error
    return "".join([*done, text[at:]])


def _check_braces(text):
    if _BRACES.search(text):
        raise TagError("from here on a tag is opened or closed, but not both")


def _answered(text, match, page):
    """Return the HTML for the tag at ``match``, and where the text goes on behind it."""
    tag, positional, named = read(match["body"])
    if not tag.block:
        return escape(answer(page, tag, positional, named)), match.end()
    before, after = text[: match.start()], text[match.end() :]
    if (before and not before.endswith("\n")) or (after and not after.startswith("\n")):
        raise TagError(f"the tag “{tag.word}” must stand alone on its line")
    if not tag.captioned:
        return answer(page, tag, positional, named), match.end()
    lines = CAPTION.match(text, match.end())
    words = " ".join(line[2:].strip() for line in lines[0].split("\n") if line)
    if not words:
        raise TagError(f"the tag “{tag.word}” needs a caption on the lines below it")
    return answer(page, tag, positional, named, caption=_caption(words, page)), lines.end()


def _caption(words, page):
    """Return a caption as HTML, its inline tags answered."""

    def filled(match):
        tag, positional, named = read(match["body"])
        if tag.block:
            raise TagError(f"the tag “{tag.word}” cannot stand in a caption")
        return answer(page, tag, positional, named)

    return escape(TAG.sub(filled, words))
