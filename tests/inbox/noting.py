"""Sending what a phone noted, as the phone does it."""

import json
import uuid
from urllib.parse import quote

from django.utils import timezone


def headers(person, key=None, label="Tow, Gray net", now=None, **others):
    """Return the headers of what ``person`` noted under ``key``, sent ``now`` by the phone."""
    now = now or timezone.now()
    return {
        "Noted": str(key or uuid.uuid4()),
        "Noted-At": now.isoformat(),
        "Noted-Label": quote(label),
        "Phone-Now": now.isoformat(),
        "Whose": str(person.pk),
        "Accept": "application/json",
    } | others


def send(client, person, address, values, shown=(), **told):
    """Send ``values``, noted by ``person``, to ``address``; return the response."""
    body = values | {"noted_shown": json.dumps({"shown": list(shown)})}
    return client.post(address, body, headers=headers(person, **told))
