"""Put the answers of a lesson's tags in their place."""

import re

from django.template.loader import render_to_string
from django.utils.html import escape
from django.utils.translation import gettext as _

from ..errors import LessonError, TagError
from .grammar import CAPTION, TAG, answer, read
from .page import unbroken

_BRACES = re.compile(r"\{\{|\}\}")


class _StrayBraces(TagError):
    """Braces without their fellows, at the place ``at`` in the text."""

    def __init__(self, at):
        super().__init__(_("a tag is opened or closed here, but not both"))
        self.at = at


def fill(text, page, source, keep, first_line=1):
    """
    Return the Markdown ``text`` with every tag replaced by a placeholder.

    ``keep`` is called with the HTML of each answer and returns the placeholder that
    Markdown will swap back. ``first_line`` is the line of the file ``source`` on which
    ``text`` begins. Raise LessonError, naming file and line, for a tag that is unknown,
    badly written, or asks for what there is not.
    """
    done = []
    at = 0  # the text is done up to here, and points here if what comes next is refused
    try:
        while match := TAG.search(text, at):
            _check_braces(text, at, match.start())
            done.append(text[at : match.start()])
            at = match.start()
            tag, html, at = _answered(text, match, page)
            # Markdown takes a block for one only between empty lines.
            done.append(f"\n\n{keep(html)}\n\n" if tag.block else keep(html))
        _check_braces(text, at, len(text))
    except TagError as error:
        line = first_line + text.count("\n", 0, getattr(error, "at", at))
        raise LessonError(source, line, str(error)) from error
    return "".join([*done, text[at:]])


def _check_braces(text, start, end):
    braces = _BRACES.search(text, start, end)
    if braces:
        raise _StrayBraces(braces.start())


def _answered(text, match, page):
    """Return the tag at ``match``, its HTML, and where the text goes on behind it."""
    tag, positional, named = read(match["body"])
    if not tag.block:
        said = answer(page, tag, positional, named)
        html = said if _is_html(said) else escape(unbroken(said))
        return tag, html, match.end()
    before, after = text[: match.start()], text[match.end() :]
    if (before and not before.endswith("\n")) or (after and not after.startswith("\n")):
        raise TagError(_("the tag “{word}” must stand alone on its line").format(word=tag.word))
    lines = CAPTION.match(text, match.end())
    words = " ".join(line[2:].strip() for line in lines[0].split("\n") if line)
    if not words:
        raise TagError(
            _("the tag “{word}” needs a caption on the lines below it").format(word=tag.word)
        )
    page.asked.clear()
    html = answer(page, tag, positional, named, caption=_caption(words, page))
    return tag, _marked(html, page.lapsed), lines.end()


def _is_html(said):
    return hasattr(said, "__html__")


def _marked(html, lapsed):
    """Return the ``html`` of a block, under a word on each rule set without a version today."""
    if not lapsed:
        return html
    told = render_to_string("deck/no_version.html", {"books": lapsed, "in_short": True})
    return f"{told.strip()}\n{html}"


def _caption(words, page):
    """Return a caption as safe HTML, its inline tags answered."""

    def filled(match):
        tag, positional, named = read(match["body"])
        if tag.block:
            raise TagError(_("the tag “{word}” cannot stand in a caption").format(word=tag.word))
        said = answer(page, tag, positional, named)
        if _is_html(said):
            raise TagError(_("the tag “{word}” cannot stand in a caption").format(word=tag.word))
        return said

    return escape(TAG.sub(filled, words))
