"""What the check sheet's page is made of, to tell one version of it from another."""

import hashlib
import json

from django.template.loader import get_template

from training.deck.scripts import imported, source

STYLES = ("css/palette.css", "css/site.css", "css/check.css", "mark.svg")
SCRIPTS = ("js/check_phone.js", "js/leave.js")  # named on the page; the rest is imported
TEMPLATES = ("check_phone.html", "check_phone_head.html", "check_question.html")


def version(rules):
    """
    Return what tells one version of the page from another, all it is made of counted.

    ``rules`` is what the page holds for its scripts.
    """
    texts = [json.dumps(rules, sort_keys=True)]
    texts += [get_template(f"checks/{name}").template.source for name in TEMPLATES]
    texts += [source(name) for name in (*STYLES, *SCRIPTS, *imported(*SCRIPTS))]
    return hashlib.sha256("\0".join(texts).encode()).hexdigest()[:12]
