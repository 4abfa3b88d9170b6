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
    """Name, address and role; for staff, by staff of the whole fleet, whom they look after."""

    whole_fleet = forms.BooleanField(
        label=gettext_lazy("For staff: the whole fleet"),
        help_text=gettext_lazy("Sees everybody, and changes rule sets and pass marks."),
        required=False,
    )
    harbors = forms.MultipleChoiceField(
        label=gettext_lazy("For staff: only these harbors"),
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

    field_order = ["name", "email", "role", "whole_fleet", "harbors", "is_active"]

    def __init__(self, *args, by, **kwargs):
        super().__init__(*args, **kwargs)
        self.by = by
        self.fields["role"].choices = keeping.roles_for(by)
        if self.instance.is_staff and "is_active" in self.fields:
            self.fields["is_active"].help_text = _(
                "Uncheck it to close the account. A second person has to agree. Its record stays."
            )
        if by.sees_whole_fleet:
            self.fields["harbors"].choices = [(name, name) for name in keeping.all_harbors()]
            if self.instance.pk:
                self.initial["whole_fleet"] = self.instance.whole_fleet
                self.initial["harbors"] = [each.harbor for each in self.instance.reaches.all()]
        else:
            del self.fields["whole_fleet"], self.fields["harbors"]

    def validate_unique(self):
        # Staff held to harbors are not told which emails have an account.
        if self.by.sees_whole_fleet:
            super().validate_unique()

    def clean(self):
        cleaned = super().clean()
        if "harbors" in self.fields and "role" in cleaned:
            self._clean_reach(cleaned)
        return cleaned

    def _clean_reach(self, cleaned):
        """Refuse a reach that is in doubt: staff have the whole fleet or harbors, others none."""
        whole, harbors = cleaned.get("whole_fleet"), cleaned.get("harbors")
        if cleaned["role"] != Role.STAFF:
            if whole:
                self.add_error(
                    "whole_fleet", _("This is for staff. Choose the role staff, or uncheck it.")
                )
            if harbors:
                self.add_error(
                    "harbors", _("Harbors are for staff. Choose the role staff, or uncheck them.")
                )
        elif whole and harbors:
            self.add_error(
                "harbors", _("Check the whole fleet, or some harbors. Uncheck one of the two.")
            )
        elif not whole and not harbors and "harbors" not in self.errors:
            self.add_error("harbors", _("Check the whole fleet, or at least one harbor."))


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

    field_order = ["key", "name", "email", "role", "group", "whole_fleet", "harbors"]

    def __init__(self, *args, by, **kwargs):
        super().__init__(*args, by=by, **kwargs)
        group = self.fields["group"]
        group.queryset = keeping.groups_for(by)
        if not by.sees_whole_fleet:
            # They mail a link to join a group (``inviting``): the group gives the role.
            group.required, group.empty_label = True, _("Choose a group")
            del self.fields["role"]


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
