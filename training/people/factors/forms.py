"""Showing who one is: by the code of a phone, or by the password."""

from django import forms
from django.contrib.auth import authenticate
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from ..forms import password_input
from . import devices

PROOF = "proof"
"""The field's name, which no other form has: it goes along with what another form sent."""


def code_input():
    """Return an input for a code, that phones fill in by themselves where they can."""
    # Not the keyboard of numbers: a spare code has letters.
    return forms.TextInput(
        attrs={
            "autocomplete": "one-time-code",
            "autocapitalize": "characters",
            "spellcheck": "false",
        }
    )


class CodeProofForm(forms.Form):
    """The code of the phone of ``user``, or a spare code."""

    by_code = True

    proof = forms.CharField(
        label=gettext_lazy("Code from your phone"),
        max_length=40,
        help_text=gettext_lazy(
            "The 6 digits that your code app shows now. No phone? Type one of your spare codes."
        ),
        widget=code_input(),
    )

    def __init__(self, request, user, *args, **kwargs):
        self.user = user
        super().__init__(*args, **kwargs)

    @property
    def used_spare(self):
        """Whether the code, which was right, was a spare one."""
        return devices.is_spare(self.cleaned_data["proof"])

    def clean_proof(self):
        typed = self.cleaned_data["proof"]
        tried = devices.check(self.user, typed)
        if tried is devices.Tried.WAIT:
            raise forms.ValidationError(
                _("Too soon after a wrong code. Wait a little, then type the code shown by then.")
            )
        if tried is devices.Tried.WRONG:
            raise forms.ValidationError(
                _(
                    "That code is wrong or was used already. From your phone: wait for the next "
                    "one, and check that the time on your phone is right. A spare code: type it "
                    "as you wrote it down, or take another."
                )
            )
        return typed


class PasswordProofForm(forms.Form):
    """The password of ``user``, who has no phone that makes codes; guesses are counted."""

    by_code = used_spare = False

    proof = forms.CharField(
        label=gettext_lazy("Your password"),
        strip=False,
        max_length=128,
        widget=password_input("current-password"),
    )

    def __init__(self, request, user, *args, **kwargs):
        self.request, self.user = request, user
        super().__init__(*args, **kwargs)

    def clean_proof(self):
        typed = self.cleaned_data["proof"]
        found = authenticate(self.request, username=self.user.email, password=typed)
        if found is None or found.pk != self.user.pk:
            raise forms.ValidationError(_("That is not your password. Try again."))
        return typed


class SetUpForm(forms.Form):
    """The first code that the phone of ``user`` makes of ``key``; then ``spare`` has new codes."""

    spare = ()

    code = forms.CharField(
        label=gettext_lazy("Code from your phone"),
        max_length=40,
        help_text=gettext_lazy("The 6 digits that your code app shows now."),
        widget=forms.TextInput(attrs={"autocomplete": "one-time-code", "inputmode": "numeric"}),
    )

    def __init__(self, user, key, *args, **kwargs):
        self.user, self.key = user, key
        super().__init__(*args, **kwargs)

    def clean_code(self):
        typed = self.cleaned_data["code"]
        self.spare = devices.set_up(self.user, self.key, typed)
        if self.spare is None:
            raise forms.ValidationError(
                _(
                    "That is not the code of this picture. Wait for the next one, and check that "
                    "the time on your phone is right."
                )
            )
        return typed


def proof_form(request, data=None):
    """Return the form by which the person of ``request`` shows who they are."""
    kind = CodeProofForm if devices.has(request.user) else PasswordProofForm
    return kind(request, request.user, data)
