"""What the check sheet's page is made of, so that it opens without a connection."""

import hashlib
import json
import re
from pathlib import Path

from django.contrib.staticfiles import finders
from django.template.loader import get_template
from django.templatetags.static import static
from django.urls import reverse

from training.deck.context import needs_words

STYLES = ("css/palette.css", "css/site.css", "css/check.css", "mark.svg")
SCRIPTS = ("js/check_phone.js", "js/leave.js")  # named on the page; the rest is imported
TEMPLATES = ("check_phone.html", "check_phone_head.html", "check_question.html")
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
    told = {
        "PAGE": reverse("checks:check_phone"),
        "PARTS": parts(),
        "SIGN_IN": reverse("people:sign_in"),
    }
    lines = [f"const {name} = {json.dumps(value)};" for name, value in told.items()]
    return "\n".join([*lines, _source(WORKER)])


def version(rules):
    """
    Return what tells one version of the page from another, all it is made of counted.

    ``rules`` is what the page holds for its scripts.
    """
    texts = [json.dumps(rules, sort_keys=True)]
    texts += [get_template(f"checks/{name}").template.source for name in TEMPLATES]
    texts += [_source(name) for name in (*STYLES, *SCRIPTS, *_imported(SCRIPTS))]
    return hashlib.sha256("\0".join(texts).encode()).hexdigest()[:12]
