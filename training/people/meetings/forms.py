"""What a person types who is at a session."""

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.deck.codes import tidy_code

from ..models import Session


class HereForm(forms.Form):
    """The code of a session; once it is valid, ``session`` is that session."""

    code = forms.CharField(
        label=gettext_lazy("Session code"),
        max_length=40,
        help_text=gettext_lazy("From the screen in the room, or from the poster."),
        widget=forms.TextInput(
            attrs={"autocomplete": "off", "autocapitalize": "characters", "spellcheck": "false"}
        ),
    )

    session = None
    has_wrong_code = False

    def clean_code(self):
        code = tidy_code(self.cleaned_data["code"])
        self.session = Session.objects.select_related("group").filter(code=code).first()
        if self.session is None:
            self.has_wrong_code = True
            raise forms.ValidationError(
                _("No session has this code. Look at the screen again, or ask the staff.")
            )
        return code
