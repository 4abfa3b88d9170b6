"""
Which pages open without signal, each yes or no with a reason, made from the URL configuration.

``python -m tests.sea.pages`` makes ``pages.txt`` anew: read what changed in it, line by line.
``test_pages`` fails for an address without a line, and holds each yes against what is taken along.
"""

import re
from pathlib import Path

from tests.people.roles import FILE as ROLES
from tests.people.roles import patterns
from training.people.sight import Door

FILE = Path(__file__).with_name("pages.txt")
HEAD = """\
Which pages open without signal. Made by: python -m tests.sea.pages
yes: on the phone of a person who took it along, whose page it is.
form: what is entered there without signal is noted on the phone, and sent once.

address                                  opens  form  reason
"""

TAKEN = "taken along"
CHANGES = "no page: it changes something on the site"
OF_OTHERS = "it tells of other people, and of today: none of that is kept on a phone"

# Why the pages of a room do not open, where the view itself gives no reason.
ROOMS = {
    "accounts": "an account is made and changed with the site alone",
    "admin": "the site's records, for administrators alone",
    "calibration": "a result, and practice on it, comes from the site once all is turned in",
    "certificates": "whether a certificate holds today is for the site to say",
    "certification": "exams stay online",
    "checks": "a sheet that the site has is shown as it has it; the phone has its own page",
    "evidence": "what is changed here is what the site has",
    "exercises": "the site sets each task anew; tasks for sea are set beforehand",
    "inbox": "it is what the site has received",
    "interchange": "learning records are made by the site",
    "lessons": "the site works it out for what is asked",
    "nets": "what is changed here is what the site has",
    "office": "it tells how the site is",
    "people": "an account is made and changed with the site alone",
    "predicting": "the rules are asked of what was just expected",
    "privacy": "what the site has of a person comes from the site",
    "recall": "each set is drawn for its day; tasks for sea are set beforehand",
    "register": "it is the site's register as of now",
    "sea": "nobody's page: every phone has it with the worker, and shows it by itself",
    "trips": "the page itself has the rules' text and the openings of the days ahead",
    "trying": "for who has no account, and so nothing along",
    "work": "long work is done by the site",
}
OTHERS = {
    "find": OF_OTHERS,
    "people:group_calendar": "a calendar keeps it by itself",
    "people:here": "who is here is said to the site",
    "people:session_calendar": "a calendar keeps it by itself",
    "words": "a part of pages, kept with them where it is needed",
}


def _without_page():
    """Return the names of addresses that nobody can look at: they only take what is sent."""
    found = re.findall(r"^(\S+) +(GET|POST) (.*)", ROLES.read_text(), re.MULTILINE)
    seen = {name for name, method, words in found if method == "GET" and " yes " in f" {words} "}
    return {name for name, _, _ in found} - seen


def reason(name, view, without_page):
    """Return (whether it opens, why) of the address ``name``; KeyError where nobody says."""
    if getattr(view, "opens_without_signal", False):
        return True, TAKEN
    if said := getattr(view, "why_signal", ""):
        return False, said
    if name in without_page:
        return False, CHANGES
    if getattr(view, "seen_by", None) in (Door.STAFF, Door.WHOLE_FLEET):
        return False, OF_OTHERS
    return False, OTHERS[name] if name in OTHERS else ROOMS[name.partition(":")[0]]


def lines():
    """Return a line of the table for each address, by name."""
    without_page = _without_page()
    found = set()
    for name, _route, pattern in patterns():
        if name.startswith("admin:"):
            continue
        view = pattern.callback
        opens, why = reason(name, view, without_page)
        noted = "yes" if getattr(view, "notes_without_signal", False) else "-"
        found.add(f"{name:40} {'yes' if opens else 'no':6} {noted:5} {why}")
    found.add(f"{'admin:*':40} {'no':6} {'-':5} {ROOMS['admin']}")
    return sorted(found)


def text():
    return HEAD + "\n".join(lines()) + "\n"


if __name__ == "__main__":
    FILE.write_text(text())
