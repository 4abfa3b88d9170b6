"""The forms for staff: a set of requirements with its tasks, and an answer to a change."""

import uuid

from django import forms
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs.rules import rulebook
from training.exercises import kinds

from . import blueprints, reasons, terms
from .models import MOST_QUESTIONS, Requirements, RequirementsPart
from .spread import RequirementsError


def count_name(slug, difficulty):
    """Return the name of the field for how many tasks of a kind and level there are."""
    return f"count-{slug}-{difficulty}"


class RequirementsForm(forms.ModelForm):
    """
    The requirements of a certificate, to be proposed with a reason.

    ``plan`` are the Slots of what was typed, None if no exam can be made of it.
    """

    rulebooks = forms.MultipleChoiceField(
        label=gettext_lazy("Rule sets that exams are drawn from"),
        widget=forms.CheckboxSelectMultiple,
    )
    must_pass = forms.MultipleChoiceField(
        label=gettext_lazy("Rules that must be right"),
        help_text=gettext_lazy("More slips than you allow in any of them fail the exam."),
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )
    reason = forms.CharField(
        label=gettext_lazy("Reason for the change (staff read it)"),
        widget=forms.Textarea(attrs={"rows": 3}),
    )
    key = forms.UUIDField(widget=forms.HiddenInput)

    class Meta:
        model = Requirements
        fields = terms.FIELDS
        widgets = {"summary": forms.Textarea(attrs={"rows": 3}), "track": forms.RadioSelect}
        labels = {
            "summary": gettext_lazy("What it is for (optional)"),
            "minutes": gettext_lazy("Time limit in minutes (optional)"),
        }
        help_texts = {"minutes": gettext_lazy("Leave blank for no limit.")}

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        today = timezone.localdate()
        self.plan = None
        self.fields["key"].initial = uuid.uuid4()
        names = rulebook.gear_names(today)
        # One that it draws from already is shown even on a day for which it has no version.
        names += tuple(each for each in self.instance.rulebooks or () if each not in names)
        self.fields["track"].choices = Requirements.Track.choices
        self.fields["rulebooks"].choices = [
            (
                each,
                blueprints.book_of(each).title
                + ("" if rulebook.find_in_force(each, today) else _(" (no version for today)")),
            )
            for each in names
        ]
        self.fields["must_pass"].choices = [
            (key, each.title) for key, each in blueprints.requirements(names).items()
        ]
        saved = {}
        if self.instance.pk:
            saved = {(part.kind, part.difficulty): part for part in self.instance.parts.all()}
        self._saved = saved
        for kind in kinds.KINDS.values():
            for level in blueprints.LEVELS:
                part = saved.get((kind.slug, level))
                self.fields[count_name(kind.slug, level)] = forms.IntegerField(
                    label=_("{title}, level {level}").format(title=kind.title, level=level),
                    min_value=0,
                    max_value=MOST_QUESTIONS,
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
            (kind.title, [self[count_name(kind.slug, level)] for level in blueprints.LEVELS])
            for kind in kinds.KINDS.values()
        ]

    @property
    def grid_errors(self):
        """What is wrong with the counts of tasks, as sentences."""
        found = list(self.non_field_errors())
        for __, fields in self.grid:
            found += [f"{field.label}: {error}" for field in fields for error in field.errors]
        return found

    def clean_title(self):
        title = self.cleaned_data["title"]
        slug = slugify(title)
        if not slug:
            raise forms.ValidationError(_("Use some letters or figures."))
        if not self.instance.pk and Requirements.objects.filter(slug=slug).exists():
            raise forms.ValidationError(
                _("A certificate of this name exists already. Choose another name.")
            )
        if not self.instance.pk:
            self.instance.slug = slug
        return title

    def parts(self):
        """Return the parts asked for, not saved, with at least one task each."""
        return [
            RequirementsPart(kind=slug, difficulty=level, count=count)
            for slug in kinds.KINDS
            for level in blueprints.LEVELS
            if (count := self.cleaned_data.get(count_name(slug, level)))
        ]

    def clean_reason(self):
        return reasons.clean(self.cleaned_data["reason"])

    def clean(self):
        cleaned = super().clean()
        places = {(part.kind, part.difficulty) for part in self.parts()}
        for place, part in self._saved.items():
            if place not in places and part.judgements.exists():
                self.add_error(
                    count_name(*place),
                    _("Judges have given their view of these: keep at least one."),
                )
        asked, slips = cleaned.get("must_asked"), cleaned.get("must_slips")
        if cleaned.get("must_pass") and None not in (asked, slips) and slips >= asked:
            self.add_error(
                "must_slips", _("Allow fewer slips than there are questions on the rule.")
            )
        counts = {count_name(slug, level) for slug in kinds.KINDS for level in blueprints.LEVELS}
        if not self.errors.keys() & {"rulebooks", "must_pass", "must_asked", *counts}:
            try:
                self.plan = blueprints.blueprint(
                    self.parts(),
                    cleaned["rulebooks"],
                    cleaned["must_pass"],
                    cleaned["must_asked"],
                )
            except RequirementsError as error:
                self.add_error(None, str(error))
        return cleaned

    def terms(self):
        """Return what was typed, as ``terms.of_requirements`` does; the form must be valid."""
        return terms.of_requirements(self.instance, self.parts())

    def like_requirements(self):
        """Return what was typed as something to compose exams of; ``plan`` must be there."""
        return terms.like_requirements(self.terms(), self.instance.slug)


class TurnDownForm(forms.Form):
    """Why a proposed change is turned down."""

    answer = forms.CharField(
        label=gettext_lazy("Reason for turning it down (staff read it)"),
        widget=forms.Textarea(attrs={"rows": 3}),
    )

    def clean_answer(self):
        return reasons.clean(self.cleaned_data["answer"])
