"""How people say on which vessel they fish."""

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from ..models import Crew, Vessel
from ..table.entries import plain_place, plain_registration


class OwnVesselForm(forms.ModelForm):
    """The vessel by its name or number, as its crew would say it."""

    vessel = forms.CharField(
        label=gettext_lazy("Name or registration number of the vessel"),
        max_length=200,
        widget=forms.TextInput(attrs={"autocomplete": "off", "list": "vessels"}),
    )

    class Meta:
        model = Crew
        fields = ["part"]
        labels = {"part": gettext_lazy("You work as")}

    field_order = ["vessel", "part"]

    def clean_vessel(self):
        name, __, harbor = self.cleaned_data["vessel"].partition(",")
        found = list(
            Vessel.objects.filter(name__iexact=name.strip(), is_fishing=True)
            | Vessel.objects.filter(registration__iexact=name.strip(), is_fishing=True)
        )
        number = [each for each in found if self._is_number(each, name)]
        if harbor.strip():
            found = [each for each in found if self._is_place(each, name, harbor)]
        if len(number) == 1 and not harbor.strip():
            return number[0]
        if not found:
            raise forms.ValidationError(
                _("No vessel found. Check the spelling, or ask staff to add it.")
            )
        if len(found) > 1:
            places = " or ".join(f"“{each.name}, {each.harbor}”" for each in found)
            raise forms.ValidationError(
                _("More than one vessel has that name. Write {places}.").format(places=places)
            )
        return found[0]

    def _is_number(self, vessel, text):
        number = plain_registration(text)
        return bool(number) and plain_registration(vessel.registration) == number

    def _is_place(self, vessel, name, harbor):
        return plain_place(vessel.name, vessel.harbor) == plain_place(name, harbor)
