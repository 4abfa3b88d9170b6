"""One step of a sheet without scripts: answers, how they were found, why there is none."""

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs.check import log
from rigs.check.entry import read_one
from rigs.requirements.questions import TELLERS, TOOLS
from rigs.words.units import UnitError

from . import logbook
from .forms import QuestionsForm

LONGEST_WHY = 200
NOT_RECORDED = gettext_lazy("Not recorded")
WHY_NOT = "why-not"
"""The list of reasons on the page, from which one can be picked."""


PARTS = ("how", "tool", "why", "second")
"""What stands beside a question, by the end of its field's name."""


class StepForm(QuestionsForm):
    """
    The ``questions`` of a step, with what stands beside each.

    ``entries`` are the log of the sheet and ``reasons`` why others were not measured.
    """

    def __init__(self, *args, entries=(), reasons=None, **kwargs):
        self.entries, self.reasons = tuple(entries), reasons or {}
        super().__init__(*args, **kwargs)
        self.now = {each.name: each for each in self.entries if each.counts}
        for question in self.questions:
            self._add(question)

    def _add(self, question):
        name = question.name
        now = self.now.get(name, log.Logged("", name, ""))
        tools = [(slug, TOOLS[slug]) for slug in question.tools]
        says = [(slug, _("said by {who}").format(who=who)) for slug, who in TELLERS.items()]
        parts = {
            "how": _choice(_("How?"), question.hows.items(), now.how),
            "tool": _choice(_("With what, or who said it?"), tools + says, now.tool),
            "why": forms.CharField(
                label=_("Why not measured?"),
                max_length=LONGEST_WHY,
                required=False,
                initial=self.reasons.get(name, ""),
                widget=forms.TextInput({"list": WHY_NOT, "autocomplete": "off"}),
            ),
            "second": forms.CharField(
                label=_("A second reading"),
                max_length=question.longest,
                required=False,
                widget=forms.TextInput({"autocomplete": "off"}),
            ),
        }
        self.fields |= {f"{name}_{part}": field for part, field in parts.items()}

    @property
    def asked(self):
        """The questions with their fields, with what stands beside each and what was read."""
        typed = self.typed
        return [
            each._replace(
                beside=[self[f"{each.question.name}_{part}"] for part in PARTS],
                entries=[
                    (entry, log.worked_out(entry, typed) or entry.text)
                    for entry in log.of(each.question.name, self.entries)
                ],
            )
            for each in super().asked
        ]

    def clean(self):
        cleaned = super().clean()
        for question in self.questions:
            self._clean_second(question, cleaned)
        return cleaned

    def _clean_second(self, question, cleaned):
        name, text = question.name, cleaned.get(f"{question.name}_second", "")
        if not text:
            return
        if not cleaned.get(name):
            self.add_error(f"{name}_second", _("Enter the first reading first."))
            return
        try:
            read_one(name, text, self.typed | {name: text, question.sure: text})
        except UnitError as error:
            self.add_error(f"{name}_second", str(error))

    def _part(self, question, part):
        return self.cleaned_data.get(f"{question.name}_{part}", "")

    def changes(self):
        """Return what this form changes of a sheet, as ``keeping.change`` takes it."""
        entries = self.entries
        typed, reasons = dict(self.typed), dict(self.reasons)
        for question in self.questions:
            name, text = question.name, self.typed.get(question.name, "")
            found = self._part(question, "how"), self._part(question, "tool")
            entries = logbook.answered(entries, name, text, *found)
            if second := self._part(question, "second"):
                entries = logbook.read_again(entries, name, second, *found)
                typed[name] = second
            why = self._part(question, "why")
            reasons.pop(name, None)
            if why and not text:
                reasons[name] = why
        readings = [entry._asdict() for entry in entries]
        return {"typed": typed, "readings": readings, "reasons": reasons}


def _choice(label, choices, initial):
    known = [("", NOT_RECORDED), *choices]
    if initial and initial not in dict(known):
        known.append((initial, initial))
    return forms.ChoiceField(label=label, choices=known, required=False, initial=initial)
