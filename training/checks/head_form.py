"""Whose rig was checked, where, when, by whom and by which rules: the head of a sheet."""

import uuid
from contextlib import suppress
from datetime import datetime

from django import forms
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs.check import whole
from rigs.rules import rulebook
from rigs.words.days import clock
from rigs.words.positions import PositionError, parse_position
from training.deck.fields import DayField

HEAD = {
    "vessel_number": gettext_lazy("Number on the hull"),
    "permit": gettext_lazy("Permit number"),
    "net": gettext_lazy("Net"),
    "skipper": gettext_lazy("Skipper"),
    "tape": gettext_lazy("Held the tape"),
    "witness": gettext_lazy("Witness"),
    "started": gettext_lazy("Started"),
    "ended": gettext_lazy("Ended"),
    "wet": gettext_lazy("Wet or dry"),
}
"""What of the head is kept together, texts: how each is called on the sheet."""

VESSELS = "known-vessels"
"""The list of vessels on the page, from which a name can be picked."""

WET, DRY = "wet", "dry"


def every_version():
    """Return every version of every rule set for gear."""
    books = [book for name in rulebook.names() for book in rulebook.versions(name)]
    return [book for book in books if book.lays_out_rig]


def _nearest(books, day):
    return [rulebook.nearest(name, day) for name in sorted({book.name for book in books})]


def _choices(books, none):
    """
    Return the rule sets among ``books``, with when each holds if that is not today.

    A sheet goes by the rules of its own day, which may be long past when it is sent. Nothing
    is chosen beforehand.
    """
    today = timezone.localdate()
    return [("", none), *((b.name, _book_title(b, today)) for b in _nearest(books, today))]


def _book_choices():
    return _choices(every_version(), _("Choose the rules"))


def _fishery_choices():
    return _choices(whole.every_fishery(), _("None: check the gear alone"))


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


def _text(label, longest=80, help_text="", **attrs):
    return forms.CharField(
        label=label,
        max_length=longest,
        required=False,
        help_text=help_text,
        widget=forms.TextInput({"autocomplete": "off", **attrs}),
    )


def _time(label):
    return forms.RegexField(
        r"^([01]\d|2[0-3]):[0-5]\d$",
        label=label,
        required=False,
        widget=forms.TimeInput({"type": "time"}, format="%H:%M"),
        error_messages={"invalid": gettext_lazy("Write the time like 07:45 or 16:30.")},
    )


class HeadForm(forms.Form):
    """The head of a sheet: it can be changed until the sheet is turned in."""

    rulebook_name = forms.ChoiceField(
        label=gettext_lazy("Which rules?"),
        choices=_book_choices,
        error_messages={"required": gettext_lazy("Choose the rules to check by.")},
    )
    fishery_name = forms.ChoiceField(
        label=gettext_lazy("Which fishery? (optional)"),
        choices=_fishery_choices,
        required=False,
        help_text=gettext_lazy("Adds the trip: letter, season, area, mesh and what is kept."),
    )
    vessel_name = forms.CharField(
        label=gettext_lazy("Vessel"),
        max_length=80,
        widget=forms.TextInput({"list": VESSELS, "autocomplete": "off"}),
    )
    vessel_number = _text(gettext_lazy("Number on the hull (optional)"), 40)
    permit = _text(gettext_lazy("Permit number (optional)"), 40)
    net = _text(
        gettext_lazy("Which net? (optional)"), 40, gettext_lazy("If there are several: Net 1.")
    )
    day = DayField(label=gettext_lazy("Day of the check"), initial=timezone.localdate)
    at_sea = forms.BooleanField(
        label=gettext_lazy("The check is at sea"),
        required=False,
        help_text=gettext_lazy("At sea give the position, in port the harbor."),
    )
    harbor = forms.CharField(label=gettext_lazy("Harbor"), max_length=80, required=False)
    position = _text(
        gettext_lazy("Position"), 80, gettext_lazy("As on the plotter, like 42 14.05 N 70 08.8 W.")
    )
    skipper = _text(gettext_lazy("Skipper (optional)"))
    tape = _text(gettext_lazy("Who held the tape? (optional)"))
    witness = _text(gettext_lazy("Witness (optional)"))
    started = _time(gettext_lazy("Started at (optional)"))
    ended = _time(gettext_lazy("Ended at (optional)"))
    wet = forms.ChoiceField(
        label=gettext_lazy("Was the net wet or dry? (optional)"),
        choices=[
            ("", gettext_lazy("Not recorded")),
            (WET, gettext_lazy("Wet")),
            (DRY, gettext_lazy("Dry")),
        ],
        required=False,
    )

    @property
    def head(self):
        """What of the head is kept together, by name; what is empty is left out."""
        return {name: self.cleaned_data[name] for name in HEAD if self.cleaned_data[name]}

    @property
    def of_the_check(self):
        """The fields about the check as a whole, in their order."""
        return [self[name] for name in HeadForm.base_fields]

    def clean_day(self):
        day = self.cleaned_data["day"]
        if day > timezone.localdate():
            raise forms.ValidationError(_("That date is in the future. Check it."), code="future")
        return day

    def clean(self):
        cleaned = super().clean()
        for name in ("rulebook_name", "fishery_name"):
            if "day" in cleaned and cleaned.get(name):
                self._find_rules(cleaned[name], cleaned["day"])
        if not self.errors and cleaned.get("fishery_name"):
            self._find_fishery(cleaned)
        self._find_place(cleaned)
        return cleaned

    def _find_fishery(self, cleaned):
        names = cleaned["rulebook_name"], cleaned["fishery_name"]
        try:
            whole.books_on(*names, cleaned["day"])
        except rulebook.RulebookError as error:
            self.add_error("fishery_name", str(error))

    def _find_rules(self, name, day):
        if rulebook.find_in_force(name, day) is None:
            title = rulebook.nearest(name, day).title
            self.add_error(
                "day",
                _(
                    "The rules “{title}” have no version for {date_text}. Check the day, or "
                    "choose other rules."
                ).format(title=title, date_text=rulebook.date_text(day)),
            )

    def _find_place(self, cleaned):
        """Ask for the position at sea, one that can be read, and for the harbor in port."""
        at_sea, position = cleaned.get("at_sea"), cleaned.get("position", "")
        if at_sea and not position:
            self.add_error("position", _("Give the position, like 42 14.05 N 70 08.8 W."))
        if position:
            try:
                parse_position(position)
            except PositionError as error:
                self.add_error("position", str(error))
        if not at_sea and not cleaned.get("harbor") and "harbor" not in self.errors:
            self.add_error("harbor", _("Give the harbor. At sea, check that box instead."))


class StartForm(HeadForm):
    """A new sheet; ``key`` makes the same form sent twice one sheet."""

    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)


def content_of_head(form):
    """Return what the valid HeadForm ``form`` says, as part of the content of a save."""
    told = form.cleaned_data
    names = ("rulebook_name", "fishery_name", "vessel_name", "day", "at_sea", "position")
    return {name: told[name] for name in names} | {"harbor": told["harbor"], "head": form.head}


def head_words(head):
    """Return (label, words) of the parts of ``head`` that are there, in their order."""
    return [
        (str(label), _told(name, text)) for name, label in HEAD.items() if (text := head.get(name))
    ]


def _told(name, text):
    """Return in words what stands under ``name`` in a head."""
    if name == "wet":
        return {WET: _("wet"), DRY: _("dry")}.get(text, text)
    if name in ("started", "ended"):
        with suppress(ValueError):  # a phone of another version may write it otherwise
            return clock(datetime.strptime(text, "%H:%M"))
    return text
