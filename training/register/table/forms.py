"""The forms of the steps from a file to the register."""

import uuid

from django import forms
from django.utils.functional import cached_property
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from rigs.words.units import UnitError, feet_inches

from . import asking, laying
from .columns import COLUMNS, HEADERS, LEFT_OUT, LENGTH_UNITS, RegisterError, check_columns
from .comparing import ASK
from .entries import NOT_SAID, Answers
from .matching import KnownBy
from .sizing import read_length
from .twins import NEW

LETTERS = 40  # of a cell that is shown as an example
WHY_WORDS = {
    KnownBy.KNOWN: "",
    KnownBy.BEFORE: gettext_lazy("As you chose before."),
    KnownBy.HEADING: gettext_lazy("A guess by the heading."),
    KnownBy.CELLS: gettext_lazy("A guess by the cells below it."),
    KnownBy.OPEN: "",
}
SHOWN = 3  # cells of a line that is offered as the one with the headings
ORDER_WORDS = {
    "mdy": gettext_lazy("Month first"),
    "dmy": gettext_lazy("Day first"),
    "ymd": gettext_lazy("Year first"),
}


class UploadForm(forms.Form):
    """A file; ``key`` makes the form sent twice read it once."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    file = forms.FileField(
        label=gettext_lazy("The register, as a CSV or XLSX file"),
        max_length=200,
        widget=forms.ClearableFileInput(attrs={"accept": ".csv,.txt,.xlsx"}),
        error_messages={
            "required": gettext_lazy("Choose a file first."),
            "empty": gettext_lazy("The file is empty."),
        },
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["key"].initial = uuid.uuid4


class LayForm(forms.Form):
    """Which sheet of ``draft`` it is, and which of its first rows has the headings."""

    sheet = forms.TypedChoiceField(label=gettext_lazy("Sheet"), coerce=int)
    top = forms.TypedChoiceField(label=gettext_lazy("Row with the headings"), coerce=int)

    def __init__(self, *args, draft, **kwargs):
        super().__init__(*args, **kwargs)
        sheets = [(index, name) for index, (name, __) in enumerate(draft.sheets)]
        self.fields["sheet"].choices = sheets
        self.initial = {"sheet": draft.sheet, "top": draft.top}
        if len(sheets) == 1:
            self.fields["sheet"].widget = forms.HiddenInput()
        lines = draft.sheets[draft.sheet][1] if draft.sheets else []
        self.fields["top"].choices = [
            *((line, _row_words(line, cells)) for line, cells in lines[: laying.LOOKED_AT][:-1]),
            (laying.NO_HEADINGS, _("None: the vessels begin in the first row")),
        ]


def _row_words(line, cells):
    some = ", ".join([cell for cell in cells if cell][:SHOWN])
    return _("Row {line}: {some}").format(line=line, some=some)


class ColumnsForm(forms.Form):
    """What each column of a file is; ``guesses`` say what each seems to be."""

    def __init__(self, *args, guesses, **kwargs):
        super().__init__(*args, **kwargs)
        self.guesses = guesses
        choices = [
            (LEFT_OUT, _("leave it out")),
            *((column.key, column.header) for column in COLUMNS),
        ]
        for guess in guesses:
            self.fields[_column_field(guess)] = forms.ChoiceField(
                label=_heading_words(guess),
                help_text=_cells_words(guess),
                choices=choices,
                required=False,
                initial=guess.key,
            )

    @cached_property
    def columns(self):
        """The place of each column by key, as it was chosen."""
        chosen = {}
        for guess in self.guesses:
            if key := self.cleaned_data.get(_column_field(guess)):
                chosen.setdefault(key, guess.place)
        return chosen

    def clean(self):
        cleaned = super().clean()
        taken = {}
        for guess in self.guesses:
            key = cleaned.get(_column_field(guess))
            if not key:
                continue
            if key in taken:
                told = _("You chose “{name}” for “{heading}” too. Choose it once.")
                told = told.format(name=HEADERS[key], heading=taken[key])
                self.add_error(_column_field(guess), told)
            taken.setdefault(key, guess.heading)
        if not self.errors:
            try:
                check_columns(self.columns)
            except RegisterError as error:
                self.add_error(None, str(error))
        return cleaned


def _column_field(guess):
    return f"column_{guess.place}"


def _heading_words(guess):
    if guess.heading:
        return f"“{guess.heading}”"
    return _("Column {number}, without a heading").format(number=guess.place + 1)


def _cells_words(guess):
    some = ", ".join(_short(cell) for cell in guess.examples)
    told = _("Such as: {some}.").format(some=some) if some else _("No cell below it is filled in.")
    return f"{told} {WHY_WORDS[guess.why]}".strip()


def _short(cell):
    return cell if len(cell) <= LETTERS else f"{cell[:LETTERS]}..."


class AnswersForm(forms.Form):
    """
    Asks for what is ``unclear``; ``choices`` has what words may mean, by column.

    What is clear by itself or was answered ``before`` is chosen already.
    """

    unit = forms.ChoiceField(widget=forms.RadioSelect)
    order = forms.ChoiceField(widget=forms.RadioSelect)

    def __init__(self, *args, unclear, choices, today, before=None, **kwargs):
        super().__init__(*args, **kwargs)
        self.unclear = unclear
        self._ask_unit(unclear)
        self._ask_order(unclear, today)
        words = before.words if before else {}
        for number, word in enumerate(unclear.words):
            self.fields[f"word_{number}"] = forms.ChoiceField(
                label=_word_label(word),
                required=False,
                initial=words.get(word.key, {}).get(word.text.casefold(), word.guess),
                choices=_word_choices(word, choices[word.key]),
            )
        if before:
            self.initial = {"unit": before.unit, "order": before.order}

    def _ask_unit(self, unclear):
        if not unclear.lengths:
            del self.fields["unit"]
            return
        field = self.fields["unit"]
        some = ", ".join(unclear.lengths)
        field.label = _("Lengths such as {some} have no unit. What are they in?").format(some=some)
        field.choices = [
            (unit, _unit_words(unclear.lengths[0], unit, name))
            for unit, name in LENGTH_UNITS.items()
        ]
        field.initial = unclear.unit

    def _ask_order(self, unclear, today):
        if not unclear.order.choices:
            del self.fields["order"]
            return
        field = self.fields["order"]
        field.label = _("How are the dates written?")
        field.choices = [
            (order, _order_words(order, *shown))
            for order, *shown in asking.order_examples(unclear, today)
        ]
        field.initial = unclear.order.order

    @property
    def answers(self):
        """The Answers that were given, with what was clear."""
        words = {}
        for number, word in enumerate(self.unclear.words):
            if said := self.cleaned_data[f"word_{number}"]:
                words.setdefault(word.key, {})[word.text.casefold()] = said
        return Answers(
            unit=self.cleaned_data.get("unit") or self.unclear.unit,
            order=self.cleaned_data.get("order") or self.unclear.order.order,
            words=words,
        )


def _unit_words(example, unit, name):
    try:
        told = feet_inches(read_length(example, unit), 4)
    except UnitError:
        return name
    if unit == "ft":
        return _("{name}: {example} is {told}").format(name=name, example=example, told=told)
    return _("{name}: {example} is {example} m, or {told}").format(
        name=name, example=example, told=told
    )


def _order_words(order, line, cell, day, ahead):
    told = _("{name}: {cell} in line {line} is {day}").format(
        name=ORDER_WORDS[order], cell=cell, line=line, day=day
    )
    if not ahead:
        return told
    future = ngettext(
        "({ahead} date would be in the future)", "({ahead} dates would be in the future)", ahead
    )
    return f"{told} {future.format(ahead=ahead)}"


def _word_label(word):
    told = ngettext(
        "{heading}: what does “{text}” mean? ({rows} row)",
        "{heading}: what does “{text}” mean? ({rows} rows)",
        word.rows,
    )
    return told.format(heading=HEADERS[word.key].capitalize(), text=word.text, rows=word.rows)


def _word_choices(word, choices):
    if word.key == "harbor":
        new = _("a new harbor, “{text}”").format(text=word.text)
        return [*((each, each) for each in choices), (word.text, new)]
    return [
        ("", _("not clear: refuse these rows")),
        (NOT_SAID, _("nothing: an empty cell")),
        *choices,
    ]


class TwinsForm(forms.Form):
    """Asks of each of ``outcomes`` that looks like a vessel that is there whether it is."""

    def __init__(self, *args, outcomes, **kwargs):
        super().__init__(*args, **kwargs)
        for outcome in outcomes:
            if outcome.does == ASK:
                self.fields[f"line_{outcome.line}"] = forms.ChoiceField(
                    label=_("Line {line}: {name}, {harbor}").format(
                        line=outcome.line, name=outcome.name, harbor=outcome.harbor
                    ),
                    required=False,
                    widget=forms.RadioSelect,
                    choices=[*_twin_choices(outcome), (NEW, _("a new vessel: add it"))],
                )

    @property
    def decided(self):
        """What was said, by line; rows of which nothing was said are not in it."""
        said = {name.removeprefix("line_"): text for name, text in self.cleaned_data.items()}
        return {line: text for line, text in said.items() if text}


def _twin_choices(outcome):
    return [(said, _("the same as {words}").format(words=words)) for said, words in outcome.twins]
