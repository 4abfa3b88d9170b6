"""What a template says to people without having it marked for translation."""

import re

from django.template.base import Lexer, TokenType

_LABELS = re.compile(r"\b(?:aria-label|alt|title|placeholder|data-label)=\"([^\"]*)\"")
_UNREAD = re.compile(r"<(script|style|svg|pre)\b.*?</\1>|<!--.*?-->|<[^>]*>", re.DOTALL)
_HOLE = "\x01"


def _left_over(source):
    """Return ``source`` without what is marked, each tag of it a hole; lines stay."""
    parts, marked = [], False
    for token in Lexer(source).tokenize():
        word = token.contents.split()[0] if token.contents.split() else ""
        if token.token_type == TokenType.BLOCK and word in ("blocktranslate", "comment"):
            marked = True
        if token.token_type == TokenType.TEXT and not marked:
            parts.append(token.contents)
        else:
            parts.append(_HOLE + "\n" * token.contents.count("\n"))
        if token.token_type == TokenType.BLOCK and word in ("endblocktranslate", "endcomment"):
            marked = False
    return "".join(parts)


def unmarked(source):
    """Yield (line, text) of each text in ``source`` for people that is not marked."""
    text = _left_over(source)
    labels = [(match.start(1), match[1]) for match in _LABELS.finditer(text)]
    plain = _UNREAD.sub(lambda match: "\x02" + "\n" * match[0].count("\n"), text)
    for match in re.finditer(r"[^\x01\x02\n]+", plain):
        if re.search(r"[A-Za-z]{2,}", re.sub(r"&#?\w+;", "", match[0])):
            yield plain.count("\n", 0, match.start()) + 1, match[0]
    for at, label in labels:
        if re.search(r"[A-Za-z]{2,}", label.replace(_HOLE, "")):
            yield text.count("\n", 0, at) + 1, label
