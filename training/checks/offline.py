"""What the check sheet's page is made of, so that it opens without a connection."""

import hashlib
import json

from django.template.loader import get_template
from django.templatetags.static import static
from django.urls import reverse

from training.deck.context import needs_words
from training.deck.scripts import imported, source

STYLES = ("css/palette.css", "css/site.css", "css/check.css", "mark.svg")
SCRIPTS = ("js/check_phone.js", "js/leave.js")  # named on the page; the rest is imported
TEMPLATES = ("check_phone.html", "check_phone_head.html", "check_question.html")
WORKER = "js/check_worker.js"


def parts():
    """Return the addresses of all that the page is made of, besides the page itself."""
    words = [reverse("words")] if needs_words() else []
    return [*(static(name) for name in (*STYLES, *SCRIPTS, *imported(*SCRIPTS))), *words]


def worker():
    """Return the script that keeps the page and its parts at hand."""
    told = {
        "PAGE": reverse("checks:check_phone"),
        "PARTS": parts(),
        "SIGN_IN": reverse("people:sign_in"),
    }
    lines = [f"const {name} = {json.dumps(value)};" for name, value in told.items()]
    return "\n".join([*lines, source(WORKER)])


def version(rules):
    """
    Return what tells one version of the page from another, all it is made of counted.

    ``rules`` is what the page holds for its scripts.
    """
    texts = [json.dumps(rules, sort_keys=True)]
    texts += [get_template(f"checks/{name}").template.source for name in TEMPLATES]
    texts += [source(name) for name in (*STYLES, *SCRIPTS, *imported(*SCRIPTS))]
    return hashlib.sha256("\0".join(texts).encode()).hexdigest()[:12]
