"""The requirements of a certificate as plain values: compared, kept, put into force."""

from types import SimpleNamespace
from typing import NamedTuple

from django.db.models import ProtectedError
from django.utils.translation import gettext as _

from . import blueprints
from .models import Requirements, RequirementsPart

FIELDS = (
    "title",
    "track",
    "summary",
    "rulebooks",
    "must_pass",
    "must_asked",
    "must_slips",
    "pass_percent",
    "minutes",
    "attempts_allowed",
    "waiting_days",
    "months_valid",
    "after_erasure",
    "is_open",
)
PARTS = "parts"


class TermsError(ValueError):
    """Requirements that cannot be put into force; the message says why."""


def of_parts(parts):
    """Return ``parts``, RequirementsParts or their like, as plain values."""
    return [[part.kind, part.difficulty, part.count] for part in parts]


def of_requirements(requirements, parts=None):
    """
    Return the requirements of ``requirements`` as a dict that JSON can hold.

    ``parts`` are those saved unless given.
    """
    values = {name: getattr(requirements, name) for name in FIELDS}
    return values | {PARTS: of_parts(requirements.parts.all() if parts is None else parts)}


def like_requirements(terms, slug=""):
    """Return unsaved requirements to compose exams of, from ``terms``."""
    parts = [
        RequirementsPart(kind=kind, difficulty=level, count=n) for kind, level, n in terms[PARTS]
    ]
    values = {name: terms[name] for name in FIELDS}
    return SimpleNamespace(slug=slug, parts=SimpleNamespace(all=lambda: parts), **values)


def put_into_force(requirements, terms):
    """
    Save ``terms`` as the requirements of ``requirements``; exams begun already keep theirs.

    Call it in a transaction. Raise TermsError if questions would go that judges of the
    passing score have given their view of.
    """
    for name in FIELDS:
        setattr(requirements, name, terms[name])
    requirements.save()
    asked = {(kind, level): count for kind, level, count in terms[PARTS]}
    for (kind, level), count in asked.items():
        requirements.parts.update_or_create(kind=kind, difficulty=level, defaults={"count": count})
    for part in requirements.parts.all():
        if (part.kind, part.difficulty) not in asked:
            try:
                part.delete()
            except ProtectedError as error:
                raise TermsError(
                    _(
                        "Judges have estimated “{title}”, level {difficulty}: keep at least one "
                        "such question."
                    ).format(title=blueprints.title_of_kind(part.kind), difficulty=part.difficulty)
                ) from error


class TermChange(NamedTuple):
    """What one requirement was and is, in words; ``was`` is empty for a new certificate."""

    name: str
    was: str
    now: str


def differences(was, now):
    """Return the TermChanges between two dicts of requirements; ``was`` may be empty."""
    found = [
        TermChange(_label(name), _say(name, was) if was else "", _say(name, now))
        for name in FIELDS
        if not was or was[name] != now[name]
    ]
    before, after = (_counts(terms) for terms in (was, now))
    for place in [*before, *(each for each in after if each not in before)]:
        if before.get(place) != after.get(place):
            kind, level = place
            title = blueprints.title_of_kind(kind)
            was_text, now_text = (str(counts.get(place, 0)) for counts in (before, after))
            name = _("{title}, level {level}").format(title=title, level=level)
            found.append(TermChange(name, was_text if was else "", now_text))
    return found


def _counts(terms):
    return {(kind, level): count for kind, level, count in terms.get(PARTS, ())}


def _label(name):
    label = str(Requirements._meta.get_field(name).verbose_name)
    return label[:1].upper() + label[1:]


def _say(name, terms):
    value = terms[name]
    if name == "rulebooks":
        return ", ".join(blueprints.book_of(each).title for each in value)
    if name == "must_pass":
        return "; ".join(blueprints.title_of(key, terms["rulebooks"]) for key in value) or "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if choices := Requirements._meta.get_field(name).choices:
        return str(dict(choices).get(value, value))
    return "none" if value in (None, "") else str(value)
