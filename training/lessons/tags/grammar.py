"""
How a tag is written: ``{{ word argument name=argument "an argument of words" }}``.

The first word says which tag it is. A tag is inline, and gives words within a sentence (or a
place in it that is not seen), or a block, and stands alone on its line. A block is followed by
its caption: one line or more, each beginning with a colon and a space.
"""

import inspect
import re
from collections.abc import Callable
from dataclasses import dataclass

from django.utils.translation import gettext as _

from ..errors import TagError

TAG = re.compile(r"\{\{(?P<body>.*?)\}\}", re.DOTALL)
CAPTION = re.compile(r"(?:\n: [^\n]*)*")
_ARGUMENT = re.compile(r'\s*(?:(?P<name>[a-z_]+)=)?(?:"(?P<quoted>[^"]*)"|(?P<bare>[^\s"=]+))')


@dataclass(frozen=True)
class Tag:
    """
    One tag on the list: ``answer`` is called with a Page and the tag's arguments.

    An inline tag answers in plain text or in safe HTML, a block in HTML. A block is given its
    caption, HTML already, as the keyword ``caption``.
    """

    word: str
    answer: Callable
    block: bool = False


TAGS = {}


def inline(word):
    """Put the decorated function on the list as the inline tag ``word``."""
    return _listed(word, is_block=False)


def block(word):
    """Put the decorated function on the list as the block tag ``word``."""
    return _listed(word, is_block=True)


def _listed(word, is_block):
    def decorator(function):
        TAGS[word] = Tag(word, function, is_block)
        return function

    return decorator


def read(body):
    """
    Return (tag, positional arguments, named arguments) for what stands in the braces.

    Raise TagError for an unknown tag or a misspelt argument.
    """
    body = body.strip()
    positional, named = [], {}
    at = 0
    while at < len(body):
        match = _ARGUMENT.match(body, at)
        if not match:
            raise TagError(
                _("“{strip}” in the tag “{body}” was not understood").format(
                    strip=body[at:].strip(), body=body
                )
            )
        value = match["quoted"] if match["quoted"] is not None else match["bare"]
        if match["name"]:
            if match["name"] in named:
                raise TagError(
                    _("“{match}” is twice in the tag “{body}”").format(
                        match=match["name"], body=body
                    )
                )
            named[match["name"]] = value
        else:
            positional.append(value)
        at = match.end()
    if not positional:
        raise TagError(_("there is a tag with nothing in it"))
    word = positional.pop(0)
    if word not in TAGS:
        raise TagError(
            _("unknown tag “{word}”: use one of {sorted}").format(
                word=word, sorted=", ".join(sorted(TAGS))
            )
        )
    return TAGS[word], positional, named


def answer(page, tag, positional, named, **given):
    """Return what ``tag`` answers; raise TagError if its arguments do not fit it."""
    if "caption" in named:
        raise TagError(_("a caption goes on the lines below its tag, each after a colon"))
    named = {**named, **given}
    try:
        inspect.signature(tag.answer).bind(page, *positional, **named)
    except TypeError as error:
        raise TagError(
            _("the tag “{word}” does not fit its arguments: {error}").format(
                word=tag.word, error=error
            )
        ) from error
    return tag.answer(page, *positional, **named)
