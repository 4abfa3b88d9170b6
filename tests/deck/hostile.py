"""
Sends every form of the site what nobody means, to see that it stays up.

What a page reads is found by asking: its own form as it is shown, and each name that its view
looks for in what it is sent.
"""

from contextlib import contextmanager
from html.parser import HTMLParser
from typing import NamedTuple
from urllib.parse import quote_from_bytes

from django.db import transaction
from django.http import QueryDict
from django.test import Client
from django.urls import resolve, reverse
from django.utils.datastructures import MultiValueDict

from tests.test_no_version import people
from training.people.models import User
from training.people.sight import Door

NOT_ASKED = "csrfmiddlewaretoken"

VALUES = [
    b"",
    b"\0",
    b"\xed\xa0\xbd",  # half an emoji
    "🎣\u202e٣²".encode(),
    b"9" * 5000,
    b"9" * 190,
    b"-1",
    b"1e999",
    b"NaN",
    str(2**63).encode(),
    b"0001-01-01",
    b"9999-12-31",
    b"0000-00-00",
    b"[" * 2000,
    b"x" * 3000,
    b"5/0",
    b"24:99",
    b"00000000-0000-4000-8000-000000000000",
    b'{"a": [1]}',
    b"../..",
    b"%s{0.__class__}",
]
"""What is sent in place of an entry, bytes as they come over the wire."""


class Form(NamedTuple):
    """What can be sent to ``address`` by ``method``: values by name, as a page shows them."""

    client: Client
    view: str
    method: str
    address: str
    entries: dict


class _Fields(HTMLParser):
    """Collects the values of the fields of a page, by name."""

    def __init__(self):
        super().__init__()
        self.found, self._select, self._text = {}, None, None

    def handle_starttag(self, tag, pairs):
        told = dict(pairs)
        name = told.get("name")
        if tag == "select":
            self._select = name
        elif tag == "option" and self._select:
            if "selected" in told or self._select not in self.found:
                self.found[self._select] = told.get("value", "")
        elif tag == "textarea" and name:
            self._text, self.found[name] = name, ""
        elif tag in ("input", "button") and name:
            is_choice = told.get("type") in ("checkbox", "radio")
            if not is_choice or "checked" in told or name not in self.found:
                self.found[name] = told.get("value", "on")

    def handle_data(self, data):
        if self._text:
            self.found[self._text] += data

    def handle_endtag(self, tag):
        if tag == "select":
            self._select = None
        elif tag == "textarea":
            self._text = None


@contextmanager
def names_asked():
    """Yield a set that fills with the names looked for in what is sent, for a ``with`` block."""
    found = set()
    kept = {name: getattr(MultiValueDict, name) for name in ("get", "getlist", "__getitem__")}

    def noting(method):
        def asked(self, key, *rest, **more):
            if isinstance(self, QueryDict) and isinstance(key, str):
                found.add(key)
            return method(self, key, *rest, **more)

        return asked

    for name, method in kept.items():
        setattr(MultiValueDict, name, noting(method))
    QueryDict.__contains__ = noting(dict.__contains__)
    try:
        yield found
    finally:
        for name, method in kept.items():
            setattr(MultiValueDict, name, method)
        del QueryDict.__contains__


def send(form, entries):
    """Return the answer to ``entries``, bytes by name; whatever it did is taken back."""
    body = "&".join(f"{name}={quote_from_bytes(value)}" for name, value in entries.items())
    cookies = dict(form.client.cookies)
    with transaction.atomic():
        try:
            if form.method == "get":
                response = form.client.get(f"{form.address}?{body}")
            else:
                kind = "application/x-www-form-urlencoded"
                response = form.client.post(form.address, body, content_type=kind)
            if getattr(response, "streaming", False):
                b"".join(response.streaming_content)
        finally:
            transaction.set_rollback(True)
            form.client.cookies.clear()
            form.client.cookies.update(cookies)
    return response


def _shown(response):
    """Return the entries of the forms on a page."""
    if response.streaming or "html" not in response.get("Content-Type", ""):
        return {}
    fields = _Fields()
    fields.feed(response.content.decode())
    fields.found.pop(NOT_ASKED, None)
    return {name: value.encode() for name, value in fields.found.items()}


def _is_read(response, asked):
    """Return whether a view read what it was sent; one may say 404 to what names no row."""
    if response.status_code == 302 and "/sign-in/" in response["Location"]:
        return False
    return response.status_code not in (403, 405) and (response.status_code != 404 or asked)


def everybody(world):
    """Return the clients of all sorts of people, by the Door they are first to open."""
    User.objects.filter(pk=world.staff.pk).update(is_superuser=True)
    world.staff.refresh_from_db()
    (__, visitor), (__, user), (__, officer), (__, staff) = people(world)
    return {
        Door.ANYONE: [visitor],
        Door.SIGNED_IN: [user],
        Door.OWNER: [user, officer, staff],
        Door.OFFICERS: [officer],
        Door.STAFF: [staff],
        Door.WHOLE_FLEET: [staff],
    }


def addresses(world):
    """Yield (view's name, Door, address) of each view once, some of the admin's lists as well."""
    seen = set()
    for address in world.addresses():
        found = resolve(address)
        if found.view_name not in seen:
            seen.add(found.view_name)
            yield found.view_name, found.func.seen_by, address
    for model in ("people_user", "people_group", "certification_exam", "exercises_attempt"):
        yield f"admin:{model}", Door.STAFF, reverse(f"admin:{model}_changelist")


def _form(form):
    """Return ``form`` with the entries that can be sent to it, None if it may not be sent."""
    with names_asked() as asked:
        first = send(form, {})
    if not _is_read(first, asked):
        return None
    shown = _shown(send(form._replace(method="get"), {})) if form.method == "post" else {}
    entries = dict.fromkeys(sorted(asked - {NOT_ASKED}), b"") | shown
    if form.view.startswith("admin:"):
        entries |= dict.fromkeys(("q", "p", "o", "e", "id__exact"), b"")
    return form._replace(entries=entries)


def forms(world, clients):
    """Return a Form of each view that can be sent anything, as the first of those who may."""
    found = []
    for view, door, address in addresses(world):
        for method in ("get", "post"):
            tried = (_form(Form(each, view, method, address, {})) for each in clients[door])
            form = next(filter(None, tried), None)
            if form and form.entries:
                found.append(form)
    return found
