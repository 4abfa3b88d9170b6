"""What the site's pages are made of besides themselves, and the version that comes of it."""

import hashlib
from functools import cache
from pathlib import Path

from django.conf import settings
from django.templatetags.static import static
from django.urls import reverse

from training.deck.context import needs_words
from training.deck.scripts import imported

# What the pages for when there is no signal are made of; the rest comes once anything is kept.
CORE_STYLES = ("css/palette.css", "css/site.css", "css/sea.css", "mark.svg")
CORE_SCRIPTS = ("js/menus.js", "js/sea_gone.js", "js/sea_no_signal.js")
SITE = settings.BASE_DIR / "training" / "static"


@cache
def _files():
    """Return the names of all files that the site's own pages can ask for."""
    return tuple(
        sorted(path.relative_to(SITE).as_posix() for path in SITE.rglob("*") if path.is_file())
    )


@cache
def version():
    """Return what tells this version of the site's files and templates from another."""
    paths = [SITE / name for name in _files()]
    paths += sorted(Path(settings.BASE_DIR / "templates").rglob("*.html"))
    told = hashlib.sha256()
    for path in paths:
        told.update(path.name.encode() + b"\0" + path.read_bytes() + b"\0")
    return told.hexdigest()[:12]


def _addresses(names):
    words = [reverse("words")] if needs_words() else []
    return [*(static(name) for name in names), *words]


def core():
    """Return the addresses that the phone has as soon as there is a worker on it."""
    pages = [reverse("sea:no_signal"), reverse("sea:signed_out")]
    names = dict.fromkeys((*CORE_STYLES, *CORE_SCRIPTS, *imported(*CORE_SCRIPTS)))
    return [*pages, *_addresses(names)]


def everything():
    """Return the addresses of all scripts, styles and icons, for the pages that are kept."""
    return _addresses(_files())
