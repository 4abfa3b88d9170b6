"""The form that narrows down and sorts the list of certificates issued."""

from django import forms
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy

from training.deck.codes import tidy_code
from training.deck.sorting import SearchField, SortBy, SortField, in_order

from .models import Requirements

SORTED = (
    SortBy("", gettext_lazy("issued, latest first"), ("-issued", "-pk")),
    SortBy("name", gettext_lazy("holder"), ("holder_name", "-issued", "-pk")),
    SortBy("expires", gettext_lazy("valid until, earliest first"), ("expires", "pk")),
)
RUNS, RAN_OUT = "runs", "ran-out"


class IssuedFilterForm(forms.Form):
    """Which certificates to list, and in which order; everything may be left empty."""

    text = SearchField(gettext_lazy("Holder or code"))
    requirements = forms.ModelChoiceField(
        Requirements.objects.all(),
        label=gettext_lazy("Certificate"),
        required=False,
        empty_label=gettext_lazy("All"),
    )
    until = forms.ChoiceField(
        label=gettext_lazy("Valid until"),
        required=False,
        choices=[
            ("", gettext_lazy("Any day")),
            (RUNS, gettext_lazy("A day to come")),
            (RAN_OUT, gettext_lazy("A day gone by")),
        ],
    )
    sort = SortField(SORTED)

    def found(self, certificates, now=None):
        """Return those of ``certificates``, a queryset, that fit at ``now``."""
        self.full_clean()
        told, now = self.cleaned_data, now or timezone.now()
        if text := told.get("text", ""):
            named = Q()
            for word in text.split():
                named &= Q(holder_name__icontains=word)
            certificates = certificates.filter(named | Q(code=tidy_code(text)))
        if requirements := told.get("requirements"):
            certificates = certificates.filter(exam__requirements=requirements)
        if told.get("until") == RUNS:
            certificates = certificates.filter(expires__gt=now)
        elif told.get("until") == RAN_OUT:
            certificates = certificates.filter(expires__lte=now)
        return in_order(certificates, self)

    @property
    def narrows(self):
        """Whether anything is asked for but an order."""
        return any(self.cleaned_data.get(name) for name in ("text", "requirements", "until"))
