"""The forms of a check sheet, on the phone's page and without any script alike."""

import uuid
from typing import NamedTuple

from django import forms
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs.check.entry import NO, YES, read
from rigs.check.steps import QUESTIONS, steps
from rigs.requirements.questions import FLAG, ROW, Question
from rigs.rules import rulebook
from training.deck.fields import DayField

LONGEST_NOTES = 4000
UNMEASURED = gettext_lazy("Not measured")


def _book_choices():
    """
    Return every rule set for gear there ever was, with when it holds if that is not today.

    A sheet goes by the rules of its own day, which may be long past when it is sent.
    """
    today = timezone.localdate()
    return [(book.name, _book_title(book, today)) for book in gear_books(today)]


def gear_books(day):
    """Return each rule set for gear that there ever was, as it is nearest to the date ``day``."""
    names = {book.name for book in every_version()}
    return [rulebook.nearest(name, day) for name in sorted(names)]


def every_version():
    """Return every version of every rule set for gear."""
    books = [book for name in rulebook.names() for book in rulebook.versions(name)]
    return [book for book in books if book.lays_out_rig]


def _book_title(book, today):
    if rulebook.find_in_force(book.name, today):
        return book.title
    if book.effective_from > today:
        return _("{title} (from {date_text})").format(
            title=book.title, date_text=rulebook.date_text(book.effective_from)
        )
    return _("{title} (until {date_text})").format(
        title=book.title, date_text=rulebook.date_text(book.effective_to)
    )


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
        "inputmode": "decimal",
        "placeholder": UNMEASURED.lower(),
    }
    is_row = question.sort == ROW
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
    short to count comes to.
    """

    question: Question
    field: forms.BoundField
    problem: str
    is_unlikely: bool
    is_sure: bool
    so_far: str


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


class HeadForm(forms.Form):
    """Whose rig was checked, where and when, and by which rule set."""

    rulebook_name = forms.ChoiceField(label=gettext_lazy("Which rules?"), choices=_book_choices)
    vessel_name = forms.CharField(label=gettext_lazy("Vessel"), max_length=80)
    harbor = forms.CharField(label=gettext_lazy("Harbor"), max_length=80)
    position = forms.CharField(
        label=gettext_lazy("Position, if at sea (optional)"),
        max_length=80,
        required=False,
        help_text=gettext_lazy("As on the plotter, like 42 14.05 N 70 08.8 W."),
    )
    day = DayField(label=gettext_lazy("Day of the check"), initial=timezone.localdate)

    def clean_day(self):
        day = self.cleaned_data["day"]
        if day > timezone.localdate():
            raise forms.ValidationError(_("That date is in the future. Check it."))
        return day

    def clean(self):
        cleaned = super().clean()
        if {"day", "rulebook_name"} <= cleaned.keys():
            self._find_rules(cleaned["rulebook_name"], cleaned["day"])
        return cleaned

    def _find_rules(self, name, day):
        book = rulebook.find_in_force(name, day)
        if book is None or not book.lays_out_rig:
            title = rulebook.nearest(name, day).title
            self.add_error(
                "day",
                _(
                    "The rules “{title}” have no version for {date_text}. Check the day, or "
                    "choose other rules."
                ).format(title=title, date_text=rulebook.date_text(day)),
            )


class StartForm(HeadForm):
    """A new sheet; ``key`` makes the same form sent twice one sheet."""

    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)


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
        questions = tuple(q for step in steps(sheet.rulebook) for q in step.questions)
        super().__init__(*args, questions=questions, typed=sheet.typed, **kwargs)

    @property
    def head(self):
        """The fields about the check as a whole."""
        return [self[name] for name in HeadForm.base_fields]


class SaveForm(StartForm):
    """One save as a phone sends it, but for the answers."""

    user = forms.IntegerField()
    device = forms.UUIDField()
    number = forms.IntegerField(min_value=1, max_value=2**31 - 1)
    notes = forms.CharField(max_length=LONGEST_NOTES, required=False)
    hands_in = forms.BooleanField(required=False)

    MOST_PHOTOS = 20

    def _listed(self, name, kind):
        value = self.data.get(name)
        if not isinstance(value, kind):
            raise forms.ValidationError(
                _("The answers did not arrive whole. Send the sheet again.")
            )
        return value

    def clean(self):
        cleaned = super().clean()
        typed = self._listed("typed", dict)
        cleaned["typed"] = {
            name: typed[name][: question.longest]
            for question in QUESTIONS.values()
            for name in (question.name, question.sure)
            if isinstance(typed.get(name), str) and typed[name]
        }
        try:
            keys = [uuid.UUID(key) for key in self._listed("photo_keys", list)]
        except (ValueError, AttributeError, TypeError) as error:
            raise forms.ValidationError(
                _("The list of photos did not arrive whole. Send the sheet again.")
            ) from error
        if len(keys) > self.MOST_PHOTOS:
            raise forms.ValidationError(
                _("A sheet holds at most {MOST_PHOTOS} photos.").format(
                    MOST_PHOTOS=self.MOST_PHOTOS
                )
            )
        cleaned["photo_keys"] = [str(key) for key in keys]
        return cleaned
