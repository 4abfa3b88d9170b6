"""What scripts import, so that a page asks for all of it at once, and a phone keeps all of it."""

import re
from functools import cache
from pathlib import Path

from django.contrib.staticfiles import finders
from whitenoise.storage import CompressedManifestStaticFilesStorage

IMPORTED = re.compile(r"""^(?:import|export)\b[^;]*?["']\./(\w+\.js)["'];""", re.MULTILINE)


class Collected(CompressedManifestStaticFilesStorage):
    """
    Names that change with the file, in what a script imports too.

    A browser keeps such a file for ever and need not ask whether there is a newer one.
    """

    support_js_module_import_aggregation = True


def source(name):
    """Return the text of the static file ``name``."""
    return Path(finders.find(name)).read_text("utf-8")


@cache
def imported(*names):
    """Return the names of all scripts that those called ``names`` import, each once."""
    found = {}
    waiting = list(names)
    while waiting:
        for each in IMPORTED.findall(source(waiting.pop())):
            name = f"js/{each}"
            if name not in found:
                found[name] = True
                waiting.append(name)
    return tuple(found)
