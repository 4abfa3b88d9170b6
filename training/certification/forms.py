"""The forms for staff: a scheme with its tasks, and a correction."""

from django import forms
from django.db import transaction
from django.utils import timezone
from django.utils.text import slugify

from rigs import rulebook
from training.exercises import kinds
from training.exercises.kinds.base import EASIEST, HARDEST

from . import schemes
from .models import Correction, Scheme, SchemePart

LEVELS = range(EASIEST, HARDEST + 1)
MOST_TASKS = 40  # of one kind and level, as the model has it


def count_name(slug, difficulty):
    """Return the name of the field for how many tasks of a kind and level there are."""
    return f"count-{slug}-{difficulty}"


class SchemeForm(forms.ModelForm):
    """A scheme and how many tasks of each kind and level its papers have."""

    rulebooks = forms.MultipleChoiceField(
        label="Rule sets that exams are drawn from", widget=forms.CheckboxSelectMultiple
    )
    must_pass = forms.MultipleChoiceField(
        label="Rules that must be right",
        help_text="Every exam has a question on each. One mistake in any of them fails the exam.",
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )

    class Meta:
        model = Scheme
        fields = [
            "title",
            "track",
            "summary",
            "rulebooks",
            "must_pass",
            "pass_percent",
            "attempts_allowed",
            "waiting_days",
            "minutes",
            "months_valid",
            "after_erasure",
            "is_open",
        ]
        widgets = {"summary": forms.Textarea(attrs={"rows": 3}), "track": forms.RadioSelect}
        labels = {
            "summary": "What it is for (optional)",
            "minutes": "Time limit in minutes (optional)",
        }
        help_texts = {"minutes": "Leave blank for no limit."}

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        today = timezone.localdate()
        names = rulebook.gear_names(today)
        # One that it draws from already is shown even on a day for which it has no version.
        names += tuple(each for each in self.instance.rulebooks or () if each not in names)
        self.fields["track"].choices = Scheme.Track.choices
        self.fields["rulebooks"].choices = [
            (
                each,
                schemes.book_of(each).title
                + ("" if rulebook.find_in_force(each, today) else " (no version for today)"),
            )
            for each in names
        ]
        self.fields["must_pass"].choices = [
            (key, each.title) for key, each in schemes.requirements(names).items()
        ]
        saved = {}
        if self.instance.pk:
            saved = {(part.kind, part.difficulty): part for part in self.instance.parts.all()}
        self._saved = saved
        for kind in kinds.KINDS.values():
            for level in LEVELS:
                part = saved.get((kind.slug, level))
                self.fields[count_name(kind.slug, level)] = forms.IntegerField(
                    label=f"{kind.title}, level {level}",
                    min_value=0,
                    max_value=MOST_TASKS,
                    required=False,
                    initial=part.count if part else 0,
                    widget=forms.NumberInput(
                        attrs={"class": "form-control", "inputmode": "numeric"}
                    ),
                )

    @property
    def plain(self):
        """The fields that are not counts of tasks."""
        return [self[name] for name in self.Meta.fields]

    @property
    def grid(self):
        """The counts of tasks, as (title of the kind, its fields by level)."""
        return [
            (kind.title, [self[count_name(kind.slug, level)] for level in LEVELS])
            for kind in kinds.KINDS.values()
        ]

    @property
    def grid_errors(self):
        """What is wrong with the counts of tasks, as sentences."""
        found = list(self.non_field_errors())
        for _, fields in self.grid:
            found += [f"{field.label}: {error}" for field in fields for error in field.errors]
        return found

    def clean_title(self):
        title = self.cleaned_data["title"]
        slug = slugify(title)
        if not slug:
            raise forms.ValidationError("Use some letters or figures.")
        if not self.instance.pk and Scheme.objects.filter(slug=slug).exists():
            raise forms.ValidationError(
                "A certificate of this name exists already. Choose another name."
            )
        return title

    def parts(self):
        """Return the parts asked for, not saved, with at least one task each."""
        return [
            SchemePart(kind=slug, difficulty=level, count=count)
            for slug in kinds.KINDS
            for level in LEVELS
            if (count := self.cleaned_data.get(count_name(slug, level)))
        ]

    def clean(self):
        cleaned = super().clean()
        asked = {(part.kind, part.difficulty) for part in self.parts()}
        for place, part in self._saved.items():
            if place not in asked and part.judgements.exists():
                self.add_error(
                    count_name(*place), "Judges have given their view of these: keep at least one."
                )
        if not self.errors:
            try:
                schemes.blueprint(self.parts(), cleaned["rulebooks"], cleaned["must_pass"])
            except schemes.SchemeError as error:
                self.add_error(None, str(error))
        return cleaned

    @transaction.atomic
    def save(self):
        """Save the scheme and its parts; papers begun already keep the terms they had."""
        if not self.instance.pk:
            self.instance.slug = slugify(self.instance.title)
        scheme = super().save()
        asked = self.parts()
        for part in asked:
            scheme.parts.update_or_create(
                kind=part.kind, difficulty=part.difficulty, defaults={"count": part.count}
            )
        places = {(part.kind, part.difficulty) for part in asked}
        for place, part in self._saved.items():
            if place not in places:
                part.delete()
        return scheme


class CorrectionForm(forms.ModelForm):
    """A new outcome for a paper, and why."""

    passed = forms.TypedChoiceField(
        label="The exam counts as",
        choices=[("yes", "passed"), ("no", "not passed")],
        coerce=lambda value: value == "yes",
        widget=forms.RadioSelect,
    )

    class Meta:
        model = Correction
        fields = ["passed", "reason"]
        labels = {"reason": "Reason (the person reads it)"}
        widgets = {"reason": forms.Textarea(attrs={"rows": 3})}
