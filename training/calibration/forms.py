"""The forms of a round: what officers say of a rig, and what staff set up."""

import secrets

from django import forms
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs.rules import rulebook
from rigs.rules.lapse import is_lapsed
from training.deck.fields import DayField, RowsField
from training.exercises.handing import SEEDS
from training.people.models import Role, User

from .making import FEWEST_RIGS, MOST_RIGS
from .models import Call, Round, Turn


class CallForm(forms.Form):
    """An officer's verdict on one rig, and the rules it breaks."""

    verdict = forms.ChoiceField(
        label=gettext_lazy("Does this rig meet the rules?"),
        choices=[
            (Call.Verdict.PASSES, gettext_lazy("Yes, it meets every rule")),
            (Call.Verdict.FAILS, gettext_lazy("No, it breaks a rule")),
            (Call.Verdict.UNSURE, gettext_lazy("I cannot tell")),
        ],
        widget=forms.RadioSelect,
        error_messages={
            "required": gettext_lazy("Say whether it meets the rules, or that you cannot tell.")
        },
    )
    failing = forms.MultipleChoiceField(
        label=gettext_lazy("Which rules does it break?"),
        help_text=gettext_lazy(
            "None if it meets them all. Custom is not listed: it breaks no rule."
        ),
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )

    def __init__(self, *args, rig, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["failing"].choices = [(each.key, each.title) for each in rig.requirements]

    def clean(self):
        cleaned = super().clean()
        verdict, failing = cleaned.get("verdict"), cleaned.get("failing")
        if verdict == Call.Verdict.PASSES and failing:
            self.add_error(
                "verdict",
                _("You checked a rule that it breaks. One broken rule is enough for a no."),
            )
        if verdict == Call.Verdict.FAILS and not failing and not self.errors:
            self.add_error(
                "failing", _("Check every rule that it breaks, or say that you cannot tell.")
            )
        if verdict == Call.Verdict.UNSURE and failing:
            self.add_error(
                "verdict",
                _("You checked a rule that it breaks, so you can tell. Not sure? Uncheck it."),
            )
        return cleaned


class OfficersField(RowsField):
    """Officers to choose, by name."""

    widget = forms.CheckboxSelectMultiple

    def label_from_instance(self, person):
        return f"{person.name}, {person.email}"


def _officers():
    return User.objects.filter(role=Role.OFFICER, is_active=True)


class RoundForm(forms.ModelForm):
    """A new round: its rigs, and who is to judge them."""

    rulebook_name = forms.ChoiceField(
        label=gettext_lazy("Rule set"),
        help_text=gettext_lazy("The round keeps the version in force today."),
        widget=forms.RadioSelect,
    )
    seed = forms.IntegerField(
        label=gettext_lazy("Seed (optional)"),
        help_text=gettext_lazy("The same number makes the same rigs. Leave it empty to draw one."),
        min_value=0,
        max_value=SEEDS - 1,
        required=False,
        widget=forms.NumberInput(attrs={"inputmode": "numeric"}),
    )
    officers = OfficersField(
        label=gettext_lazy("Officers who judge"),
        queryset=User.objects.none(),
        error_messages={"required": gettext_lazy("Choose at least one officer.")},
    )
    key = forms.UUIDField(widget=forms.HiddenInput)

    class Meta:
        model = Round
        fields = ["title", "rulebook_name", "count", "drawn_percent", "due", "seed"]
        labels = {
            "count": gettext_lazy("How many rigs"),
            "drawn_percent": gettext_lazy("Drawn instead of described, percent"),
            "due": gettext_lazy("Turn in by (optional)"),
        }
        help_texts = {
            "count": gettext_lazy(
                "{FEWEST_RIGS} to {MOST_RIGS}. With few rigs some rules are never broken."
            ).format(FEWEST_RIGS=FEWEST_RIGS, MOST_RIGS=MOST_RIGS),
            "due": gettext_lazy("Officers see this day. The round stays open until you close it."),
        }
        widgets = {
            "count": forms.NumberInput(attrs={"inputmode": "numeric"}),
            "drawn_percent": forms.NumberInput(attrs={"inputmode": "numeric"}),
        }
        field_classes = {"due": DayField}

    field_order = ["title", "rulebook_name", "count", "drawn_percent", "officers", "due", "seed"]

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["officers"].queryset = _officers()
        today = timezone.localdate()
        self.fields["rulebook_name"].choices = [
            (book.name, book.title) for book in rulebook.gear_books(today)
        ]
        gone = [book.title for book in rulebook.nearest_gear_books(today) if is_lapsed(book, today)]
        if gone:
            self.fields["rulebook_name"].help_text = _(
                "These rules have no version for today: {gone}."
            ).format(gone="; ".join(gone))

    def clean_rulebook_name(self):
        name = self.cleaned_data["rulebook_name"]
        try:
            self._book = rulebook.in_force(name, timezone.localdate())
        except rulebook.RulebookError as error:
            raise forms.ValidationError(str(error)) from error
        return name

    @transaction.atomic
    def save(self):
        """Return the round, set up once for its key, with a turn for each officer."""
        values = {name: self.cleaned_data[name] for name in self.Meta.fields}
        values["rulebook_version"] = self._book.version
        if values["seed"] is None:
            values["seed"] = secrets.randbelow(SEEDS)
        round_, made = Round.objects.get_or_create(
            key=self.cleaned_data["key"],
            defaults={**values, "rulebook_version": self._book.version},
        )
        if made:
            add_officers(round_, self.cleaned_data["officers"])
        return round_


class ChangeForm(forms.ModelForm):
    """What can still be changed about a round: never its rigs."""

    officers = OfficersField(
        label=gettext_lazy("Add officers (optional)"), queryset=User.objects.none(), required=False
    )

    class Meta:
        model = Round
        fields = ["title", "due"]
        labels = {"due": RoundForm.Meta.labels["due"]}
        field_classes = RoundForm.Meta.field_classes

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        others = _officers().exclude(turns__round=self.instance)
        if others.exists():
            self.fields["officers"].queryset = others
        else:
            del self.fields["officers"]

    @transaction.atomic
    def save(self):
        """Save the round and add the officers; those who take part already stay."""
        round_ = super().save()
        add_officers(round_, self.cleaned_data.get("officers", ()))
        return round_


def add_officers(round_, officers):
    """Give each of ``officers`` a turn in ``round_``, unless there is one already."""
    Turn.objects.bulk_create(
        [Turn(round=round_, officer=officer) for officer in officers], ignore_conflicts=True
    )
