"""The editor of a draft: the rule set as a whole, and a card for each rule."""

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs import requirements
from rigs.rules import rulebook
from rigs.rules.rulebook import FISHERY, KNOWN, PRACTICE, REGULATION, RulebookError
from rigs.rules.text import dump, entries, part_at, requirement_entries, taught_entries

from .typed import (
    DAY_EXAMPLE,
    LIST_HELP,
    as_typed,
    read_day,
    read_typed,
    read_vessel,
    read_words,
    typed_day,
    typed_vessel,
    typed_words,
)

BASES = [
    (REGULATION, "regulation"),
    (PRACTICE, gettext_lazy("by custom: no clause asks for it")),
    (FISHERY, gettext_lazy("what the fishery is weighed by: no trip breaks it")),
]


def sentence(reason):
    """Return a refusal of the rule module as a sentence."""
    return f"{reason[:1].upper()}{reason[1:].removesuffix('.')}."


def known_rules():
    """Return a requirement that shows what each measure is for, by key: the latest of any."""
    found = {}
    for book in rulebook.everything():
        for requirement in book.requirements:
            found.setdefault(requirement.key, requirement)
    return found


class TypedDayField(forms.CharField):
    """A date as it is typed; cleans to the text that YAML has for it."""

    widget = forms.TextInput(attrs={"autocomplete": "off"})

    def clean(self, value):
        return read_day(super().clean(value))


def _area(rows):
    return forms.Textarea(attrs={"rows": rows})


_TOP = ("title", "summary", "citation", "effective_note", "allowance_note", "gear", "follows")


class WholeForm(forms.Form):
    """What is told of the rule set as a whole."""

    use_required_attribute = False

    reason = forms.CharField(
        label=gettext_lazy("Why the rules are changed"),
        help_text=gettext_lazy(
            "For the second person, and for anyone who asks later. Name the source."
        ),
        required=False,
        widget=_area(3),
    )
    effective_from = TypedDayField(
        label=gettext_lazy("Takes effect on"),
        help_text=gettext_lazy(
            "The first day that people are graded by it, such as {DAY_EXAMPLE}."
        ).format(DAY_EXAMPLE=DAY_EXAMPLE),
    )
    effective_to = TypedDayField(
        label=gettext_lazy("Last day (optional)"),
        help_text=gettext_lazy("Leave it empty for rules that hold until a newer version begins."),
        required=False,
    )
    title = forms.CharField(max_length=120)
    summary = forms.CharField(widget=_area(3))
    citation = forms.CharField(
        help_text=gettext_lazy("Where it is published, such as 50 CFR 648.80(a)(15)."),
        max_length=200,
    )
    effective_note = forms.CharField(
        label=gettext_lazy("Note on the dates (optional)"), required=False, widget=_area(3)
    )
    allowance_length = forms.CharField(
        label=gettext_lazy("Measuring allowance on lengths (optional)"),
        help_text=gettext_lazy("In favor of the net, with its unit, such as 1/2 in."),
        required=False,
    )
    allowance_diameter = forms.CharField(
        label=gettext_lazy("Measuring allowance on chain, wire and floats (optional)"),
        required=False,
    )
    allowance_note = forms.CharField(
        label=gettext_lazy("Note on the allowance (optional)"), required=False, widget=_area(2)
    )
    follows = forms.CharField(
        label=gettext_lazy("Clause by which its rules go with a vessel on its letter (optional)"),
        help_text=gettext_lazy("If they hold for such a vessel in other fisheries too."),
        max_length=200,
        required=False,
    )
    gear = forms.MultipleChoiceField(
        label=gettext_lazy("Takes over the gear rules of (optional)"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["gear"].choices = [
            (book.name, book.title) for book in rulebook.everything() if book.lays_out_rig
        ]

    @staticmethod
    def typed(book, reason):
        """Return the values of the fields for ``book``, a Rulebook."""
        made = entries(book)
        allowances = made.get("allowances", {})
        return made | {
            "reason": reason,
            "effective_from": typed_day(made["effective"]["from"]),
            "effective_to": typed_day(made["effective"].get("to")),
            "allowance_length": allowances.get("length", ""),
            "allowance_diameter": allowances.get("diameter", ""),
        }

    def entries(self):
        """Return the entries of a rule set without rules; what was left out is not in them."""
        told = {name: value for name, value in self.cleaned_data.items() if value}
        made = {name: told[name] for name in _TOP if name in told}
        made["effective"] = {
            name: told[f"effective_{name}"]
            for name in ("from", "to")
            if f"effective_{name}" in told
        }
        allowances = {
            name: told[f"allowance_{name}"]
            for name in ("length", "diameter")
            if f"allowance_{name}" in told
        }
        return made | ({"allowances": allowances} if allowances else {})

    def show(self, error, path):
        """Put a RulebookError beside the field that ``path`` leads to."""
        name = path[0] if path else None
        if name in ("effective", "allowances") and len(path) > 1:
            name = f"{name.removesuffix('s')}_{path[1]}"
        self.add_error(name if name in self.fields else None, sentence(error.reason))


class RuleForm(forms.Form):
    """One rule: what it allows, its clause, why it matters, how to fix it, how it is said."""

    use_required_attribute = False

    title = forms.CharField(max_length=120)
    test = forms.ChoiceField(label=gettext_lazy("How it is compared"))
    limit = forms.CharField(widget=forms.TextInput(attrs={"autocomplete": "off"}))
    metric = forms.CharField(
        label=gettext_lazy("Metric figure (optional)"),
        help_text=gettext_lazy("As the regulation prints it beside the limit, such as 20.3 cm."),
        required=False,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    clause = forms.CharField(
        max_length=200,
        help_text=gettext_lazy(
            "Such as 50 CFR 648.80(a)(9)(ii)(D). By custom: no clause asks it, so leave it empty."
        ),
        required=False,
    )
    known = forms.ChoiceField(label=gettext_lazy("How it is known"))
    basis = forms.ChoiceField(choices=BASES)
    vessel = forms.CharField(
        label=gettext_lazy("Holds for vessels (optional)"),
        help_text=gettext_lazy(
            "Such as “over 60 ft” or “up to 60 ft (18.3 m)”. Leave it empty for all."
        ),
        required=False,
    )
    caution = forms.CharField(
        label=gettext_lazy("What has to be said with it (optional)"),
        help_text=gettext_lazy("Shown wherever the limit is, such as that a notice can cut it."),
        required=False,
        widget=_area(2),
    )
    why = forms.CharField(label=gettext_lazy("Why it matters on the net"), widget=_area(2))
    remedy = forms.CharField(
        label=gettext_lazy("How to fix a rig that breaks it"),
        help_text=gettext_lazy("{allowed} stands for the limit."),
        widget=_area(2),
    )
    reads_as = forms.CharField(
        label=gettext_lazy("What the site reads into the clause (optional)"),
        help_text=gettext_lazy("Goes on from “This site reads it as”. {allowed} is the limit."),
        required=False,
        widget=_area(2),
    )
    words = forms.CharField(
        label=gettext_lazy("How it is said"),
        help_text=gettext_lazy("One phrase on each line, such as “met: no sweep is on it”."),
        required=False,
        widget=_area(6),
    )
    remove = forms.BooleanField(label=gettext_lazy("Remove this rule"), required=False)

    def __init__(self, key, *args, **kwargs):
        self.key, self.dimension = key, requirements.find(key).dimension
        super().__init__(*args, prefix=key, **kwargs)
        self.fields["test"].choices = [(test, test) for test in requirements.find(key).tests]
        self.fields["known"].choices = [("", _("Choose")), *KNOWN.items()]
        # Names that Python keeps for itself.
        for name, label in (("from", _("Only from (optional)")), ("to", _("Only to (optional)"))):
            self.fields[name] = TypedDayField(
                label=label,
                help_text=_("A day such as {DAY_EXAMPLE}.").format(DAY_EXAMPLE=DAY_EXAMPLE),
                required=False,
            )
        self.order_fields(_ORDER)
        if self.dimension not in ("length", "mass"):
            del self.fields["metric"]
        limit = self.fields["limit"]
        if self.dimension == "flag":
            del self.fields["limit"]
        elif self.dimension in LIST_HELP:
            limit.widget, limit.help_text = _area(6), LIST_HELP[self.dimension]
            limit.strip = False
        else:
            limit.help_text = _("A number with its unit, such as 8 ft, 42 in, 5/16 in or 40 fm.")

    @staticmethod
    def typed(requirement):
        """Return the values of the fields for ``requirement``."""
        made = requirement_entries(requirement)
        return (
            {"basis": REGULATION}
            | made
            | {
                "from": typed_day(made.get("from")),
                "to": typed_day(made.get("to")),
                "limit": as_typed(requirement.key, made["limit"]),
                "vessel": typed_vessel(made.get("vessel")),
                "words": typed_words(made.get("words", {})),
            }
        )

    def clean_basis(self):
        basis = self.cleaned_data["basis"]
        if basis == REGULATION and not self.cleaned_data.get("clause"):
            self.add_error(
                "clause",
                _(
                    "Name the clause, such as 50 CFR 648.80(a)(9)(ii)(D). If no clause asks it, "
                    "choose “by custom”."
                ),
            )
        return basis

    def full_clean(self):
        super().full_clean()
        if self.is_bound and self.cleaned_data.get("remove"):
            self._errors.clear()

    @property
    def is_removed(self):
        """Whether the rule is to be taken out; the form must be bound."""
        return bool(self.cleaned_data.get("remove"))

    def entries(self):
        """Return the entries of the rule; what was left out is not in them."""
        told = {name: value for name, value in self.cleaned_data.items() if value}
        made = {name: told[name] for name in _AS_THEY_ARE if name in told}
        made |= {"key": self.key, "limit": read_typed(self.key, told.get("limit", ""))}
        if "vessel" in told:
            made["vessel"] = read_vessel(told["vessel"])
        if "words" in told:
            made["words"] = read_words(told["words"])
        return made

    def show(self, error, path):
        """Put a RulebookError beside the field that ``path`` leads to."""
        name = path[0] if path else None
        self.add_error(name if name in self.fields else None, sentence(error.reason))


_ORDER = (
    *("title", "test", "limit", "metric", "clause", "known", "basis", "vessel", "from", "to"),
    *("caution", "why", "remedy", "reads_as", "words", "remove"),
)
_AS_THEY_ARE = (
    *("title", "test", "metric", "clause", "known", "basis", "from", "to"),
    *("caution", "why", "remedy", "reads_as"),
)


class Editor:
    """
    The whole of a draft as forms; ``data`` is what was posted, None to begin with.

    The rule module reads what was typed, part by part, so that all that it refuses is
    shown at once, each beside its field.
    """

    def __init__(self, version, data=None):
        self.version, self.data, self.old = version, data, version.book
        if data is None:
            self.head = WholeForm(initial=WholeForm.typed(self.old, version.reason))
            self.rules = [
                RuleForm(rule.key, initial=RuleForm.typed(rule)) for rule in self.old.requirements
            ]
            return
        keys = dict.fromkeys(key for key in data.getlist("keys") if requirements.has(key))
        self.head = WholeForm(data)
        self.rules = [RuleForm(key, data) for key in keys]

    @property
    def lacking(self):
        """The measures that no rule is made of yet, as (key, what they are for)."""
        have = {rule.key for rule in self.rules}
        return [(key, rule.title) for key, rule in known_rules().items() if key not in have]

    def add(self, key):
        """Add an empty card for the rule ``key``, all that was typed kept and not judged yet."""
        self.head = WholeForm(initial=_raw(self.head))
        self.rules = [RuleForm(rule.key, initial=_raw(rule)) for rule in self.rules]
        if key in dict(self.lacking):
            # Words can be taken over from another rule set; limit and clause must be looked up.
            other = RuleForm.typed(known_rules()[key])
            told = {name: other[name] for name in ("title", "test", "why", "remedy", "words")}
            self.rules.append(RuleForm(key, initial=told))
            self.rules[-1].is_new = True

    def is_valid(self):
        """Return whether the rule module takes what was typed; else the forms say what is wrong."""
        forms_ = [self.head, *self.rules]
        for form in forms_:
            form.is_valid()
        fixed = entries(self.old) | {"requirements": []}
        if not self.head.errors:
            _try({"name": "", "version": ""} | self._top() | {"requirements": []}, self.head, 0)
        for rule in self.rules:
            if not rule.errors and not rule.is_removed:
                _try(fixed | {"requirements": [rule.entries()]}, rule, 2)
        if not any(form.errors for form in forms_) and all(rule.is_removed for rule in self.rules):
            self.head.add_error(None, _("Keep at least one rule."))
        if not any(form.errors for form in forms_):
            self._join()
        return not any(form.errors for form in forms_)

    def _top(self):
        made = {"name": self.old.name, "version": self.old.version} | self.head.entries()
        if self.old.resumes:
            made["effective"]["resumes"] = True
        if self.old.taught:
            made["taught"] = taught_entries(self.old.taught)
        return made

    @property
    def _text(self):
        kept = [rule.entries() for rule in self.rules if not rule.is_removed]
        return dump(self._top() | {"requirements": kept})

    def _join(self):
        """Have the rule module say whether its days join those of the other versions."""
        try:
            with rulebook.trying(_("this draft"), self._text):
                rulebook.versions(self.old.name)
        except RulebookError as error:
            self.head.add_error("effective_from", str(error))

    @property
    def book(self):
        """The Rulebook as typed; the editor must be valid."""
        return rulebook.parse(self._text, str(self.version))

    @property
    def reason(self):
        return self.head.cleaned_data["reason"]


def _raw(form):
    """Return what was typed into a bound ``form``, field by field."""
    return {
        name: field.widget.value_from_datadict(form.data, {}, form.add_prefix(name))
        for name, field in form.fields.items()
    }


def _try(made, form, depth):
    """Have the rule module read ``made``; what it refuses goes beside a field of ``form``."""
    text = dump(made)
    try:
        rulebook.parse(text, "typed")
    except RulebookError as error:
        form.show(error, part_at(text, error.line)[depth:])
