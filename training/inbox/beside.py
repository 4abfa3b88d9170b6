"""
Two devices that changed the same thing: nothing is overwritten, and the person chooses.

A form that changes a row says in the field ``seen`` how the row stood when it was opened.
"""

from datetime import date, time

from django import forms
from django.utils.formats import date_format, time_format
from django.utils.translation import gettext as _

UNSAID = (None, "", False, [])


class Beside(Exception):  # noqa: N818 (no error: both are kept)
    """
    What was sent and what the site has are two: caught by ``once``, which keeps both.

    ``sides`` are as Arrival has them, ``seen`` is the stamp of the site's, ``instead`` the
    address that changes it, ``label`` what it is, in words.
    """

    def __init__(self, sides, seen, instead, label):
        super().__init__(label)
        self.sides, self.seen, self.instead, self.label = sides, seen, instead, label


def stamp(moment):
    """Return the text by which a form says that it saw a row that was changed at ``moment``."""
    return moment.isoformat()


def look(request, row, form, held, instead, leave_out=()):
    """
    Raise Beside if ``row`` changed since the posted ``form`` was opened, to something else.

    ``held`` is the form as it would start now. A page from before forms said what they
    saw is taken as it is. The row must be held by this transaction.
    """
    seen = request.POST.get("seen")
    if seen and seen != stamp(row.changed):
        differ(row, form, held, instead, leave_out)


def differ(row, form, held, instead, leave_out=()):
    """Raise Beside unless the posted ``form`` says the same as ``held``, the form of ``row``."""
    sides = compare(form, held, leave_out)
    if any(differs for *__, differs in sides):
        raise Beside(sides, stamp(row.changed), instead, str(row))


def compare(form, held, leave_out=()):
    """
    Return (question, in ``held``, in ``form``, whether they differ) of all that either says.

    What differs comes first.
    """
    names = [*form.fields, *(name for name in held.fields if name not in form.fields)]
    sides = []
    for name in names:
        asked = form if name in form.fields else held
        if asked[name].is_hidden or name in leave_out:
            continue
        values = [_value(each, name) for each in (held, form)]
        if any(values):
            words = [read(asked.fields[name], value) for value in values]
            sides.append([str(asked[name].label), *words, values[0] != values[1]])
    return sorted(sides, key=lambda side: not side[3])


def _value(form, name):
    """Return what ``form`` holds under ``name``, as text or texts; nothing if it is not said."""
    value = form[name].value() if name in form.fields else None
    if value in UNSAID:
        return ""
    if isinstance(value, (list, tuple)):
        return sorted(str(each) for each in value)
    return str(value).strip().replace("\r\n", "\n")


def read(field, value):
    """Return in words what ``value``, of the form's ``field``, says."""
    if value in UNSAID:
        return ""
    if isinstance(value, (list, tuple)):
        return ", ".join(read(field, each) for each in value)
    if value == "True":
        return _("yes")
    if choices := getattr(field, "choices", None):
        return str({str(key): words for key, words in choices}.get(str(value), value))
    try:
        if isinstance(field, forms.DateField):
            return date_format(date.fromisoformat(value))
        if isinstance(field, forms.TimeField):
            return time_format(time.fromisoformat(value))
    except ValueError:
        pass  # as it was typed
    return value
