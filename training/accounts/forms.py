"""The account of somebody as staff change it, an invitation, and the list narrowed down."""

from django import forms
from django.db.models import Q
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.deck.sorting import SearchField
from training.people.forms import email_input
from training.people.models import Group, Role, User

from . import keeping

UNUSABLE = "!"
"""How the password of an account begins that has none, as Django keeps it."""


class AccountForm(forms.ModelForm):
    """Name, address and role; for staff, by staff of the whole fleet, the harbors too."""

    harbors = forms.MultipleChoiceField(
        label=gettext_lazy("For staff: only these harbors"),
        help_text=gettext_lazy("None checked: the whole fleet."),
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )

    class Meta:
        model = User
        fields = ["name", "email", "role", "is_active"]
        widgets = {"email": email_input()}
        labels = {"is_active": gettext_lazy("May sign in")}
        help_texts = {
            "is_active": gettext_lazy("Uncheck it to close the account. Its record stays.")
        }
        error_messages = {
            "email": {"unique": gettext_lazy("Another account has this email already.")}
        }

    field_order = ["name", "email", "role", "harbors", "is_active"]

    def __init__(self, *args, by, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["role"].choices = keeping.roles_for(by)
        if by.sees_whole_fleet:
            self.fields["harbors"].choices = [(name, name) for name in keeping.all_harbors()]
            if self.instance.pk:
                self.initial["harbors"] = [each.harbor for each in self.instance.reaches.all()]
        else:
            del self.fields["harbors"]

    def clean(self):
        cleaned = super().clean()
        if cleaned.get("harbors") and cleaned.get("role") not in (Role.STAFF, None):
            self.add_error(
                "harbors", _("Harbors are for staff. Choose the role staff, or uncheck them.")
            )
        return cleaned


class InviteForm(AccountForm):
    """Somebody new; ``key`` comes with the form, so that a double tap invites once."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    group = forms.ModelChoiceField(
        Group.objects.none(),
        label=gettext_lazy("Group"),
        empty_label=gettext_lazy("No group"),
        required=False,
    )

    class Meta(AccountForm.Meta):
        fields = ["name", "email", "role"]

    field_order = ["key", "name", "email", "role", "group", "harbors"]

    def __init__(self, *args, by, **kwargs):
        super().__init__(*args, by=by, **kwargs)
        group = self.fields["group"]
        group.queryset = keeping.groups_for(by)
        # Or staff held to a harbor would not see whom they invited.
        group.required = not by.sees_whole_fleet


class AccountsForm(forms.Form):
    """Which accounts to list; everything may be left empty."""

    STATES = (
        ("", gettext_lazy("All accounts")),
        ("open", gettext_lazy("May sign in")),
        ("invited", gettext_lazy("No password yet")),
        ("closed", gettext_lazy("Closed")),
    )

    name = SearchField(gettext_lazy("Name or email"))
    role = forms.ChoiceField(
        label=gettext_lazy("Role"),
        choices=[("", gettext_lazy("All roles")), *Role.choices],
        required=False,
    )
    state = forms.ChoiceField(label=gettext_lazy("State"), choices=STATES, required=False)

    def narrowed(self, found):
        """Return those of ``found``, people, whom the form asks for."""
        self.full_clean()
        told = self.cleaned_data
        for word in told.get("name", "").split():
            found = found.filter(Q(name__icontains=word) | Q(email__icontains=word))
        if told.get("role"):
            found = found.filter(role=told["role"])
        return {
            "open": found.filter(is_active=True).exclude(password__startswith=UNUSABLE),
            "invited": found.filter(is_active=True, password__startswith=UNUSABLE),
            "closed": found.filter(is_active=False),
        }.get(told.get("state"), found)
