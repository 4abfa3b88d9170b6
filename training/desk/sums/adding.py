"""
Adding to the sums of rules, each in one statement, so that of two at once both count.

Django's own way to insert or else update puts a new value in place of the old one and
cannot add to it. These statements are understood alike by SQLite from 3.35 on and by
PostgreSQL. Rows of groups are always come by in the same order, so that two
transactions do not wait for each other for ever.
"""

from django.db import connection

from training.people.models import Membership

from ..models import GroupRuleTally, PersonRuleTally

_person = PersonRuleTally._meta.db_table
_group = GroupRuleTally._meta.db_table
_member = Membership._meta.db_table

_ADD_TO_PERSON = f"""
INSERT INTO {_person} (user_id, rule, asked, missed) VALUES {{rows}}
ON CONFLICT (user_id, rule) DO UPDATE SET
  asked = {_person}.asked + excluded.asked, missed = {_person}.missed + excluded.missed
RETURNING rule, asked, missed
"""

_INTO_GROUPS = f"INSERT INTO {_group} (group_id, rule, asked, missed, people, people_missed)"
_AND_ADD = f"""
ON CONFLICT (group_id, rule) DO UPDATE SET
  asked = {_group}.asked + excluded.asked,
  missed = {_group}.missed + excluded.missed,
  people = {_group}.people + excluded.people,
  people_missed = {_group}.people_missed + excluded.people_missed
"""

_ADD_TO_GROUPS = f"""
{_INTO_GROUPS}
SELECT m.group_id, new.column1, 1, new.column2, new.column3, new.column4
FROM {_member} AS m, (VALUES {{rows}}) AS new
WHERE m.user_id = %s
ORDER BY 1, 2
{_AND_ADD}
"""

# What members add to the sums of their groups.
_SHARES = f"""
SELECT m.group_id AS group_id, p.rule AS rule, SUM(p.asked) AS asked, SUM(p.missed) AS missed,
  COUNT(*) AS people, SUM(CASE WHEN p.missed > 0 THEN 1 ELSE 0 END) AS people_missed
FROM {_member} AS m JOIN {_person} AS p ON p.user_id = m.user_id
WHERE {{which}}
GROUP BY m.group_id, p.rule
"""

_PUT_IN = f"{_INTO_GROUPS}\n{_SHARES}\nORDER BY 1, 2\n{_AND_ADD}"


def _less(column):
    # Never below nought, which the database refuses: a sum that was wrong stays wrong
    # until it is counted anew, but nobody is kept from leaving a group by it.
    old, share = f"{_group}.{column}", f"share.{column}"
    return f"{column} = CASE WHEN {old} > {share} THEN {old} - {share} ELSE 0 END"


_TAKE_OUT = f"""
UPDATE {_group} SET {", ".join(map(_less, ("asked", "missed", "people", "people_missed")))}
FROM ({_SHARES}) AS share
WHERE {_group}.group_id = share.group_id AND {_group}.rule = share.rule
"""


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
