"""The list of people narrowed down as an address says: what each count of people opens."""

from django import forms
from django.db.models import F
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.deck.sorting import SortBy, SortField, in_order
from training.people import sight
from training.people.models import Group, Membership, Role, User

from .calls.numbers import QUIET_DAYS
from .forms import FilterForm
from .missed import rule_title
from .stops import at_step, is_quiet, placed
from .trainees import TRAINED, finished, midnight, people
from .way import way_of

FIRST = "signed-up"
"""The first step in an address, where its key is blank."""


SORTED = (
    SortBy("", gettext_lazy("name"), ("name", "pk")),
    SortBy("joined", gettext_lazy("sign-up, latest first"), ("-joined", "pk")),
    SortBy(
        "active",
        gettext_lazy("activity, latest first"),
        (F("tally__last").desc(nulls_last=True), "name", "pk"),
    ),
    SortBy(
        "quiet",
        gettext_lazy("activity, longest ago first"),
        (F("tally__last").asc(nulls_first=True), "name", "pk"),
    ),
    SortBy(
        "lessons",
        gettext_lazy("lessons complete, most first"),
        (F("tally__lessons_done").desc(nulls_last=True), "name", "pk"),
    ),
)


def _hidden(field, **more):
    return field(required=False, widget=forms.HiddenInput, **more)


class PeopleForm(FilterForm):
    """
    Which people to list: by group and name as chosen, by the rest as a count's address has it.

    ``joined`` are those who joined the group today, ``started`` those who did something today.
    ``at`` and ``reached`` are keys of steps of the way of ``role``; ``asked`` and ``missed``
    keys of rules that were put to them, and that they missed at least once. These count all
    who are in a group, staff who try the exercises too.
    """

    sort = SortField(SORTED)
    role = _hidden(forms.ChoiceField, choices=[("", ""), *((each, each) for each in TRAINED)])
    at = _hidden(forms.CharField)
    reached = _hidden(forms.CharField)
    quiet = _hidden(forms.BooleanField)
    finished = _hidden(forms.BooleanField)
    joined = _hidden(forms.BooleanField)
    started = _hidden(forms.BooleanField)
    asked = _hidden(forms.SlugField)
    missed = _hidden(forms.SlugField)

    def found(self, user):
        """Return those whom ``user`` looks after and who fit all that is given, a queryset."""
        group, text = self.chosen()
        told = {name: self.cleaned_data.get(name) for name in self.fields}
        of_rule = told["asked"] or told["missed"]
        found = people(group, text, User.objects.all() if of_rule else None)
        found = placed(sight.rows(found, user))
        if told["role"]:
            found = found.filter(role=told["role"])
        if told["at"] or told["reached"]:
            role = told["role"] or Role.TRAINEE
            key = told["at"] or told["reached"]
            key = "" if key == FIRST else key
            found = found.filter(at_step(role, key, further=not told["at"]))
        if told["quiet"]:
            found = found.filter(is_quiet())
        if told["finished"]:
            found = found.filter(finished())
        if told["joined"]:
            found = found.filter(pk__in=_joined_today(group))
        if told["started"]:
            found = found.filter(tally__last__gte=midnight())
        if of_rule:
            found = _by_rule(found, told["asked"], told["missed"])
            if group is None:
                seen = sight.rows(Group.objects.all(), user).order_by()
                found = found.filter(pk__in=User.objects.filter(memberships__group__in=seen))
        return in_order(found, self)

    def words(self):
        """Return in phrases what the address asks for besides group and name."""
        told = {name: self.cleaned_data.get(name) for name in self.fields}
        steps = {step.key or FIRST: step.title for step in way_of(told["role"] or Role.TRAINEE)}
        phrases = (
            (told["role"], lambda: _("{role}s only").format(role=Role(told["role"]).label)),
            (told["at"], lambda: _("now at “{step}”").format(step=steps.get(told["at"], "?"))),
            (
                told["reached"],
                lambda: _("came as far as “{step}”").format(step=steps.get(told["reached"], "?")),
            ),
            (
                told["quiet"],
                lambda: _("no activity for {days} days").format(days=QUIET_DAYS),
            ),
            (told["finished"], lambda: _("finished all lessons")),
            (told["joined"], lambda: _("joined today")),
            (told["started"], lambda: _("were active today")),
            (
                told["asked"],
                lambda: _("were asked “{rule}”").format(rule=rule_title(told["asked"])),
            ),
            (
                told["missed"],
                lambda: _("missed “{rule}” at least once").format(rule=rule_title(told["missed"])),
            ),
        )
        return [phrase() for is_asked, phrase in phrases if is_asked]


def _joined_today(group):
    """Return the numbers of those who joined ``group`` today, or any group for None."""
    joined = Membership.objects.filter(joined__gte=midnight())
    return (joined if group is None else joined.filter(group=group)).values("user")


def _by_rule(found, asked, missed):
    if asked:
        found = found.filter(rule_tallies__rule=asked, rule_tallies__asked__gt=0)
    if missed:
        found = found.filter(rule_tallies__rule=missed, rule_tallies__missed__gt=0)
    return found
