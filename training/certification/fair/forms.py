"""The forms of what makes an exam fair: opening one, signing, granting, asking, correcting."""

import uuid
from datetime import datetime

from django import forms
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.deck.fields import DayField, TimeField
from training.people import sight
from training.people.models import Group, User

from .. import reasons
from ..models import Grant, Requirements, Signature, Supervision
from .models import MOST_EXTRA
from .questions import LONGEST


class ReasonField(forms.CharField):
    """A reason in words: a few different ones at least."""

    def __init__(self, **kwargs):
        kwargs.setdefault("max_length", 1000)
        kwargs.setdefault("widget", forms.Textarea(attrs={"rows": 3}))
        kwargs.setdefault("error_messages", {"required": _("Enter the reason.")})
        super().__init__(**kwargs)

    def clean(self, value):
        return reasons.clean(super().clean(value))


class _OnceForm(forms.Form):
    """A form with a key of its own: sent twice, it does its work once."""

    key = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["key"].initial = uuid.uuid4


class SupervisionForm(_OnceForm):
    """An exam to open at a meeting: which, for whom, where, when."""

    requirements = forms.ModelChoiceField(
        Requirements.objects.none(),
        label=gettext_lazy("Certificate"),
        empty_label=gettext_lazy("Choose a certificate"),
        error_messages={"required": gettext_lazy("Choose the certificate.")},
    )
    group = forms.ModelChoiceField(
        Group.objects.none(),
        label=gettext_lazy("Group (optional)"),
        required=False,
        empty_label=gettext_lazy("Anyone who has the code"),
        help_text=gettext_lazy("With a group, only its members can use the code."),
    )
    place = forms.CharField(
        label=gettext_lazy("Where"),
        max_length=120,
        error_messages={"required": gettext_lazy("Enter the place, such as Net shed.")},
    )
    day = DayField(
        label=gettext_lazy("Day"),
        error_messages={"required": gettext_lazy("Enter the day, such as 7/1/2026.")},
    )
    begins = TimeField(
        label=gettext_lazy("From"),
        error_messages={
            "required": gettext_lazy("Enter when it starts, such as 6:30 PM."),
            "invalid": gettext_lazy("We could not read this time. Write it like 6:30 PM."),
        },
    )
    finishes = TimeField(
        label=gettext_lazy("To"),
        help_text=gettext_lazy("Every exam is turned in by then. Allow for extra time."),
        error_messages={
            "required": gettext_lazy("Enter when it ends, such as 8:00 PM."),
            "invalid": gettext_lazy("We could not read this time. Write it like 8:00 PM."),
        },
    )

    def __init__(self, *args, user, **kwargs):
        super().__init__(*args, **kwargs)
        self.user = user
        self.fields["requirements"].queryset = Requirements.objects.filter(is_open=True)
        self.fields["group"].queryset = sight.rows(Group.objects.all(), user)

    def clean(self):
        cleaned = super().clean()
        if not {"day", "begins", "finishes"} <= cleaned.keys():
            return cleaned
        for name, time in (("starts", "begins"), ("ends", "finishes")):
            cleaned[name] = timezone.make_aware(datetime.combine(cleaned["day"], cleaned[time]))
        if cleaned["ends"] <= cleaned["starts"]:
            self.add_error("finishes", _("The end is before the start. Change one of them."))
        elif cleaned["ends"] <= timezone.now():
            self.add_error("day", _("These hours are over. Enter a time to come."))
        elif requirements := cleaned.get("requirements"):
            room = (cleaned["ends"] - cleaned["starts"]).total_seconds() / 60
            if requirements.minutes and room < requirements.minutes:
                self.add_error(
                    "finishes",
                    _("The exam takes {minutes} minutes. Allow more time.").format(
                        minutes=requirements.minutes
                    ),
                )
        return cleaned

    def save(self):
        """Return the Supervision; the same form sent twice makes one."""
        names = ("requirements", "group", "place", "starts", "ends")
        found, __ = Supervision.objects.get_or_create(
            key=self.cleaned_data["key"],
            defaults={name: self.cleaned_data[name] for name in names} | {"by": self.user},
        )
        return found


class SignForm(forms.Form):
    """How the supervisor knows who took one exam."""

    how = forms.ChoiceField(
        label=gettext_lazy("Who took this exam"),
        choices=Signature.How.choices,
        widget=forms.RadioSelect,
        error_messages={"required": gettext_lazy("Choose how you know who took this exam.")},
    )


class GrantForm(forms.ModelForm):
    """Extra time or reading aloud for one person, by email."""

    email = forms.EmailField(
        label=gettext_lazy("Email of the person"),
        error_messages={"required": gettext_lazy("Enter the email the person signs in with.")},
    )
    reason = ReasonField(
        label=gettext_lazy("Reason"),
        help_text=gettext_lazy("Only the person and the staff read this."),
        required=True,
    )

    class Meta:
        model = Grant
        fields = ["requirements", "extra_percent", "read_aloud", "reason"]
        labels = {
            "requirements": gettext_lazy("Certificate"),
            "extra_percent": gettext_lazy("Extra time, percent (0 for none)"),
            "read_aloud": gettext_lazy("The exam can be read aloud"),
        }
        help_texts = {
            "extra_percent": gettext_lazy(
                "50 turns 30 minutes into 45. At most {MOST_EXTRA}."
            ).format(MOST_EXTRA=MOST_EXTRA),
            "read_aloud": gettext_lazy("Shows a button in the exam that reads the question aloud."),
        }

    field_order = ["email", "requirements", "extra_percent", "read_aloud", "reason"]

    def __init__(self, *args, user, **kwargs):
        super().__init__(*args, **kwargs)
        self.user = user

    def clean_email(self):
        found = sight.rows(User.objects.filter(is_active=True), self.user)
        person = found.filter(email=self.cleaned_data["email"].lower()).first()
        if person is None:
            raise forms.ValidationError(
                _("No person of yours has this email. Copy it from the list of trainees.")
            )
        if person == self.user:
            raise forms.ValidationError(_("Nobody grants this to themselves. Ask another person."))
        return person

    def save(self):
        """Return the Grant; the same again is kept once."""
        cleaned = self.cleaned_data
        person = cleaned["email"]
        fields = {name: cleaned[name] for name in self.Meta.fields}
        last = Grant.objects.filter(user=person, requirements=cleaned["requirements"]).last()
        if last and all(getattr(last, name) == value for name, value in fields.items()):
            return last
        return Grant.objects.create(user=person, by=self.user, **fields)


class AskForm(_OnceForm):
    """What a person asks about a result."""

    text = forms.CharField(
        label=gettext_lazy("Your question"),
        max_length=LONGEST,
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text=gettext_lazy("Name the question of the exam you mean, such as question 4."),
        error_messages={"required": gettext_lazy("Type your question.")},
    )


class ReplyForm(forms.Form):
    """What staff answer."""

    text = forms.CharField(
        label=gettext_lazy("Answer"),
        max_length=LONGEST,
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text=gettext_lazy("Only the person and the staff read this."),
        error_messages={"required": gettext_lazy("Type the answer.")},
    )


class ProposalForm(_OnceForm):
    """A new outcome for an exam, and why."""

    passed = forms.TypedChoiceField(
        label=gettext_lazy("The exam counts as"),
        choices=[("yes", "passed"), ("no", gettext_lazy("not passed"))],
        coerce=lambda value: value == "yes",
        widget=forms.RadioSelect,
        error_messages={"required": gettext_lazy("Choose the outcome.")},
    )
    reason = ReasonField(label=gettext_lazy("Reason (the person reads it)"))
    question = forms.ModelChoiceField(
        None,
        label=gettext_lazy("It follows from this question (optional)"),
        required=False,
        empty_label=gettext_lazy("No question"),
    )

    def __init__(self, *args, exam, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["question"].queryset = exam.questions.all()
        self.fields["question"].label_from_instance = lambda each: (
            f"{each.asked:%b} {each.asked.day}: {each.text[:60]}"
        )
        if not exam.questions.exists():
            del self.fields["question"]


class RefusalForm(forms.Form):
    """Why a proposed correction is turned down."""

    reason = ReasonField(label=gettext_lazy("Reason to turn it down (only staff read it)"))
