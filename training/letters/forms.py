"""What staff write: a letter, and a text that letters begin from."""

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.deck.plain import listed

from . import gaps
from .models import Letter, LetterText

SHORT = 600
"""Letters in a text message at most: about four of those that a phone sends as one."""


def braced(names):
    """Return gaps as they are typed: ``{name}, {site}``."""
    return ", ".join(f"{{{name}}}" for name in names)


def check_gaps(text, known):
    """Raise ValidationError if ``text`` has a gap that is not ``known``, or half of one."""
    if unknown := gaps.unknown(text, known):
        raise forms.ValidationError(
            _("We do not know {unknown}. You can use {known}.").format(
                unknown=braced(unknown), known=braced(known)
            )
        )
    if set("{}") & set(gaps.GAP.sub("", text)):
        raise forms.ValidationError(
            _("There is a { or a } without its other half. Write a gap like {name}.")
        )


class GapsField(forms.CharField):
    """A text with gaps; ``known`` is set by its form."""

    known = ()

    def clean(self, value):
        text = super().clean(value).replace("\r\n", "\n")
        check_gaps(text, self.known)
        return text


class WriteForm(forms.Form):
    """A letter to those that the address names; ``key`` keeps it from going out twice."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    subject = GapsField(label=gettext_lazy("Subject"), max_length=150)
    body = GapsField(
        label=gettext_lazy("Letter"), max_length=5000, widget=forms.Textarea(attrs={"rows": 12})
    )

    def __init__(self, *args, known, means, **kwargs):
        super().__init__(*args, **kwargs)
        if means == Letter.Means.PHONE:
            del self.fields["subject"]
            body = self.fields["body"]
            body.label, body.max_length = _("Message"), SHORT
            body.widget.attrs |= {"rows": 5, "maxlength": SHORT}
        for name in self.fields:
            self.fields[name].known = known
        self.fields["body"].help_text = _("These gaps are filled for each person: {gaps}").format(
            gaps=braced(known)
        )


class TextForm(forms.ModelForm):
    """A text that letters begin from."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    subject = GapsField(label=gettext_lazy("Subject of the email"), max_length=150)
    body = GapsField(
        label=gettext_lazy("Email"), max_length=5000, widget=forms.Textarea(attrs={"rows": 12})
    )
    brief = GapsField(
        label=gettext_lazy("The same as a text message (optional)"),
        max_length=SHORT,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
    )

    class Meta:
        model = LetterText
        fields = ["title", "subject", "body", "brief"]
        labels = {"title": gettext_lazy("Name of this text, for the staff")}

    field_order = ["key", "title", "subject", "body", "brief"]

    def __init__(self, *args, known, needs=(), **kwargs):
        super().__init__(*args, **kwargs)
        self.needs = needs
        for name in ("subject", "body", "brief"):
            self.fields[name].known = known
        self.fields["body"].help_text = _("Gaps that are filled for each person: {gaps}").format(
            gaps=braced(known)
        )

    def clean(self):
        cleaned = super().clean()
        written = cleaned.get("subject", "") + cleaned.get("body", "")
        missing = [gap for gap in self.needs if gap not in gaps.gaps_in(written)]
        if missing and "body" in cleaned:
            self.add_error(
                "body",
                _("This text needs {gaps}. Put it back in.").format(
                    gaps=listed([f"{{{gap}}}" for gap in missing])
                ),
            )
        return cleaned
