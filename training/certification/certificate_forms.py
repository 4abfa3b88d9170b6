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


class ReadForm(forms.Form):
    """The holder has read what changed."""

    read = forms.BooleanField(
        label="I have read each change and know what holds now",
        error_messages={"required": "Tick this once you have read every change."},
    )
