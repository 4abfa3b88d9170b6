"""What a person decides about the data that are his."""

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.people import guessing, sharing
from training.people.forms import password_input
from training.people.models import SharingChoice


class SharingForm(forms.Form):
    """Who sees one's nets, and who one's catches."""

    nets = forms.ChoiceField(
        label=gettext_lazy("My nets and their plans"),
        choices=SharingChoice.Level.choices,
        widget=forms.RadioSelect,
        help_text=gettext_lazy(
            "The staff see which vessels have planned a net, and what trips people up."
        ),
    )
    catches = forms.ChoiceField(
        label=gettext_lazy("My tows and catches"),
        choices=SharingChoice.Level.choices,
        widget=forms.RadioSelect,
        help_text=gettext_lazy(
            "Catches with and without a sweep, summed over the fleet, show what it costs."
        ),
    )

    def __init__(self, user, *args, **kwargs):
        self.user = user
        super().__init__(*args, **kwargs)
        for what in SharingChoice.What:
            self.fields[what].initial = sharing.level_of(user, what)

    def save(self):
        """Keep what was chosen."""
        for what in SharingChoice.What:
            sharing.choose(self.user, what, self.cleaned_data[what])


class EraseForm(forms.Form):
    """Whoever is to be erased shows that it is he who asks."""

    password = forms.CharField(
        label=gettext_lazy("Your password"),
        strip=False,
        max_length=128,
        widget=password_input("current-password"),
    )
    sure = forms.BooleanField(
        label=gettext_lazy("I know that this cannot be undone"),
        error_messages={"required": gettext_lazy("Check this box to delete your account.")},
    )

    def __init__(self, request, *args, **kwargs):
        self.request = request
        super().__init__(*args, **kwargs)

    def clean_password(self):
        password = self.cleaned_data["password"]
        if not guessing.is_password_of(self.request, self.request.user, password):
            raise forms.ValidationError(_("Wrong password. Nothing was deleted. Try again."))
        return password
