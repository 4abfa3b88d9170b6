"""Which rows of the database are a person's own."""

from typing import NamedTuple

from django.db.models import Model

from training.people.models import User

# Counted from a person's other rows, which are there themselves.
SUMS = {"desk.PersonTally", "desk.PersonRuleTally"}
# What an administrator did to others' rows.
OTHERS = {"admin.LogEntry"}
LEFT_OUT = SUMS | OTHERS


class Rows(NamedTuple):
    """The rows of one ``model``, by their primary keys, that hang on one field."""

    model: type[Model]
    pks: list


def owned(person):
    """
    Return the Rows that belong to ``person``, each before those that hang on it.

    They are what points at the person, and what points at that, and so on. A field
    without a way back (related_name "+") does not make a row the person's own: it says
    who did something to somebody else's.
    """
    found, queue, seen = [], [Rows(User, [person.pk])], set()
    while queue:
        parent = queue.pop(0)
        for relation in parent.model._meta.related_objects:
            model, field = relation.related_model, relation.field
            if field.many_to_many or model._meta.label in LEFT_OUT:
                continue
            rows = model._base_manager.filter(**{f"{field.name}__in": parent.pks})
            pks = [pk for pk in rows.values_list("pk", flat=True) if (model, pk) not in seen]
            if pks:
                seen.update((model, pk) for pk in pks)
                found.append(Rows(model, pks))
                queue.append(found[-1])
    return found
