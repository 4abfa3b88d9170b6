"""The forms about certificates."""

from django import forms

from training.fleet.codes import tidy_code

from .models import Certificate


class ShowNameForm(forms.ModelForm):
    """Whether a stranger with the code may read the holder's name."""

    class Meta:
        model = Certificate
        fields = ["show_name"]
        labels = {"show_name": "Show my name to whoever checks my certificate"}


class RevokeForm(forms.Form):
    """Why a certificate is taken back."""

    reason = forms.CharField(
        label="Why it is taken back",
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="The holder reads this. Strangers do not.",
        error_messages={"required": "Say why the certificate is taken back."},
    )


class CodeForm(forms.Form):
    """The code of a certificate, as somebody reads it off the paper."""

    code = forms.CharField(
        label="Code on the certificate",
        max_length=40,
        widget=forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "characters"}),
        error_messages={"required": "Type the code that stands on the certificate."},
    )

    def clean_code(self):
        code = tidy_code(self.cleaned_data["code"])
        if not (code.isascii() and code):
            raise forms.ValidationError("A code has letters and figures only.")
        return code


class ChangesForm(forms.Form):
    """
    What holds now, rule by rule, asked of somebody who has just read what changed.

    ``changed`` are BookChanges. A rule that reads the same before and now is not asked.
    """

    def __init__(self, *args, changed, **kwargs):
        super().__init__(*args, **kwargs)
        for book in changed:
            for rule in book.rules:
                # In order of the words, so that the place does not tell which is new.
                options = sorted({rule.before, rule.now})
                if len(options) > 1:
                    self.fields[f"{book.new.name}_{rule.key}"] = forms.ChoiceField(
                        label=f"{rule.title}: what holds now?",
                        choices=[(option, option) for option in options],
                        widget=forms.RadioSelect,
                        validators=[_holds(rule)],
                        error_messages={"required": "Choose what holds now."},
                    )


def _holds(rule):
    """Return a validator that refuses what held before ``rule`` changed."""

    def check(value):
        if value != rule.now:
            raise forms.ValidationError("That held before. Read the change above once more.")

    return check
