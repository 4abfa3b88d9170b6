"""
Who gets what at each address of the site, by method: asked for as everybody, with real rows.

``python -m tests.people.roles`` makes ``roles.txt`` anew: read what changed in it, line by line.
``test_roles`` fails where the site answers otherwise, and for an address without a line.
"""

import os
import subprocess
import sys
import uuid
from pathlib import Path

from django.db import transaction
from django.test import Client
from django.urls import URLPattern, get_resolver, reverse

from tests.site import PASSWORD
from training.people.models import Membership, Reach, Role, User

FILE = Path(__file__).with_name("roles.txt")
WRITE = "ROLES_WRITE"
METHODS = ("GET", "POST")

# Signed in, but for the first. The trainee and the officer are those whose the rows are.
WHO = {
    "visitor": "visitor",
    "other": "a trainee with nothing of his own",
    "trainee": "the trainee whose the rows are",
    "officer": "the officer whose the sheets and turns are",
    "far": "staff held to a harbor of which none of it is",
    "near": "staff held to the harbors of which all of it is",
    "fleet": "staff of the whole fleet",
    "admin": "administrator",
}
HEAD = """\
Who gets what at each address, by method. Made by: python -m tests.people.roles
yes: let in, whatever it then says of an empty form.  sign in: led to sign in.
no: refused (403).  none: told that there is no such thing (404).  -: not a method of it (405).
"""
FAR = "Nowhere Harbor"
NO_DEED = {"admin:jsi18n", "admin:logout"}


def patterns(resolver=None, spaces=(), route=""):
    """Yield (``namespace:name``, whole route, pattern) of all addresses, Django's admin's too."""
    for each in (resolver or get_resolver()).url_patterns:
        here = route + str(each.pattern)
        if isinstance(each, URLPattern):
            yield ":".join([*spaces, each.name or str(each.pattern)]), here, each
        else:
            inner = [*spaces, each.namespace] if each.namespace else spaces
            yield from patterns(each, inner, here)


def addresses(world):
    """Return {(name, route): path}, of each address with the first row that it can ask for."""
    found, known = {}, world.known()
    for name, route, pattern in patterns():
        takes_some = pattern.pattern.converters or "<" in route or "(?P" in route
        if name.startswith("admin:"):
            # With rows they are asked for in test_held: none changes anything.
            if not takes_some and name not in NO_DEED:
                found[name, route] = reverse(name)
        else:
            found[name, route] = reverse(name, kwargs=known[name][0] if takes_some else {})
    return found


def everybody(world):
    """Return the clients of WHO, by name."""
    harbors = {world.group.harbor, world.vessel.harbor, world.removal.vessel.harbor}
    harbors |= {each.harbor for each in world.checks}
    Membership.objects.create(user=world.officer, group=world.group)
    Membership.objects.create(user=world.supervised.user, group=world.group)
    world.supervision.group = world.group
    world.supervision.save()
    people = {
        "visitor": None,
        "other": _new("nobody", Role.TRAINEE),
        "trainee": world.user,
        "officer": world.officer,
        "far": _held("far", [FAR]),
        "near": _held("near", harbors),
        "fleet": _new("fleet", Role.STAFF, whole_fleet=True),
        "admin": User.objects.create_superuser("admin@example.com", PASSWORD, name="Admin"),
    }
    return {who: _signed_in(person) for who, person in people.items()}


def _new(name, role, **more):
    return User.objects.create_user(f"{name}@example.com", PASSWORD, name=name, role=role, **more)


def _held(name, harbors):
    person = _new(name, Role.STAFF)
    for harbor in harbors:
        Reach.objects.create(user=person, harbor=harbor)
    return person


def _signed_in(person):
    client = Client(raise_request_exception=False)
    if person:
        client.force_login(person)
    return client


def outcome(client, method, path):
    """Return what ``client`` gets there, in a word; nothing of it stays."""
    more = {"key": str(uuid.uuid4())} if method == "POST" else {}
    cookies = client.cookies.copy()
    with transaction.atomic():
        answer = client.generic("GET", path) if method == "GET" else client.post(path, more)
        transaction.set_rollback(True)
    client.cookies = cookies
    doors = (reverse("people:sign_in"), reverse("admin:login"))
    if answer.status_code == 302 and answer["Location"].partition("?")[0] in doors:
        return "sign in"
    return {500: "broken", 403: "no", 404: "none", 405: "-"}.get(answer.status_code, "yes")


def table(world):
    """Return the lines of the table: name and method, then a word for each of WHO, then route."""
    clients, lines = everybody(world), []
    for (name, route), path in addresses(world).items():
        for method in METHODS:
            told = [outcome(client, method, path) for client in clients.values()]
            if set(told) - {"-", "sign in"}:
                words = " ".join(f"{each:<8}" for each in told)
                lines.append(f"{name:<36} {method:<5} {words} /{route}".rstrip())
    return sorted(lines)


def text(lines):
    """Return the whole file that has ``lines``."""
    who = "".join(f"{name}: {words}\n" for name, words in WHO.items())
    heads = " ".join(f"{name:<8}" for name in WHO)
    return f"{HEAD}{who}\n{'address':<36} {'':<5} {heads} route\n" + "\n".join(lines) + "\n"


def main():
    """Make the file anew."""
    # Apart, for the tests have a database of their own.
    tests = [sys.executable, "-m", "pytest", "-c", "tests/pytest.ini", "-q"]
    here = str(FILE.with_name("test_roles.py"))
    sys.exit(subprocess.run([*tests, here], env=os.environ | {WRITE: "1"}, check=False).returncode)


if __name__ == "__main__":
    main()
