"""The worker's script: its modules one after another, and above them what the site tells it."""

import json
import re

from django.conf import settings
from django.urls import reverse

from training.deck.scripts import imported, source

from . import parts

SCRIPT = "js/sea_worker.js"

# Workers that are made of modules are not known to every phone: the modules are joined here.
_IMPORT = re.compile(r"^import\b[^;]*;\n", re.MULTILINE)
_EXPORT = re.compile(r"^export ", re.MULTILINE)


def _joined():
    # Whatever a module imports has fewer modules below it.
    modules = sorted(imported(SCRIPT), key=lambda name: len(imported(name)))
    texts = [source(name) for name in (*modules, SCRIPT)]
    return "\n".join(_EXPORT.sub("", _IMPORT.sub("", text)) for text in texts)


def script():
    """Return the script of the worker."""
    told = {
        "VERSION": parts.version(),
        "CORE": parts.core(),
        "STATICS": parts.everything(),
        "AT": {
            "statics": settings.STATIC_URL,
            "noSignal": reverse("sea:no_signal"),
            "signedOut": reverse("sea:signed_out"),
            "signOut": reverse("people:sign_out"),
            "still": reverse("sea:still"),
            "ready": reverse("sea:ready"),
        },
    }
    lines = [f"const {name} = {json.dumps(value)};" for name, value in told.items()]
    return "\n".join([*lines, _joined()])
