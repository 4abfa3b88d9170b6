"""
All sums counted anew from the records, or only compared with them.

People are taken so many at a time, each lot in a transaction of its own in which their
tallies are held: what they hand in meanwhile waits, everybody else goes on. Each lot
takes its old share out of the groups' sums and puts the new one in, so that whoever
stops in between leaves sums that agree with each other. At the end each group is summed
up anew from its members, which also mends what was wrong with the group alone.
"""

from django.forms.models import model_to_dict
from django.utils.translation import gettext as _

from training.people.models import Group, Membership, User

from ..models import GroupRuleTally, PersonRuleTally, PersonTally
from . import counting
from .adding import put_in, take_out
from .upkeep import hold, hold_all, together

PEOPLE_AT_ONCE = 100
EVERY = 20  # lots between two lines of progress
COUNTED = (
    "lessons_read",
    "lessons_done",
    "attempts",
    "passed",
    "last",
    "step",
    "certified_until",
)


def _lots(say):
    """Yield lists of people's pks, saying now and then how many have been gone through."""
    pks = list(User.objects.order_by("pk").values_list("pk", flat=True))
    for lot, start in enumerate(range(0, len(pks), PEOPLE_AT_ONCE), 1):
        yield pks[start : start + PEOPLE_AT_ONCE]
        if lot % EVERY == 0:
            say(
                _("  {value:,} of {pks:,} people counted.").format(
                    value=start + PEOPLE_AT_ONCE, pks=len(pks)
                )
            )


def _groups(say):
    """Yield groups' pks, saying how many have been gone through."""
    pks = list(Group.objects.order_by("pk").values_list("pk", flat=True))
    for number, pk in enumerate(pks, 1):
        yield pk
        if number % PEOPLE_AT_ONCE == 0:
            say(_("  {number:,} of {pks:,} groups summed up.").format(number=number, pks=len(pks)))


def recount(pks):
    """Count the sums of the people with these ``pks`` anew, their groups' with them."""
    with together():
        hold_all(pks)
        take_out(people=pks)
        PersonTally.objects.bulk_create(
            counting.person_tallies(pks).values(),
            update_conflicts=True,
            unique_fields=["user"],
            update_fields=COUNTED,
        )
        PersonRuleTally.objects.filter(user__in=pks).delete()
        PersonRuleTally.objects.bulk_create(counting.person_rule_tallies(pks).values())
        put_in(people=pks)


def _recount_group(pk):
    with together():
        _hold_members(pk)
        GroupRuleTally.objects.filter(group=pk).delete()
        GroupRuleTally.objects.bulk_create(counting.group_rule_tallies(pk).values())


def _hold_members(group_pk):
    hold(list(Membership.objects.filter(group=group_pk).values_list("user_id", flat=True)))


def rebuild(say=lambda line: None):
    """
    Count all sums of people and groups anew; ``say`` is told how far it has come.

    Can be run while the site is in use, and stopped at any time.
    """
    for pks in _lots(say):
        recount(pks)
    for pk in _groups(say):
        _recount_group(pk)


def differences(say=lambda line: None):
    """Yield a sentence for each row of the sums that a full recount would have otherwise."""
    for pks in _lots(say):
        yield from _different_people(pks)
    for pk in _groups(say):
        yield from _different_group(pk)


def _different_people(pks):
    with together():
        hold(pks)
        kept = PersonTally.objects.in_bulk(pks)
        kept_rules = {
            (tally.user_id, tally.rule): tally
            for tally in PersonRuleTally.objects.filter(user__in=pks)
        }
        counted, counted_rules = counting.person_tallies(pks), counting.person_rule_tallies(pks)
    yield from _compare(_("Person"), kept, counted)
    yield from _compare(_("Person and rule"), kept_rules, counted_rules)


def _different_group(pk):
    with together():
        _hold_members(pk)
        kept = {tally.rule: tally for tally in GroupRuleTally.objects.filter(group=pk)}
        counted = counting.group_rule_tallies(pk)
    yield from _compare(_("Group {pk} and rule").format(pk=pk), kept, counted)


def _values(tally):
    """Return what ``tally`` counts; a row of noughts is the same as none."""
    if tally is None:
        return {}
    named = model_to_dict(tally, exclude=["id", "user", "group", "rule"])
    return {name: value for name, value in named.items() if value}


def _compare(what, kept, counted):
    for key in sorted(kept.keys() | counted.keys()):
        is_kept, should_be = _values(kept.get(key)), _values(counted.get(key))
        for name in sorted(is_kept.keys() | should_be.keys()):
            if is_kept.get(name) != should_be.get(name):
                yield (
                    _("{what} {key}: {name} is {name2}, counted {name3}.").format(
                        what=what,
                        key=key,
                        name=name,
                        name2=is_kept.get(name, 0),
                        name3=should_be.get(name, 0),
                    )
                )
