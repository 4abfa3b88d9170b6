"""Taking an officer's own name and hand off the sheets that outlive the account."""

from .models import CheckSheet, CheckThrown


def _without(content, name):
    """Return ``content`` of a save without the officer's signature and ``name`` in the head."""
    head = {part: text for part, text in content.get("head", {}).items() if text != name}
    signatures = [
        {**each, "name": "", "strokes": []} if each.get("role") == "officer" else each
        for each in content.get("signatures", [])
    ]
    parts = {"head": head, "signatures": signatures}
    return content | {part: parts[part] for part in parts if part in content}


def forget(officer):
    """Take the name and signature of ``officer`` off all sheets and saves; what was found stays."""
    for sheet in CheckSheet.objects.filter(officer=officer):
        told = _without({"head": sheet.head, "signatures": sheet.signatures}, officer.name)
        CheckSheet.objects.filter(pk=sheet.pk).update(**told)
        for save in sheet.revisions.all():
            save.content = _without(save.content, officer.name)
            save.save(update_fields=["content"])
    for thrown in CheckThrown.objects.filter(officer=officer):
        thrown.content = _without(thrown.content, officer.name)
        thrown.save(update_fields=["content"])
