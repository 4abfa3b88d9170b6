"""The answer to drawings that are measured: what is said of each rule, and what was measured."""

from typing import NamedTuple

from django import forms
from django.utils.translation import gettext as _

from rigs.plan.limits import star
from rigs.words import units
from rigs.words.say import gettext_lazy
from rigs.words.units import FATHOM, UnitError

from .base import EASIEST, AnswerForm, Picture

WITHIN, OUTSIDE, UNTOLD = "within", "outside", "untold"
WORDS = {
    WITHIN: "met",
    OUTSIDE: "broken",
    UNTOLD: gettext_lazy("cannot tell from the drawing"),
}
CHOICES = [
    (WITHIN, gettext_lazy("Met")),
    (OUTSIDE, gettext_lazy("Broken")),
    (UNTOLD, gettext_lazy("Cannot tell")),
]


class AskedOfSheet(NamedTuple):
    """One rule asked: its Requirement, what is told of it, and its two fields."""

    requirement: object
    allowed: str
    how: str
    said: object
    size: object


class SheetPart(NamedTuple):
    """One sheet with what is asked beside it; ``tool`` is what the measuring tool must know."""

    number: int
    sheet: object
    picture: Picture
    tool: dict
    questions: tuple[AskedOfSheet, ...]

    @property
    def tool_id(self):
        return f"measure-{self.sheet.name}"

    @property
    def resolution_text(self):
        """How finely the tool measures on a small screen, enlarged as far as it goes."""
        return self.sheet.say(self.sheet.resolution())


class MeasuringForm(AnswerForm):
    """For each rule asked one of three answers, and how much it measures if it is broken."""

    measurements = forms.CharField(
        label=gettext_lazy("Your measurements"),
        required=False,
        max_length=6000,
        help_text=gettext_lazy("If you like: one on each line. They are saved with your answer."),
        widget=forms.Textarea(attrs={"rows": 4, "autocomplete": "off", "spellcheck": "false"}),
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        for key in self.task.keys:
            title = self.task.rulebook.requirement(key).title
            self.fields[f"said_{key}"] = forms.ChoiceField(
                label=title,
                choices=CHOICES,
                widget=forms.RadioSelect,
                error_messages={"required": _("Choose one of the three answers.")},
            )
            self.fields[f"size_{key}"] = forms.CharField(
                label=_("How much does it measure?"),
                required=False,
                max_length=40,
                widget=forms.TextInput(
                    attrs={
                        "class": "form-control",
                        "autocomplete": "off",
                        "spellcheck": "false",
                        "aria-describedby": f"size_{key}_told",
                    }
                ),
            )

    def clean(self):
        cleaned = super().clean()
        for key in self.task.keys:
            name = f"size_{key}"
            text = cleaned.get(name, "")
            cleaned[name] = None
            if text.strip() and cleaned.get(f"said_{key}") == OUTSIDE:
                try:
                    cleaned[name] = units.parse_length(text, bare=None)
                except UnitError as error:
                    self.add_error(name, str(error))
        return cleaned

    @property
    def sections(self):
        """The sheets drawn, as SheetParts."""
        for number, name in enumerate(self.task.sheets, 1):
            sheet = self.task.drawn(name)
            keys = [key for at, key in self.task.asked if at == name]
            yield SheetPart(
                number=number,
                sheet=sheet,
                picture=Picture(sheet.title, sheet.scene()),
                tool=tool_of(sheet),
                questions=tuple(map(self._question, keys)),
            )

    def _question(self, key):
        requirement = self.task.rulebook.requirement(key)
        # Where the limit is nought, the title says it all.
        tells = self.task.difficulty == EASIEST and requirement.limit != 0
        return AskedOfSheet(
            requirement=requirement,
            allowed=star(requirement, requirement.allowed_text) if tells else "",
            how=requirement.measure.on_drawing,
            said=self[f"said_{key}"],
            size=self[f"size_{key}"],
        )


def tool_of(sheet):
    """Return what the measuring tool must know of ``sheet``, as plain values."""
    return {
        "sheet": sheet.name,
        "metresPerUnit": sheet.metres_per_unit(),
        "metresPerFathom": FATHOM if sheet.in_fathoms else None,
        "under": sheet.under,
        "zooms": sheet.zooms,
        "points": [[round(x, 2), name] for x, name in sheet.points],
    }
