"""One save of a sheet as a phone sends it, read with care."""

import uuid

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs.check import log
from rigs.check.steps import QUESTIONS

from .forms import LONGEST_NOTES
from .head_form import HEAD, StartForm, content_of_head
from .models import LONGEST_NAME

MOST_PHOTOS = 20
MOST_SIGNATURES = 6
MOST_POINTS = 6000
"""More than a finger leaves on the glass in one signature."""

LONGEST_REASON = 300
ROLES = ("officer", "skipper", "witness")
WIDE, HIGH = 1000, 300
"""The size of the field for a signature, in the units of its strokes."""


class Broken(forms.ValidationError):
    """A part of a save that is not as a phone of this site sends it."""

    def __init__(self):
        super().__init__(_("The answers did not arrive whole. Send the sheet again."))


def _texts(value, longest):
    """Return the texts by name in the object ``value``; what is empty is left out."""
    if not isinstance(value, dict) or len(value) > len(QUESTIONS) + 2 * MOST_PHOTOS:
        raise Broken
    if not all(isinstance(text, str) for text in value.values()):
        raise Broken
    return {name[:LONGEST_NAME]: text[:longest] for name, text in value.items() if text}


def _typed(value):
    if not isinstance(value, dict):
        raise Broken
    return {
        name: value[name][: question.longest]
        for question in QUESTIONS.values()
        for name in (question.name, question.sure)
        if isinstance(value.get(name), str) and value[name]
    }


def _photo_keys(value):
    try:
        keys = [str(uuid.UUID(key)) for key in value]
    except (ValueError, AttributeError, TypeError) as error:
        raise forms.ValidationError(
            _("The list of photos did not arrive whole. Send the sheet again.")
        ) from error
    if len(keys) > MOST_PHOTOS:
        raise forms.ValidationError(
            _("A sheet holds at most {MOST_PHOTOS} photos.").format(MOST_PHOTOS=MOST_PHOTOS)
        )
    return keys


def _readings(value):
    try:
        entries = log.parse(value)
    except ValueError as error:
        raise forms.ValidationError(str(error)) from error
    if any(
        len(part) > LONGEST_NAME for each in entries for part in (each.id, each.name, each.tool)
    ):
        raise Broken
    return [entry._asdict() for entry in entries]


def _stroke(points):
    """Return ``points`` as pairs of whole numbers inside the field."""
    return [[min(max(round(x), 0), WIDE), min(max(round(y), 0), HIGH)] for x, y in points]


def _signature(value):
    strokes = [_stroke(points) for points in value.get("strokes", [])]
    if value["role"] not in ROLES or sum(map(len, strokes)) > MOST_POINTS:
        raise Broken
    texts = {name: str(value.get(name, ""))[:LONGEST_NAME] for name in ("name", "at")}
    return {
        "role": value["role"],
        **texts,
        "strokes": strokes,
        "refused": bool(value.get("refused")),
    }


def _signatures(value):
    try:
        if len(value) > MOST_SIGNATURES:
            raise Broken
        return [_signature(each) for each in value]
    except (TypeError, ValueError, KeyError, AttributeError, OverflowError) as error:
        raise Broken from error


def _count(value):
    return value if isinstance(value, int) and 0 <= value < 2**15 else 0


def said(value):
    """Return what the phone ``value`` says it showed, as it is kept; {} if it says nothing."""
    if not isinstance(value, dict):
        return {}
    names = ("rulebook_version", "fishery_version", "page")
    found = {name: str(value.get(name) or "")[:LONGEST_NAME] for name in names}
    tally = value.get("tally")
    if isinstance(tally, dict):
        counts = ("outside", "within", "not_measured")
        found["tally"] = {name: _count(tally.get(name)) for name in counts}
    return found


def _fits(field, value):
    """Return whether ``value``, from JSON, is of the sort that ``field`` reads."""
    if value is None or isinstance(value, str) or isinstance(field, forms.JSONField):
        return True
    if isinstance(field, forms.BooleanField):
        return isinstance(value, bool)
    return isinstance(field, forms.IntegerField) and type(value) is int


class _Sent(forms.Form):
    """What a phone sends, with what is wrong in it in one line."""

    def __init__(self, sent):
        # A form reads texts: what came as anything else would fall over in its field.
        self.misfits = [
            name for name, field in self.base_fields.items() if not _fits(field, sent.get(name))
        ]
        super().__init__({**sent, **dict.fromkeys(self.misfits)})

    def clean(self):
        cleaned = super().clean()
        for name in self.misfits:
            self.errors[name] = self.error_class(Broken().messages)
        return cleaned

    @property
    def problems(self):
        """What is wrong in one line, each part under the name of its field."""
        labels = {name: field.label or name for name, field in self.fields.items()}
        return " ".join(
            f"{labels[name]}: {' '.join(errors)}" if name in labels else " ".join(errors)
            for name, errors in self.errors.items()
        )


class SaveForm(_Sent, StartForm):
    """
    One save as a phone sends it.

    A phone that kept its page from before sends no readings and none of what came with them.
    """

    user = forms.IntegerField()
    device = forms.UUIDField()
    number = forms.IntegerField(min_value=1, max_value=2**31 - 1)
    notes = forms.CharField(max_length=LONGEST_NOTES, required=False)
    hands_in = forms.BooleanField(required=False)
    boarding = forms.UUIDField(required=False)
    code = forms.CharField(max_length=40, required=False)

    # How each part of a save that is no single field is read, and what it is if missing.
    PARTS = {
        "typed": (_typed, None),
        "photo_keys": (_photo_keys, None),
        "reasons": (lambda value: _texts(value, LONGEST_REASON), {}),
        "photo_lines": (lambda value: _texts(value, LONGEST_NAME), {}),
        "signatures": (_signatures, []),
    }

    def __init__(self, sent):
        head = sent.get("head")
        texts = {name: head.get(name, "") for name in HEAD} if isinstance(head, dict) else {}
        super().__init__({**sent, **texts})

    def clean(self):
        cleaned = super().clean()
        for name, (reader, empty) in self.PARTS.items():
            self._read(name, reader, self.data.get(name, empty))
        if "readings" in self.data:
            self._read("readings", _readings, self.data["readings"])
        return cleaned

    def _read(self, name, reader, value):
        try:
            self.cleaned_data[name] = reader(value)
        except forms.ValidationError as problem:
            self.errors.setdefault(name, self.error_class()).extend(problem.messages)

    @property
    def content(self):
        """The content of the save, as ``keeping`` keeps it."""
        told = self.cleaned_data
        boarding = str(told["boarding"]) if told["boarding"] else ""
        names = ("notes", "code", "readings", *self.PARTS)
        parts = {name: told[name] for name in names if name in told}
        return content_of_head(self) | parts | {"boarding": boarding}

    @property
    def again_from(self):
        """The day from which the same save is no longer in the future, ISO text, or ""."""
        errors = self.errors.as_data().get("day", ())
        if not any(error.code == "future" for error in errors):
            return ""
        return self.fields["day"].clean(self.data["day"]).isoformat()


class ThrownForm(_Sent):
    """A sheet thrown away on the phone: which, why and when, and what was on it."""

    user = forms.IntegerField()
    key = forms.UUIDField()
    reason = forms.CharField(label=gettext_lazy("Reason"), max_length=LONGEST_REASON)
    at = forms.CharField(max_length=40, required=False)
    content = forms.JSONField(required=False)

    def clean_content(self):
        content = self.data.get("content")
        if not isinstance(content, dict):
            raise Broken
        return content
