"""
Lessons from Markdown files: front matter read, tags answered, bad files refused.

A file is called ``NN-slug.md``, NN being its place in the order. It begins with
front matter between two lines of three dashes; the rest is Markdown with the tags
of ``training.lessons.tags``.
"""

import os
import re
from dataclasses import dataclass
from html import unescape
from pathlib import Path

import markdown
import yaml
from django.utils import timezone
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _
from markdown.preprocessors import Preprocessor

from rigs.rules import rulebook as rulebooks
from rigs.rules.lapse import is_lapsed
from rigs.rules.rulebook import Rulebook

from . import minutes
from .errors import LessonError
from .tags import Page, fill
from .tags.grammar import TAG

FOLDER = Path(__file__).parent.parent / "content" / "en"

BOTH = "both"
TRACKS = ("fisherman", "officer", BOTH)

_NAME = re.compile(r"(?P<number>\d\d)-(?P<slug>[a-z0-9]+(?:-[a-z0-9]+)*)\.md")
_SLUG = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_FIELDS = ("title", "summary", "track", "exercises", "more", "rules", "rulebook")
_UNITS = (
    r"(?:ft|feet|foot|in|inch|inches|fm|fathoms?|yards?|mm|cm|m|metres?|meters?|lbs?|pounds?|oz|"
    r"ounces?|kg|kgf|kilos?|knots?|kn|percent|per cent)\b"
)
_NUMBER_WORDS = (
    r"\b(?:half|quarter|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|fifteen|"
    r"twenty|thirty|forty|fifty|sixty|hundred)"
)
_TYPED = re.compile(
    rf"[\d½¼¾⅜⅝⅞](?:\s?-?{_UNITS}|\s?[%\"”″′])|{_NUMBER_WORDS}[\s-](?:an?\s)?{_UNITS}",
    re.IGNORECASE,
)


@dataclass(frozen=True)
class Lesson:
    """
    One lesson, ready to show.

    ``lapsed`` are those of ``books`` that have no version for the day and are shown as they
    were. ``body`` is HTML, ``words`` how many words of it are read through. ``exercises`` are
    the slugs of the kinds of exercise of which one task each is part of the lesson, ``more`` of
    those that go with it for further practice. ``rules`` are the keys of the requirements it
    teaches with the heading under which each is taught, ``books`` the rule sets its figures
    were taken from, ``has_marks`` whether a limit in it is marked as written from memory.
    ``live`` are the addresses of the tables of the live figures it shows.
    """

    number: int
    slug: str
    title: str
    summary: str
    track: str
    exercises: tuple[str, ...]
    more: tuple[str, ...]
    rules: dict[str, str]
    rulebook: Rulebook
    body: str
    words: int
    books: tuple[Rulebook, ...]
    lapsed: tuple[Rulebook, ...]
    has_marks: bool
    live: tuple[str, ...]

    @property
    def reading_minutes(self):
        """Whole minutes of reading, without any task."""
        return minutes.whole(minutes.reading(self.words))

    @property
    def kinds(self):
        """The slugs of all kinds of exercise that it names."""
        return (*self.exercises, *self.more)

    def is_for(self, role):
        """Return whether a person of this ``role`` has the lesson on their course."""
        return self.track == BOTH or (self.track == "officer") == (role == "officer")


class _Tags(Preprocessor):
    """Has the tags answered before Markdown sees them, so that lines can be named."""

    def __init__(self, md, page, source, first_line):
        super().__init__(md)
        self.page, self.source, self.first_line = page, source, first_line

    def run(self, lines):
        keep = self.md.htmlStash.store
        filled = fill("\n".join(lines), self.page, self.source, keep, self.first_line)
        return filled.split("\n")


def typed_measures(text):
    """Yield (line, measure) for each number with a unit that is typed outside a tag."""
    bare = TAG.sub(lambda match: " " + "\n" * match[0].count("\n"), text)
    for match in _TYPED.finditer(bare):
        start = bare.rfind("\n", 0, match.start()) + 1
        end = match.end() + len(bare[match.end() :].split("\n", 1)[0])
        line = bare.count("\n", 0, match.start()) + 1
        yield line, bare[start:end].strip()


def _front_matter(text, source):
    """Return ({field: (value, line)}, body, first line of the body)."""
    lines = text.split("\n")
    if lines[0].strip() != "---":
        raise LessonError(source, 1, _("the file must begin with front matter after three dashes"))
    try:
        end = next(i for i, line in enumerate(lines[1:], 1) if line.strip() == "---")
    except StopIteration:
        raise LessonError(source, 1, _("the front matter is not closed by three dashes")) from None
    try:
        node = yaml.compose("\n".join(lines[1:end]), Loader=yaml.SafeLoader)
    except yaml.YAMLError as error:
        mark = getattr(error, "problem_mark", None)
        line = mark.line + 2 if mark else 1
        raise LessonError(source, line, _("the front matter is not readable")) from error
    if not isinstance(node, yaml.MappingNode):
        raise LessonError(source, 2, _("the front matter must be names and values"))
    fields = {}
    for key, value in node.value:
        line = key.start_mark.line + 2
        if key.value not in _FIELDS:
            raise LessonError(source, line, _("unknown field “{value}”").format(value=key.value))
        if key.value in fields:
            raise LessonError(source, line, _("“{value}” is here twice").format(value=key.value))
        fields[key.value] = (value, line)
    for name in _FIELDS:
        if name not in fields:
            raise LessonError(
                source, 1, _("“{name}” is missing from the front matter").format(name=name)
            )
    return fields, "\n".join(lines[end + 1 :]), end + 2


def _text(fields, name, source):
    node, line = fields[name]
    if not isinstance(node, yaml.ScalarNode) or not node.value.strip():
        raise LessonError(source, line, _("“{name}” must be some words").format(name=name))
    return " ".join(node.value.split()), line


def _track(fields, source):
    text, line = _text(fields, "track", source)
    if text not in TRACKS:
        raise LessonError(
            source, line, _("“track” must be one of {TRACKS}").format(TRACKS=", ".join(TRACKS))
        )
    return text


def _exercises(fields, name, source):
    node, line = fields[name]
    if not isinstance(node, yaml.SequenceNode):
        raise LessonError(
            source, line, _("“{name}” must be a list, [] if there are none").format(name=name)
        )
    slugs = tuple(item.value for item in node.value)
    for slug in slugs:
        if not isinstance(slug, str) or not _SLUG.fullmatch(slug):
            raise LessonError(
                source, line, _("“{slug}” is no name of a kind of exercise").format(slug=slug)
            )
    if len(set(slugs)) != len(slugs):
        raise LessonError(source, line, _("an exercise is here twice"))
    return slugs


def _rules(fields, source, load):
    """Return the keys of the requirements that the lesson says it teaches."""
    node, line = fields["rules"]
    if not isinstance(node, yaml.SequenceNode):
        raise LessonError(source, line, _("“rules” must be a list, [] if it teaches none"))
    keys = tuple(item.value for item in node.value)
    known = {
        each.key for name in rulebooks.names() for each in load(name).requirements if each.binds
    }
    for key in keys:
        if key not in known:
            raise LessonError(
                source, line, _("no rule set has a law requirement “{key}”").format(key=key)
            )
    if len(set(keys)) != len(keys):
        raise LessonError(source, line, _("a rule is here twice"))
    return keys


_PASSAGE = re.compile(r'<h2>(?P<heading>.*?)</h2>|id="rule-(?P<key>[a-z_]+)"', re.DOTALL)


def _passages(html, title):
    """Return under which heading each passage of ``html`` is, by the key of its rule."""
    found, heading = {}, title
    for match in _PASSAGE.finditer(html):
        if match["key"]:
            found[match["key"]] = heading
        else:
            heading = unescape(re.sub(r"<[^>]+>", "", match["heading"])).strip()
            # A heading may hold the mark itself.
            found |= dict.fromkeys(re.findall(r'id="rule-([a-z_]+)"', match["heading"]), heading)
    return found


_CLAUSE = re.compile(r"\b\d+ CFR [\d.]+(?:\([a-zA-Z0-9]+\))*")


def count_words(html):
    """
    Return how many words of ``html`` are read through.

    Drawings are looked at, folded parts and forms passed over; a clause is one word to a reader.
    """
    shown = re.sub(r"<(svg|details|form)\b.*?</\1>", " ", html, flags=re.DOTALL)
    said = _CLAUSE.sub("clause", unescape(re.sub(r"<[^>]+>", " ", shown)))
    return len(re.findall(r"\w[\w'’./-]*", said))


def parse(text, name, load, lapsed=lambda book: False):
    """
    Return the Lesson in ``text``, the content of the file called ``name``.

    ``load`` returns a rule set by its name, ``lapsed`` whether one that it returned has no
    version for the day and is shown as it was. Raise LessonError, naming the file and the
    line, for whatever cannot be used: a field missing or wrong, an unknown tag, or a
    measure typed where a tag should stand.
    """
    match = _NAME.fullmatch(name)
    if not match:
        raise LessonError(name, 1, _("the file must be called like 04-droppers.md"))
    for line, measure in typed_measures(text):
        raise LessonError(
            name, line, _("a measure is typed, use a tag: “{measure}”").format(measure=measure)
        )
    fields, body, first_line = _front_matter(text, name)
    for offset, line in enumerate(body.split("\n")):
        if line.startswith("# "):
            raise LessonError(
                name, first_line + offset, _("the title belongs in the front matter; begin with ##")
            )
    book_name, book_line = _text(fields, "rulebook", name)
    page = Page(book_name, load, lapsed, _rules(fields, name, load))
    try:
        book = page.rulebook()
    except ValueError as error:
        raise LessonError(name, book_line, str(error)) from error
    md = markdown.Markdown(extensions=["sane_lists", "smarty"], output_format="html")
    # After white space is made even (30), which keeps the lines, and before HTML (20).
    md.preprocessors.register(_Tags(md, page, name, first_line), "lesson_tags", 25)
    html = md.convert(body)
    if missing := [key for key in page.teaches if key not in page.passages]:
        line = fields["rules"][1]
        raise LessonError(
            name, line, _("there is no passage on “{missing}”").format(missing=missing[0])
        )
    title = _text(fields, "title", name)[0]
    return Lesson(
        number=int(match["number"]),
        slug=match["slug"],
        title=title,
        summary=_text(fields, "summary", name)[0],
        track=_track(fields, name),
        exercises=_exercises(fields, "exercises", name),
        more=_exercises(fields, "more", name),
        rules=_passages(html, title),
        rulebook=book,
        body=mark_safe(html),  # the project's own files; tags escape their words
        words=count_words(html),
        books=tuple(page.used.values()),
        lapsed=tuple(book for book in page.used.values() if lapsed(book)),
        has_marks=page.has_marks,
        live=tuple(page.live),
    )


# File name to (time of its last change, Lesson).
_kept = {}


def _current(path, day):
    """Return the Lesson in ``path`` by the rules of ``day``, parsed only when either changed."""
    changed = path.stat().st_mtime_ns
    kept = _kept.get(path)
    if kept is not None and kept[0] == changed and _still(kept[1].books, kept[1].lapsed, day):
        return kept[1]
    lesson = by_rules_of(day, path)
    _kept[path] = (changed, lesson)
    return lesson


def by_rules_of(day, path):
    """
    Return the Lesson in ``path`` by the rules in force on the date ``day``.

    Where a rule set has no version for that day the lesson shows the nearest and says so.
    Raise LessonError as ``parse`` does.
    """
    return parse(
        path.read_text("utf-8"),
        path.name,
        lambda name: rulebooks.nearest(name, day),
        lambda book: is_lapsed(book, day),
    )


def _still(books, lapsed, day):
    """Return whether a lesson made from ``books`` would be made the same on the date ``day``."""
    return all(
        rulebooks.nearest(book.name, day) is book and is_lapsed(book, day) == (book in lapsed)
        for book in books
    )


# Folder to (what is in it and the rule sets of its lessons, the lessons): the last answer
# of all_lessons, which every page asks for.
_last = {}


def _listing(folder):
    with os.scandir(folder) as entries:
        return sorted((e.name, e.stat().st_mtime_ns) for e in entries if e.name.endswith(".md"))


def all_lessons(folder=FOLDER):
    """
    Return every Lesson in ``folder`` in order, by the rules in force today.

    Where a rule set has no version for today its nearest is shown, and marked.

    Raise LessonError for a file that cannot be used, or two of one number or slug.
    """
    day = timezone.localdate()
    listing = _listing(folder)
    if folder in _last:
        seen, books, lapsed, lessons = _last[folder]
        if seen == listing and _still(books, lapsed, day):
            return lessons
    lessons = tuple(_current(folder / name, day) for name, __ in listing)
    _refuse_twins(lessons)
    books = {book.name: book for lesson in lessons for book in lesson.books}
    lapsed = {book for lesson in lessons for book in lesson.lapsed}
    _last[folder] = (listing, tuple(books.values()), lapsed, lessons)
    return lessons


def _refuse_twins(lessons):
    for before, after in zip(lessons, lessons[1:], strict=False):
        if before.number == after.number:
            raise LessonError(f"{after.number:02}-{after.slug}.md", 1, _("its number is taken"))
    slugs = [lesson.slug for lesson in lessons]
    for lesson in lessons:
        if slugs.count(lesson.slug) > 1:
            raise LessonError(f"{lesson.number:02}-{lesson.slug}.md", 1, _("its slug is taken"))


def find(slug):
    """Return the Lesson called ``slug``; raise KeyError if there is none."""
    for lesson in all_lessons():
        if lesson.slug == slug:
            return lesson
    raise KeyError(slug)
