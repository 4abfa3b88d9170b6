"""What one says of each rule of a net."""

from django import forms

from .comparing import SAID, UNSURE


class PredictionForm(forms.Form):
    """A choice for each of ``findings``; what is left alone is not sure."""

    key = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, findings, *args, **kwargs):
        super().__init__(*args, **kwargs)
        for finding in findings:
            self.fields[f"said_{finding.key}"] = forms.ChoiceField(
                label=finding.title,
                choices=[(each, each.capitalize()) for each in SAID],
                initial=UNSURE,
                required=False,
                widget=forms.RadioSelect,
            )

    @property
    def rules(self):
        """The fields of the rules, without the key."""
        return [self[name] for name in self.fields if name != "key"]

    @property
    def said(self):
        """What was said, by key of the requirement."""
        return {
            name.removeprefix("said_"): value or UNSURE
            for name, value in self.cleaned_data.items()
            if name != "key"
        }
