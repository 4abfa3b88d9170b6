"""
How the site speaks, as far as a program can tell: words it does not use, sentences it keeps short.

``shown`` and the functions it picks from take out of a file what people read; ``unwanted``
finds in it what the site says another way, and ``sentences`` counts words. To see where files
are off the style: ``python -m tests.words templates/rigs rigs/places.py``.
"""

import ast
import re
import sys
from html import unescape
from pathlib import Path

import yaml

# What the site says another way, and how.
INSTEAD = {
    r"towards": "toward",
    r"(?:in|out|up|down|after|for|back)wards": "the form without s",
    r"centre[ds]?": "center",
    r"harbours?": "harbor",
    r"quays?": "dock",
    r"colour(?:s|ed|ing)?": "color",
    r"grey": "gray",
    r"practis(?:e[ds]?|ing)": "practice",
    r"offences?": "offense",
    r"judgements?": "judgment",
    r"(?:kilo|centi|milli)?metres?": "meters, or feet",
    r"noughts?": "zero",
    r"whoever": "anyone who, the person who",
    r"whomever": "anyone",
    r"besides": "as well, too",
    r"anew": "again, or start over",
    r"told": "asked, said, entered, left out: whichever it was",
    r"stands(?! for)": "is",
    r"departs?": "leave, differ",
    r"hold the line": "say which line",
    r"hung square": "hung straight down",
    r"reckon(?:s|ed|ing)?": "work out",
    r"held against|hold against": "check against",
    r"taken to be": "assumed",
    r"a hair": "just",
    r"rule module": "the site's rules",
    r"drop chains?": "dropper",
    r"candidates?": "person",
    r"schemes?": "certificate, requirements",
    r"(?:il)?legal(?:ly)?": "meets the rules",
    r"mend(?:s|ed|ing)?": "fix",
    r"papers": "exams",
    r"(?:begin|sit|sit for|pass|take) an? paper": "take an exam",
    r"hand(?:s|ed|ing)? (?:it |them |this )?in": "turn in",
    r"erased": "deleted, of an account",
    r"e-mails?": "email",
    r"cannot be fetched|could not be fetched": "did not load",
    r"violat(?:es?|ed|ions?)": "outside",
    r"(?:he|she|him|his|hers?|himself|herself)": "they, you, the skipper; it for a vessel",
}
_UNWANTED = {re.compile(rf"\b{word}\b", re.IGNORECASE): say for word, say in INSTEAD.items()}


def unwanted(text, allowed=()):
    """
    Yield (words, what to say instead) for each place in ``text`` that is off the site's style.

    ``allowed`` are phrases that may be there for a reason; they are not looked at.
    """
    for phrase in allowed:
        text = text.replace(phrase, " ")
    for pattern, say in _UNWANTED.items():
        for match in pattern.finditer(text):
            around = text[max(0, match.start() - 40) : match.end() + 40]
            yield f"{match[0]} (in “{' '.join(around.split())}”)", say


# A clause is one word to a reader, who skips it.
_CLAUSE = re.compile(r"\(?\b\d+ CFR [\d.]+(?:\([a-zA-Z0-9]+\))*\)?")
_END = re.compile(r"(?<=[.!?])[\"”’)*]*\s+(?=[\"“‘(*]*[A-Z0-9])")


def sentences(text):
    """Return the sentences of ``text``, each with its number of words."""
    said = " ".join(_CLAUSE.sub("CFR", text).split())
    return [(each, len(re.findall(r"\w[\w'’./-]*", each))) for each in _END.split(said)]


# What people read -------------------------------------------------------------


def shown_in_html(html):
    """Return the words of ``html``, the texts of drawings and labels among them."""
    html = re.sub(r"<(style|script)\b.*?</\1>", " ", html, flags=re.DOTALL)
    labels = re.findall(r"\b(?:aria-label|alt|title|placeholder|content)=\"([^\"]*)\"", html)
    return unescape(" ".join([re.sub(r"<[^>]+>", " ", html), *labels]))


_MARKED = re.compile(r"""{% translate (?:"([^"]*)"|'([^']*)') %}""")


def shown_in_template(text):
    """Return the words that a template gives, as far as they are its own."""
    text = re.sub(r"{% comment.*?{% endcomment %}|{#.*?#}", " ", text, flags=re.DOTALL)
    text = _MARKED.sub(lambda marked: marked[1] or marked[2], text)
    return shown_in_html(re.sub(r"{%.*?%}|{{.*?}}", " ", text, flags=re.DOTALL))


def prose_blocks(html):
    """Return the paragraphs, list items and captions of ``html`` that are read as prose."""
    html = re.sub(r"<(svg|table|section|details|form|aside)\b.*?</\1>", " ", html, flags=re.DOTALL)
    blocks = re.findall(r"<(p|li|figcaption)\b[^>]*>(.*?)</\1>", html, re.DOTALL)
    return [unescape(re.sub(r"<[^>]+>", "", inside)) for _, inside in blocks]


def shown_in_yaml(text):
    """Return what a rule set says in words: values of several words, clauses left out."""

    def walk(node):
        if isinstance(node, dict):
            for each in node.values():
                yield from walk(each)
        elif isinstance(node, list):
            for each in node:
                yield from walk(each)
        elif isinstance(node, str) and " " in node:
            yield node

    return "\n".join(walk(yaml.safe_load(text)))


_HOLE = re.compile(r"\{\w[^{}]*\}")  # names of holes are for developers


def shown_in_python(source):
    """
    Return the strings of a module that look like words for people, one a line.

    Docstrings are for developers, and a string without a space in it is a name.
    """
    tree = ast.parse(source)
    skipped = set()
    for node in ast.walk(tree):
        body = getattr(node, "body", None)
        if isinstance(body, list):
            skipped |= {
                id(each.value)
                for each in body
                if isinstance(each, ast.Expr) and isinstance(each.value, ast.Constant)
            }
    return "\n".join(
        _HOLE.sub(" ", node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant)
        and isinstance(node.value, str)
        and id(node) not in skipped
        and " " in node.value.strip()
    )


_IN_SCRIPT = re.compile(
    r"""/\*.*?\*/|(?<![:\w])//[^\n]*|"((?:[^"\\\n]|\\.)*)"|`((?:[^`\\]|\\.)*)`""", re.DOTALL
)


def shown_in_script(source):
    """Return the strings of a script that look like words for people, one a line."""
    strings = (plain or filled for plain, filled in _IN_SCRIPT.findall(source))
    without_sums = (re.sub(r"\${[^}]*}", " ", each) for each in strings)
    return "\n".join(each for each in without_sums if " " in each.strip())


_SHOWN = {
    ".js": shown_in_script,
    ".html": shown_in_template,
    ".txt": shown_in_template,
    ".md": shown_in_template,
    ".yaml": shown_in_yaml,
    ".py": shown_in_python,
}


def shown(path):
    """Return what people read of the file ``path``; raise KeyError for a sort not known."""
    return _SHOWN[path.suffix](path.read_text("utf-8"))


def files(*places):
    """Return the files in ``places``, themselves or folders, of which people read something."""
    found = []
    for place in map(Path, places):
        each = [place] if place.is_file() else place.rglob("*")
        found += [path for path in each if path.suffix in _SHOWN and "migrations" not in path.parts]
    return sorted(found)


if __name__ == "__main__":
    for path in files(*sys.argv[1:]):
        for place, say in unwanted(shown(path)):
            print(f"{path}: {place}: {say}")
