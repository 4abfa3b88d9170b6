"""The form on which a judge says what to expect of a candidate who is only just good enough."""

from django import forms
from django.utils.translation import gettext as _

from .blueprints import title_of_kind


class JudgementForm(forms.Form):
    """One field a part of a set of requirements: the share of marks expected, in percent."""

    def __init__(self, *args, parts, **kwargs):
        super().__init__(*args, **kwargs)
        self.parts = list(parts)
        for part in self.parts:
            tasks = (
                "1 question" if part.count == 1 else _("{count} questions").format(count=part.count)
            )
            self.fields[f"part_{part.pk}"] = forms.DecimalField(
                label=_("{title_of}, level {difficulty} ({tasks}), percent").format(
                    title_of=title_of_kind(part.kind), difficulty=part.difficulty, tasks=tasks
                ),
                min_value=0,
                max_value=100,
                decimal_places=1,
                widget=forms.NumberInput(attrs={"inputmode": "decimal"}),
                error_messages={
                    "required": _("Enter a number from 0 to 100."),
                    "invalid": _("This is not a number. Write it like 65."),
                    "min_value": _("A share of points cannot be below 0 percent."),
                    "max_value": _("A share of points cannot be above 100 percent."),
                },
            )

    @property
    def shares(self):
        """What was entered, as a dict of part to share from 0 to 1."""
        return {part: float(self.cleaned_data[f"part_{part.pk}"]) / 100 for part in self.parts}
