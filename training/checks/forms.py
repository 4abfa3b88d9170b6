"""The forms of a check sheet, on the phone's page and without any script alike."""

import uuid
from typing import NamedTuple

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs.check.entry import NO, YES, read
from rigs.check.log import Logged
from rigs.check.steps import steps
from rigs.requirements.questions import DAY, FLAG, NAMES, ROW, Question

from .head_form import HeadForm

LONGEST_NOTES = 4000
UNMEASURED = gettext_lazy("Not measured")


def _field(question):
    if question.sort == FLAG:
        return forms.ChoiceField(
            label=question.label,
            choices=[(YES, _("Yes")), (NO, _("No")), ("", UNMEASURED)],
            widget=forms.RadioSelect,
            required=False,
            help_text=question.help,
        )
    attrs = {
        "class": "form-control",
        "autocapitalize": "none",
        "autocomplete": "off",
        "spellcheck": "false",
        "inputmode": "text" if question.sort in (DAY, NAMES) else "decimal",
        "placeholder": UNMEASURED.lower(),
    }
    is_row = question.sort in (ROW, NAMES)
    return forms.CharField(
        label=question.label,
        max_length=question.longest,
        widget=forms.Textarea(attrs | {"rows": 4}) if is_row else forms.TextInput(attrs),
        required=False,
        help_text=question.help,
    )


class QuestionOnForm(NamedTuple):
    """
    A Question with its field on a form.

    ``problem`` is why the answer could not be read; ``is_unlikely`` says whether to ask if
    it is right, ``is_sure`` whether its writer has said so; ``so_far`` is what a row too
    short to count comes to. ``beside`` are the fields that stand beside it where there are
    any, ``entries`` what was read so far, each with what it comes to.
    """

    question: Question
    field: forms.BoundField
    problem: str
    is_unlikely: bool
    is_sure: bool
    so_far: str
    beside: list[forms.BoundField] = []
    entries: list[tuple[Logged, str]] = []


class QuestionsForm(forms.Form):
    """
    Answers to ``questions``; ``typed`` are all the answers the sheet had before.

    An answer may turn on another: a length in links on the size of its chain.
    """

    def __init__(self, *args, questions, typed=None, **kwargs):
        self.questions, self.before = questions, typed or {}
        kwargs.setdefault("initial", {}).update(self.before)
        super().__init__(*args, **kwargs)
        for question in questions:
            self.fields[question.name] = _field(question)
            if question.usual:
                # What is ticked sends the answer back, so that it is sure of that one alone.
                self.fields[question.sure] = forms.CharField(
                    max_length=question.longest, required=False
                )

    @property
    def asked(self):
        """The questions with their fields, in their order."""
        typed = self.typed
        found = read(typed)
        return [
            QuestionOnForm(
                question,
                self[question.name],
                " ".join(self.errors.get(question.name, ())) or found.unread.get(question.name, ""),
                question.name in found.unlikely,
                question.sure in typed,
                found.so_far.get(question.name, ""),
            )
            for question in self.questions
        ]

    @property
    def typed(self):
        """All the answers of the sheet as typed, with those of this form in their place."""
        if not self.is_bound:
            return self.before
        told = {name: self._told(name) for q in self.questions for name in (q.name, q.sure)}
        for question in self.questions:
            if told[question.sure] != told[question.name]:
                told[question.sure] = ""
        return {name: text for name, text in (self.before | told).items() if text}

    def _told(self, name):
        return self.cleaned_data.get(name, "").replace("\r\n", "\n")

    def clean(self):
        cleaned = super().clean()
        unread = read(self.typed).unread
        for question in self.questions:
            if question.name in unread:
                self.errors[question.name] = self.error_class([unread[question.name]])
        return cleaned


class NotesForm(forms.Form):
    """What else there is to say, and a photo."""

    notes = forms.CharField(
        label=gettext_lazy("Notes (optional)"),
        max_length=LONGEST_NOTES,
        required=False,
        widget=forms.Textarea(attrs={"rows": 4}),
    )
    photo = forms.FileField(
        label=gettext_lazy("Add a photo (optional)"),
        required=False,
        widget=forms.ClearableFileInput(attrs={"accept": "image/*"}),
        help_text=gettext_lazy("We make it smaller and remove the location."),
    )
    photo_key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)


class CorrectionForm(HeadForm, QuestionsForm):
    """A sheet that was turned in, corrected, with the reason why."""

    notes = forms.CharField(
        label=gettext_lazy("Notes (optional)"),
        max_length=LONGEST_NOTES,
        required=False,
        widget=forms.Textarea(attrs={"rows": 4}),
    )
    reason = forms.CharField(
        label=gettext_lazy("Reason for the correction"),
        max_length=300,
        help_text=gettext_lazy("The sheet as it was turned in stays in its history."),
    )

    def __init__(self, *args, sheet, **kwargs):
        questions = tuple(q for step in steps(sheet.books) for q in step.questions)
        super().__init__(*args, questions=questions, typed=sheet.typed, **kwargs)
