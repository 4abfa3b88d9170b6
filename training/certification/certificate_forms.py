"""The forms about certificates."""

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.deck.codes import tidy_code

from .fair.forms import ReasonField
from .models import Certificate


class ShowNameForm(forms.ModelForm):
    """Whether a stranger with the code may read the holder's name."""

    class Meta:
        model = Certificate
        fields = ["show_name"]
        labels = {"show_name": gettext_lazy("Show my name to anyone who checks my certificate")}


class RevokeForm(forms.Form):
    """Why a certificate is taken back."""

    reason = ReasonField(
        label=gettext_lazy("Reason for withdrawing it"),
        help_text=gettext_lazy("The holder reads this. Strangers do not."),
    )


class CertificateCodeForm(forms.Form):
    """The code of a certificate, as somebody reads it off the exam."""

    code = forms.CharField(
        label=gettext_lazy("Code on the certificate"),
        max_length=40,
        widget=forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "characters"}),
        error_messages={"required": gettext_lazy("Type the code printed on the certificate.")},
    )

    def clean_code(self):
        code = tidy_code(self.cleaned_data["code"])
        if not (code.isascii() and code):
            raise forms.ValidationError(_("A code has only letters and digits."))
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
                        label=_("{title}: what is the rule now?").format(title=rule.title),
                        choices=[(option, option) for option in options],
                        widget=forms.RadioSelect,
                        validators=[_holds(rule)],
                        error_messages={"required": _("Choose the rule as it is now.")},
                    )


def _holds(rule):
    """Return a validator that refuses what held before ``rule`` changed."""

    def check(value):
        if value != rule.now:
            raise forms.ValidationError(_("That was the old rule. Read the change above again."))

    return check
