"""Everything the site holds about a person, as one file to take away."""

import csv
import io
import json
import zipfile
from datetime import datetime

from django.conf import settings
from django.core.serializers.json import DjangoJSONEncoder
from django.db.models import FileField, JSONField
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from rigs.words.say import gettext_lazy
from training.deck.spreadsheet import safe_cell
from training.nets.by_entry import BY_ENTRY
from training.people.models import User

from .owned import owned

# Of no use to anybody but somebody who wants to sign in as the person.
SECRETS = {"people.User.password", "otp_totp.TOTPDevice.key", "otp_static.StaticToken.token"}
# Made of other people's rows, for whoever may see these: the job's page alone asks that.
NOT_OURS = {"work.Job.file"}
EXPLAINED = gettext_lazy(
    "This is what the training site has about {name}, as of {moment}.\n\n"
    "all.json       everything in one file, for programs\ntables/*.csv   the same as "
    "tables, for a spreadsheet: one file for each sort of record. Nets and tows are there "
    "entry by entry too\nfiles/         the "
    "pictures, if there are any\n\nLengths are in meters. Weights are in kilograms. "
    'What you typed is beside them.\nTimes are those of the site ({zone}).\n"Somebody '
    'else" is another person, whose name we do not share.\n'
)


def _value(field, row, person):
    """Return what ``row`` has in ``field``, without telling who other people are."""
    value = field.value_from_object(row)
    if field.remote_field and field.remote_field.model is User and value is not None:
        return "you" if value == person.pk else _("somebody else")
    if isinstance(field, FileField):
        return value.name
    return timezone.localtime(value) if isinstance(value, datetime) else value


def _record(row, person):
    """Return one row as a dict of its fields' names."""
    return {
        str(field.verbose_name): _value(field, row, person)
        for field in row._meta.concrete_fields
        if f"{row._meta.label}.{field.name}" not in SECRETS
    }


def _entries(rows):
    """Return the entries of ``rows``, nets or tows, one a record, as people read them."""
    return [
        {
            "of": f"{row.pk}: {row}",
            "asked": entry.asked,
            "as you typed it": entry.typed,
            "measured": entry.measure,
            "unit": entry.unit,
        }
        for row in rows
        for entry in BY_ENTRY[type(row)](row)
    ]


def readable(person, tables):
    """
    Return ``tables``, as ``collect`` has them, as they are read in a spreadsheet.

    A net or a tow holds its entries in one field, as programs want it. Here each has a
    row of its own, in a table beside that of the nets or tows.
    """
    told = dict(tables)
    for model, pks in owned(person):
        if model not in BY_ENTRY:
            continue
        name = str(model._meta.verbose_name_plural)
        packed = {
            str(field.verbose_name)
            for field in model._meta.concrete_fields
            if isinstance(field, JSONField)
        }
        told[name] = [
            {key: value for key, value in record.items() if key not in packed}
            for record in tables[name]
        ]
        rows = model._base_manager.filter(pk__in=pks).order_by("pk")
        told[f"{name} entry by entry"] = _entries(rows)
    return {name: records for name, records in told.items() if records}


def _files(row):
    """Return the files that belong to ``row``, and to the person whose row it is."""
    fields = [
        field
        for field in row._meta.concrete_fields
        if isinstance(field, FileField) and f"{row._meta.label}.{field.name}" not in NOT_OURS
    ]
    return [file for field in fields if (file := field.value_from_object(row))]


def collect(person):
    """
    Return what is held about ``person``, and the files with it.

    The first is a dict of the plural names of models to lists of records, each a dict of
    field to value.
    """
    tables, files = {"account": [_record(person, person)]}, []
    for model, pks in owned(person):
        rows = model._base_manager.filter(pk__in=pks).order_by("pk")
        records = tables.setdefault(str(model._meta.verbose_name_plural), [])
        for row in rows:
            records.append(_record(row, person))
            files += _files(row)
    return tables, files


def _csv(records):
    """Return ``records``, all of one model, as the text of a CSV file."""
    file = io.StringIO()
    writer = csv.writer(file)
    writer.writerow(records[0])
    for record in records:
        cells = (
            json.dumps(value, ensure_ascii=False) if isinstance(value, (dict, list)) else value
            for value in record.values()
        )
        writer.writerow([safe_cell(cell) for cell in cells])
    # Without the mark, spreadsheets take the accents in names for something else.
    return "\ufeff" + file.getvalue()


def archive(person):
    """Return a ZIP file, as bytes, with all that is held about ``person``."""
    tables, files = collect(person)
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as pack:
        moment = date_format(timezone.localtime(), "F j, Y, g:i a")
        pack.writestr(
            _("READ ME.txt"),
            EXPLAINED.format(name=person.name, moment=moment, zone=settings.TIME_ZONE),
        )
        text = json.dumps(tables, cls=DjangoJSONEncoder, ensure_ascii=False, indent=2)
        pack.writestr("all.json", text)
        for name, records in readable(person, tables).items():
            pack.writestr(f"tables/{name.replace(' ', '-')}.csv", _csv(records))
        for file in files:
            with file.open("rb") as picture:
                pack.writestr(f"files/{file.name.rpartition('/')[2]}", picture.read())
    return held.getvalue()
