"""What staff enter of a group."""

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.deck.codes import check_chosen, new_code, tidy_code
from training.deck.fields import RowsField
from training.people import sight
from training.people.models import Group


class GroupForm(forms.ModelForm):
    """A group: its name, its harbor, what its members are, and the code to join."""

    code = forms.CharField(
        label=gettext_lazy("Code to join"),
        max_length=40,
        required=False,
        help_text=gettext_lazy("Leave it empty for a new code. Only letters and figures count."),
    )

    class Meta:
        model = Group
        fields = ["name", "harbor", "role", "code"]
        labels = {
            "name": gettext_lazy("Name of the group"),
            "harbor": gettext_lazy("Harbor (optional)"),
            "role": gettext_lazy("Members sign up as"),
        }
        help_texts = {"role": gettext_lazy("Anyone who has the code gets this role.")}
        error_messages = {
            "name": {"unique": gettext_lazy("There is a group of this name. Choose another name.")}
        }

    def __init__(self, *args, user, known, **kwargs):
        """``known`` are the harbors to offer; staff held to some choose one of theirs."""
        super().__init__(*args, **kwargs)
        if self.instance.pk:
            self.fields["code"].help_text = _(
                "With another code, the old one and its picture stop working. Members stay."
            )
        held = sight.harbors_of(user)
        if held is not None:
            self.fields["harbor"] = forms.ChoiceField(
                label=_("Harbor"), choices=[(each, each) for each in sorted(held)]
            )
        else:
            self.known = known
            self.fields["harbor"].widget.attrs |= {"list": "known-harbors", "autocomplete": "off"}

    known = ()

    def clean_code(self):
        code = tidy_code(self.cleaned_data["code"])
        if not code:
            return new_code()
        if Group.objects.filter(code=code).exclude(pk=self.instance.pk).exists():
            raise forms.ValidationError(_("Another group has this code. Choose another one."))
        # One from before may be on posters: it goes on until somebody changes it.
        if code != self.initial.get("code"):
            check_chosen(code, self.cleaned_data.get("name", ""), self.data.get("harbor", ""))
        return code


class MovingForm(forms.Form):
    """Whom of a group to move, and where to."""

    DEEDS = [
        ("add", gettext_lazy("Put them into another group too")),
        ("move", gettext_lazy("Move them to another group")),
        ("out", gettext_lazy("Take them out of this group")),
    ]

    people = RowsField(None, error_messages={"required": gettext_lazy("Check at least one name.")})
    deed = forms.ChoiceField(label=gettext_lazy("What to do"), choices=DEEDS)
    to = forms.ModelChoiceField(None, label=gettext_lazy("The other group"), required=False)

    def __init__(self, *args, members, groups, **kwargs):
        """``members`` and ``groups`` are querysets of those to choose from."""
        super().__init__(*args, **kwargs)
        self.fields["people"].queryset = members
        self.fields["to"].queryset = groups

    def clean(self):
        cleaned = super().clean()
        if cleaned.get("deed") in {"add", "move"} and not cleaned.get("to"):
            self.add_error("to", _("Choose the other group."))
        return cleaned
