"""Gives sheets from before readings were kept theirs: when they arrived, not when they were made."""

import uuid

from django.db import migrations

SURE = "_sure"


def _shown(sheet, revisions):
    """Return the saves of ``sheet`` that were shown one after another, the oldest first."""
    found, turned_in, corrected = [], False, False
    for save in revisions:
        if (save.number, save.device) > (sheet.revision, sheet.device):
            break
        late = turned_in and sheet.finished and save.received > sheet.finished
        if not save.reason and (late or corrected):
            continue
        corrected = corrected or bool(save.reason)
        turned_in = turned_in or save.hands_in
        found.append(save)
    return found


def _readings(sheet, saves):
    """Return (entry, save it came with, the save that struck it or None), the oldest first."""
    found, now = [], {}
    for save in saves:
        typed = save.content.get("typed", {})
        told = {n: t for n, t in typed.items() if t and not n.endswith(SURE)}
        for name in [*now, *(each for each in told if each not in now)]:
            old = now.get(name)
            if old and old["text"] == told.get(name):
                continue
            if old:
                old["struck_by"] = save
                del now[name]
            if name in told:
                now[name] = {"name": name, "text": told[name], "save": save, "struck_by": None}
                found.append(now[name])
    return found


def give(apps, schema_editor):
    Sheet = apps.get_model("checks", "CheckSheet")
    Reading = apps.get_model("checks", "CheckReading")
    for sheet in Sheet.objects.order_by("pk").iterator():
        saves = _shown(sheet, sheet.revisions.order_by("number", "device"))
        made = []
        for place, each in enumerate(_readings(sheet, saves)):
            save, end = each["save"], each["struck_by"]
            made.append(
                Reading(
                    sheet=sheet,
                    entry=uuid.uuid5(sheet.key, f"{save.device} {save.number} {each['name']}").hex,
                    name=each["name"],
                    text=each["text"],
                    arrived=save.received,
                    struck=end.received.isoformat() if end else "",
                    why=end.reason if end else "",
                    number=save.number,
                    device=save.device,
                    place=place,
                )
            )
        Reading.objects.bulk_create(made)


class Migration(migrations.Migration):

    dependencies = [
        ("checks", "0003_readings_and_head"),
    ]

    operations = [
        migrations.RunPython(give, migrations.RunPython.noop),
    ]
