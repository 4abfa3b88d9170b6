"""
Adding to the sums of rules, each in one statement, so that of two at once both count.

Django's own way to insert or else update puts a new value in place of the old one and
cannot add to it. These statements are understood alike by SQLite from 3.35 on and by
PostgreSQL. Rows of groups are always come by in the same order, so that two
transactions do not wait for each other for ever.
"""

from django.db import connection
from django.utils.translation import gettext as _

from rigs.words.say import gettext_lazy
from training.people.models import Membership

from ..models import GroupRuleTally, PersonRuleTally

_person = PersonRuleTally._meta.db_table
_group = GroupRuleTally._meta.db_table
_member = Membership._meta.db_table

_ADD_TO_PERSON = gettext_lazy(
    "\nINSERT INTO {person} (user_id, rule, asked, missed) VALUES {{rows}}\nON "
    "CONFLICT (user_id, rule) DO UPDATE SET\n  asked = {person}.asked + "
    "excluded.asked, missed = {person}.missed + excluded.missed\nRETURNING rule, "
    "asked, missed\n"
).format(person=_person)

_INTO_GROUPS = gettext_lazy(
    "INSERT INTO {group} (group_id, rule, asked, missed, people, people_missed)"
).format(group=_group)
_AND_ADD = gettext_lazy(
    "\nON CONFLICT (group_id, rule) DO UPDATE SET\n  asked = {group}.asked + "
    "excluded.asked,\n  missed = {group}.missed + excluded.missed,\n  people = "
    "{group}.people + excluded.people,\n  people_missed = {group}.people_missed + "
    "excluded.people_missed\n"
).format(group=_group)

_ADD_TO_GROUPS = gettext_lazy(
    "\n{INTO_GROUPS}\nSELECT m.group_id, new.column1, 1, new.column2, "
    "new.column3, new.column4\nFROM {member} AS m, (VALUES {{rows}}) AS new\n"
    "WHERE m.user_id = %s\nORDER BY 1, 2\n{AND_ADD}\n"
).format(INTO_GROUPS=_INTO_GROUPS, member=_member, AND_ADD=_AND_ADD)

# What members add to the sums of their groups.
_SHARES = gettext_lazy(
    "\nSELECT m.group_id AS group_id, p.rule AS rule, SUM(p.asked) AS asked, "
    "SUM(p.missed) AS missed,\n  COUNT(*) AS people, SUM(CASE WHEN p.missed > 0 THEN 1 "
    "ELSE 0 END) AS people_missed\nFROM {member} AS m JOIN {person} AS p ON p.user_id = "
    "m.user_id\nWHERE {{which}}\nGROUP BY m.group_id, p.rule\n"
).format(member=_member, person=_person)

_PUT_IN = gettext_lazy("{INTO_GROUPS}\n{SHARES}\nORDER BY 1, 2\n{AND_ADD}").format(
    INTO_GROUPS=_INTO_GROUPS, SHARES=_SHARES, AND_ADD=_AND_ADD
)


def _less(column):
    # Never below nought, which the database refuses: a sum that was wrong stays wrong
    # until it is counted anew, but nobody is kept from leaving a group by it.
    old, share = f"{_group}.{column}", f"share.{column}"
    return _("{column} = CASE WHEN {old} > {share} THEN {old} - {share} ELSE 0 END").format(
        column=column, old=old, share=share
    )


_TAKE_OUT = gettext_lazy(
    "\nUPDATE {group} SET {map}\nFROM ({SHARES}) AS share\nWHERE {group}.group_id = "
    "share.group_id AND {group}.rule = share.rule\n"
).format(
    group=_group,
    map=", ".join(map(_less, ("asked", "missed", "people", "people_missed"))),
    SHARES=_SHARES,
)


def _rows(values):
    """Return place holders for ``values``, tuples of one length, and the values in a row."""
    holders = ", ".join(f"({', '.join(['%s'] * len(row))})" for row in values)
    return holders, [value for row in values for value in row]


def add_rules(pk, rules):
    """
    Count an attempt of the person ``pk`` that put ``rules``, {key: whether missed}, to the test.

    It is added to the sums of the person and of all his groups, in two queries.
    """
    if not rules:
        return
    holders, values = _rows([(pk, rule, 1, int(rules[rule])) for rule in sorted(rules)])
    with connection.cursor() as cursor:
        cursor.execute(_ADD_TO_PERSON.format(rows=holders), values)
        now = {rule: (asked, missed) for rule, asked, missed in cursor.fetchall()}
        # Whose first of its sort this was is one person more in the groups.
        holders, values = _rows(
            [
                (rule, int(rules[rule]), int(asked == 1), int(rules[rule] and missed == 1))
                for rule, (asked, missed) in sorted(now.items())
            ]
        )
        cursor.execute(_ADD_TO_GROUPS.format(rows=holders), [*values, pk])


def _execute(statement, column, pks):
    if not pks:
        return
    which = f"m.{column} IN ({', '.join(['%s'] * len(pks))})"
    with connection.cursor() as cursor:
        cursor.execute(statement.format(which=which), pks)


def put_in(memberships=(), people=()):
    """Add what members add to the sums of their groups; told by pks of either sort."""
    _execute(_PUT_IN, "id", memberships)
    _execute(_PUT_IN, "user_id", people)


def take_out(memberships=(), people=()):
    """Take away from the sums of groups what members add to them, as ``put_in`` added it."""
    for column, pks in (("id", memberships), ("user_id", people)):
        if pks:
            left = Membership.objects.filter(**{f"{column}__in": pks}).values("group")
            rows = GroupRuleTally.objects.select_for_update().filter(group__in=left)
            list(rows.order_by("group", "rule").values_list("pk"))
            _execute(_TAKE_OUT, column, pks)
