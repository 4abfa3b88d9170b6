"""Form fields that read what people write on deck and clean to SI."""

from django import forms
from django.utils.translation import gettext as _

from rigs.physics.chain import STOCKS
from rigs.words import guards
from rigs.words.say import gettext_lazy
from rigs.words.units import (
    INCH,
    UnitError,
    feet_inches,
    parse_length,
    parse_mass,
    parse_speed,
    split_list,
)

from .numbers import whole_number

_LONGEST_TEXT = 200

NO_PLACES = "none"
"""What people write for an empty list of places."""

YES, NO = gettext_lazy("Yes"), gettext_lazy("No")
NOT_LOOKED_AT = gettext_lazy("Not looked at yet")
NOT_MEASURED = gettext_lazy("Not measured yet")


class DeckField(forms.CharField):
    """
    A field for a measure in the words of the deck; cleans to SI, None if left empty.

    ``bare`` is the unit of a number written without one.
    """

    read = None  # how the text is parsed

    def __init__(self, *, bare, **options):
        self.bare = bare
        attrs = {"autocapitalize": "none", "spellcheck": "false"}
        options.setdefault("widget", forms.TextInput(attrs=attrs))
        options.setdefault("max_length", _LONGEST_TEXT)
        super().__init__(**options)

    def clean(self, value):
        text = super().clean(value)
        if not text:
            return None
        try:
            measure = type(self).read(text, self.bare)
        except UnitError as error:
            raise forms.ValidationError(str(error)) from error
        self.check(measure)
        return measure

    def check(self, measure):
        """Raise ValidationError for a measure that cannot be."""


class DayField(forms.DateField):
    """A date, picked or typed: ``7/1/2026`` or ``July 1, 2026``."""

    default_error_messages = {
        "invalid": gettext_lazy("We could not read this date. Write it like 7/1/2026.")
    }

    def __init__(self, **options):
        options.setdefault("widget", forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"))
        super().__init__(**options)


class TimeField(forms.TimeField):
    """A time of day, picked or typed: ``6:30 PM``."""

    def __init__(self, **options):
        widget = forms.TimeInput(attrs={"type": "time"}, format="%H:%M")
        # Browsers send the first.
        options.setdefault("input_formats", ("%H:%M", "%H:%M:%S", "%I:%M %p", "%I:%M%p"))
        options.setdefault("widget", widget)
        super().__init__(**options)


class LengthField(DeckField):
    """A length; cleans to metres. ``positive`` refuses zero, ``least`` anything shorter."""

    read = staticmethod(parse_length)

    def __init__(self, *, bare="ft", positive=True, least=0.0, **options):
        self.positive, self.least = positive, least
        super().__init__(bare=bare, **options)

    def check(self, measure):
        if self.positive and measure <= 0:
            raise forms.ValidationError(_("Enter more than zero."))
        if measure < self.least:
            raise forms.ValidationError(
                _("That is {feet_inches}, shorter than on any net. Check the unit.").format(
                    feet_inches=feet_inches(measure)
                )
            )
        if reason := guards.too_long(measure):
            raise forms.ValidationError(reason)


class MassField(DeckField):
    """A weight as a scale shows it; cleans to kilograms."""

    read = staticmethod(parse_mass)

    def __init__(self, *, bare="lb", **options):
        super().__init__(bare=bare, **options)


class SpeedField(DeckField):
    """A speed; cleans to metres per second."""

    read = staticmethod(parse_speed)

    def __init__(self, *, bare="kn", **options):
        super().__init__(bare=bare, **options)


def _read_place(part, bare):
    if part.startswith("-"):
        return -parse_length(part.removeprefix("-"), bare)
    return parse_length(part, bare)


class PlacesField(DeckField):
    """
    Distances one after another, such as ``8 ft, 16 ft``; cleans to a list of metres.

    A minus in front makes one less than nothing; ``none`` makes the list empty.
    """

    @staticmethod
    def read(text, bare):
        if text.strip().lower() == NO_PLACES:
            return []
        return [_read_place(part, bare) for part in split_list(text)]

    def __init__(self, *, bare="ft", **options):
        super().__init__(bare=bare, **options)

    def check(self, measure):
        if any(guards.too_long(abs(place)) for place in measure):
            raise forms.ValidationError(_("One of these is longer than any net. Check the unit."))


def _flag(text):
    return {"yes": True, "no": False}[text]


class YesNoField(forms.TypedChoiceField):
    """Yes, no, or not looked at yet; cleans to True, False or None."""

    def __init__(self, *, yes=YES, no=NO, unknown=NOT_LOOKED_AT, **options):
        super().__init__(
            choices=[("", unknown), ("yes", yes), ("no", no)],
            coerce=_flag,
            empty_value=None,
            **{"required": False} | options,
        )


class ChainField(forms.TypedChoiceField):
    """A size of chain that is sold; cleans to its nominal size in metres."""

    def __init__(self, *, stocks=None, unknown=NOT_MEASURED, **options):
        names = [stock.name for stock in (STOCKS.values() if stocks is None else stocks)]
        super().__init__(
            choices=[
                ("", unknown),
                *((name, _("{name} chain").format(name=name)) for name in names),
            ],
            coerce=lambda name: STOCKS[name].size,
            empty_value=None,
            required=False,
            **options,
        )


class RowsField(forms.ModelMultipleChoiceField):
    """Some rows of those that are offered."""

    default_error_messages = {
        "invalid_pk_value": gettext_lazy("One of these is not on the list. Choose again.")
    }

    def _check_values(self, value):
        # Of several numbers the database is asked as they come, and SQLite takes none so long.
        if any(whole_number(str(each)) is None for each in value):
            raise forms.ValidationError(self.error_messages["invalid_pk_value"], "invalid_pk_value")
        return super()._check_values(value)


class InchesField(LengthField):
    """A small length, inches unless it says otherwise; cleans to metres."""

    def __init__(self, *, positive=True, **options):
        super().__init__(bare="in", positive=positive, **options)

    def check(self, measure):
        super().check(measure)
        if measure > 1200 * INCH:
            raise forms.ValidationError(_("That is more than 100 ft. Check the unit."))
