"""What the check sheet's page is made of, so that it opens without a connection."""

import json
import re
from pathlib import Path

from django.contrib.staticfiles import finders
from django.templatetags.static import static
from django.urls import reverse
from django.utils.translation import gettext as _

from training.deck.context import needs_words

STYLES = ("css/palette.css", "css/site.css", "css/check.css", "mark.svg")
SCRIPTS = ("js/check_phone.js", "js/leave.js")  # named on the page; the rest is imported
WORKER = "js/check_worker.js"

IMPORTED = re.compile(r"""^(?:import|export)\b[^;]*?["']\./(\w+\.js)["'];""", re.MULTILINE)


def _source(name):
    return Path(finders.find(name)).read_text("utf-8")


def _imported(names):
    """Return the names of all scripts that those called ``names`` import, each once."""
    found = {}
    waiting = list(names)
    while waiting:
        for each in IMPORTED.findall(_source(waiting.pop())):
            name = f"js/{each}"
            if name not in found:
                found[name] = True
                waiting.append(name)
    return list(found)


def parts():
    """Return the addresses of all that the page is made of, besides the page itself."""
    # A script imports another by its plain name; a page has names that change with the file.
    base = static("js/")
    imported = [f"{base}{name.removeprefix('js/')}" for name in _imported(SCRIPTS)]
    words = [reverse("words")] if needs_words() else []
    return [*(static(name) for name in (*STYLES, *SCRIPTS)), *imported, *words]


def worker():
    """Return the script that keeps the page and its parts at hand."""
    page, made_of = json.dumps(reverse("checks:check_phone")), json.dumps(parts())
    return _("const PAGE = {page};\nconst PARTS = {made_of};\n{source}").format(
        page=page, made_of=made_of, source=_source(WORKER)
    )
