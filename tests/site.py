"""
What the site's tests share: its environment, its people and their clients.

A plugin that ``tests/pytest.ini`` names; the rule module's own tests know no site.
``user``, ``officer`` and ``staff`` are people of each role; ``as_user``, ``as_officer``
and ``as_staff`` are clients in which they are signed in.
"""

import os

from training.certification.badge_keys import SigningKey

# Plain HTTP, nothing collected, no mail sent: as in the demo, but with a key and a
# database of the tests' own. Set before Django reads its settings.
os.environ.setdefault("DJANGO_SETTINGS_MODULE", "training.settings")
os.environ["SITE_DEMO"] = "1"
os.environ["SECRET_KEY"] = "for tests only, and for nothing else than tests"
for name in (
    "DEBUG",
    "ALLOWED_HOSTS",
    "EMAIL_HOST",
    "ERROR_MAIL",
    "READY_TOKEN",
    "SITE_PROXIES",
    "STAFF_FACTOR",
    "SITE_ADDRESS",
    "XAPI_ENDPOINT",
    "CERTIFICATE_OLD_KEYS",
):
    os.environ.pop(name, None)
# Certificates are signed with a key of this run's; the demo's would be made and kept.
os.environ["CERTIFICATE_KEY"] = SigningKey.generate().pem()

import django  # noqa: E402
import pytest  # noqa: E402

django.setup()

from django.db import connection  # noqa: E402
from django.test import Client, override_settings  # noqa: E402

from rigs.rules import rulebook  # noqa: E402
from tests.moments import BEFORE  # noqa: E402
from training.people.models import Group, Membership, Role, User  # noqa: E402
from training.rulesets import shelf  # noqa: E402

PASSWORD = "sanderling over mud"

# Most tests of the rule module have no database, and ask for rule sets while they are
# collected. The database's own are on the shelf for the tests that have it.
rulebook.remove_source(shelf.approved)


@pytest.fixture(autouse=True, scope="session")
def database_of_this_run(tmp_path_factory):
    """
    Give this run a test database of its own; settled before it is made.

    SQLite's is in a file, as the site's own is: in memory it has no write-ahead log and
    no separate connections, so that two requests at once would not meet what they meet
    in use. The file is new for each run and each worker: runs beside each other do not
    meet. On a server they are kept apart by name: TEST_DATABASE, and each worker adds
    its own to it.
    """
    if connection.vendor == "sqlite":
        folder = tmp_path_factory.mktemp("database")
        connection.settings_dict["TEST"]["NAME"] = str(folder / "test.sqlite3")
    elif name := os.environ.get("TEST_DATABASE"):
        connection.settings_dict["TEST"]["NAME"] = name


@pytest.fixture(autouse=True, scope="session")
def quick_passwords():
    """Hash passwords fast: the real way is slow on purpose, and tests make many."""
    with override_settings(PASSWORD_HASHERS=["django.contrib.auth.hashers.MD5PasswordHasher"]):
        yield


def uses_database(item):
    """Return whether the test ``item`` may use the test database; pytest-django bars all others."""
    asked = {"db", "transactional_db", "live_server"} & set(item.fixturenames)
    return bool(asked) or item.get_closest_marker("django_db") is not None


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items):
    """Mark each test without the test database, so that ``-m "not one_database"`` leaves it out."""
    for item in items:
        if not uses_database(item):
            item.add_marker("one_database")


@pytest.fixture(autouse=True)
def approved_rule_sets(request):
    """Have the shelf hold what the database of this very test has approved, if it has one."""
    if not uses_database(request.node):
        yield
        return
    shelf.forget()
    rulebook.add_source(shelf.approved)
    yield
    rulebook.remove_source(shelf.approved)
    shelf.forget()


def _person(role, name):
    email = f"{name.split()[0].lower()}@example.com"
    whole = role == Role.STAFF
    return User.objects.create_user(email, PASSWORD, name=name, role=role, whole_fleet=whole)


def make_group():
    """Return a new group of crews."""
    return Group.objects.create(name="Marrow Point crews", code="TERN42", harbor="Marrow Point")


def make_trainee(group):
    """Return a new trainee, a member of ``group``."""
    person = _person(Role.TRAINEE, "Wren Tolliver")
    Membership.objects.create(group=group, user=person)
    return person


def make_officer():
    """Return a new officer."""
    return _person(Role.OFFICER, "Piper Lund")


def make_staff():
    """Return a new member of the staff, who looks after the whole fleet."""
    return _person(Role.STAFF, "Robin Ashby")


@pytest.fixture
def group(db):
    return make_group()


@pytest.fixture
def user(group):
    """A trainee, a member of ``group``."""
    return make_trainee(group)


@pytest.fixture
def officer(db):
    return make_officer()


@pytest.fixture
def staff(db):
    return make_staff()


def _signed_in(person):
    client = Client()
    client.force_login(person)
    return client


@pytest.fixture
def as_user(user):
    return _signed_in(user)


@pytest.fixture
def as_officer(officer):
    return _signed_in(officer)


@pytest.fixture
def as_staff(staff):
    return _signed_in(staff)


@pytest.fixture
def second(db):
    """Another member of the staff, from before all tests, to agree to what ``staff`` asks for."""
    return User.objects.create_user(
        "perrin@example.com", name="Perrin Holt", role=Role.STAFF, whole_fleet=True, joined=BEFORE
    )


@pytest.fixture
def as_second(second):
    return _signed_in(second)
