"""The frame of the site: settings, database, headers, error pages."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.management import call_command
from django.db import IntegrityError, connection
from django.test import Client
from django.urls import path, reverse

from training.certification.badge_keys import SigningKey
from training.people.models import Membership
from training.settings import demo_secret_key
from training.urls import handler403, handler404, handler500  # noqa: F401
from training.urls import urlpatterns as site_patterns

ROOT = Path(__file__).resolve().parents[2]


def manage(*words, **environment):
    """Run ``manage.py`` with no settings in its environment but the given ones."""
    kept = {name: os.environ[name] for name in ("PATH", "HOME", "LANG") if name in os.environ}
    return subprocess.run(
        [sys.executable, "manage.py", *words],
        cwd=ROOT,
        env=kept | environment,
        capture_output=True,
        text=True,
        check=False,
    )


PRODUCTION = {
    "SECRET_KEY": "x7" * 10 + "-some-long-and-various-key-" + "Q3" * 10,
    "ALLOWED_HOSTS": "training.example.org",
    "SITE_PROXIES": "1",
    "SITE_ADDRESS": "https://training.example.org",
    "OFFICE_NAME": "Tern Sound Fisheries Extension",
    "EMAIL_HOST": "mail.example.org",
    "MAIL_FROM": "training@example.org",
    "ERROR_MAIL": "office@example.org",
    "READY_TOKEN": "t8" * 20,
    "CERTIFICATE_KEY": SigningKey.generate().pem(),
}


def test_production_settings_pass_the_deployment_check():
    """All but the drawings and styles, which nobody collected where tests run."""
    result = manage("check", "--deploy", "--fail-level", "WARNING", **PRODUCTION)
    found = set(re.findall(r"\((\w+\.\w+)\)", result.stdout + result.stderr))
    assert found <= {"settings.STATIC_ROOT"}
    assert "manage.py collectstatic" in result.stderr or result.returncode == 0


def test_without_a_key_nothing_starts():
    result = manage("check")
    assert result.returncode != 0
    assert "Set SECRET_KEY" in result.stderr


def test_debug_is_off_unless_asked_for():
    ask = "from django.conf import settings as s; print(s.DEBUG, s.SECURE_SSL_REDIRECT)"
    assert manage("shell", "-v0", "-c", ask, **PRODUCTION).stdout.split() == ["False", "True"]
    debug = manage("shell", "-v0", "-c", ask, **PRODUCTION, DEBUG="1")
    assert debug.stdout.split() == ["True", "False"]


def test_a_database_url_is_followed():
    ask = "from django.conf import settings as s; d = s.DATABASES['default']; "
    ask += "print(d['ENGINE'], d['NAME'], d.get('OPTIONS', {}))"
    url = "postgresql://someone@db.example.org/training"
    result = manage("shell", "-v0", "-c", ask, **PRODUCTION, DATABASE_URL=url)
    assert result.stdout.split() == ["django.db.backends.postgresql", "training", "{}"]


def test_static_files_can_be_collected_and_a_page_served_from_them(tmp_path):
    ask = (
        "from django.conf import settings as s; from pathlib import Path;"
        f"s.STATIC_ROOT = Path({str(tmp_path / 'static')!r});"
        "from django.core.management import call_command;"
        "call_command('collectstatic', verbosity=0, interactive=False);"
        "from django.test import Client;"
        "r = Client().get('/account/sign-in/', secure=True,"
        " headers={'host': 'training.example.org'}); print(r.status_code, r.content.decode())"
    )
    database = f"sqlite:///{tmp_path / 'site.sqlite3'}"
    made = manage("migrate", "-v0", **PRODUCTION, DATABASE_URL=database)
    assert made.returncode == 0, made.stderr
    result = manage("shell", "-v0", "-c", ask, **PRODUCTION, DATABASE_URL=database)
    assert result.stdout.startswith("200 "), result.stderr
    (sheet,) = (tmp_path / "static" / "css").glob("site.????????????.css")
    assert f"css/{sheet.name}" in result.stdout


def test_the_demo_makes_its_key_once(tmp_path):
    first = demo_secret_key(tmp_path / "demo")
    assert len(first) >= 50
    assert demo_secret_key(tmp_path / "demo") == first
    assert (tmp_path / "demo" / "secret_key").stat().st_mode & 0o077 == 0


@pytest.mark.django_db
def test_migrations_are_complete():
    call_command("makemigrations", check=True, dry_run=True, verbosity=0)


sqlite_only = pytest.mark.skipif(
    connection.vendor != "sqlite", reason="about SQLite; another database is in use"
)


@sqlite_only
@pytest.mark.django_db(transaction=True)
def test_sqlite_keeps_a_write_ahead_log_and_minds_foreign_keys():
    with connection.cursor() as cursor:
        pragmas = {
            name: cursor.execute(f"PRAGMA {name}").fetchone()[0]
            for name in ("journal_mode", "foreign_keys", "busy_timeout")
        }
    assert pragmas == {"journal_mode": "wal", "foreign_keys": 1, "busy_timeout": 20000}
    assert connection.transaction_mode == "IMMEDIATE"


@pytest.mark.django_db(transaction=True)
def test_a_membership_of_nobody_is_refused_by_the_database(group):
    with pytest.raises(IntegrityError):
        Membership.objects.create(group=group, user_id=999_999)


@pytest.mark.django_db
def test_pages_let_nothing_from_elsewhere_in(client):
    policy = client.get("/account/sign-in/")["Content-Security-Policy"]
    directives = dict(part.strip().split(" ", 1) for part in policy.split(";") if part.strip())
    assert directives == {
        "default-src": "'self'",
        "object-src": "'none'",
        "base-uri": "'none'",
        "form-action": "'self'",
        "frame-ancestors": "'none'",
    }


@pytest.mark.django_db
def test_pages_carry_no_inline_styles_or_scripts(client, as_staff):
    for page in (client.get("/account/sign-up/"), as_staff.get("/account/")):
        html = page.content.decode()
        assert " style=" not in html
        assert "<style" not in html
        assert html.count("<script") == html.count('<script type="module" src="')


def fall_over(request):
    raise RuntimeError("on purpose")


urlpatterns = [*site_patterns, path("fall-over/", fall_over)]


@pytest.mark.urls(__name__)
@pytest.mark.django_db
def test_a_fault_gets_a_kind_page(user):
    client = Client(raise_request_exception=False)
    client.force_login(user)
    page = client.get("/fall-over/")
    assert page.status_code == 500
    assert "Something went wrong on our side" in page.content.decode()


@pytest.mark.django_db
def test_an_address_that_leads_nowhere_gets_a_kind_page(client):
    page = client.get("/no/such/page/")
    assert page.status_code == 404
    assert "Page not found" in page.content.decode()


@pytest.mark.django_db
def test_a_refused_person_gets_a_kind_page(as_user):
    page = as_user.get("/desk/calls/")
    assert page.status_code == 403
    assert "You cannot open this page" in page.content.decode()


@pytest.mark.django_db
def test_a_stale_form_gets_a_kind_page(user):
    client = Client(enforce_csrf_checks=True)
    page = client.post("/account/sign-in/", {"username": user.email})
    assert page.status_code == 403
    assert "Please send it again" in page.content.decode()


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("name", "link"),
    [
        ("desk:trainees", "desk:trainees"),
        ("evidence:evidence", "evidence:evidence"),
        ("register:vessel_new", "register:vessels"),
        ("checks:check_new", "checks:checks"),
        ("nets:net_new", "nets:nets"),
        ("trips:trip", "trips:trip"),
        ("people:password", "people:account"),
    ],
)
def test_the_menu_marks_the_page_that_another_belongs_to(as_staff, name, link):
    page = as_staff.get(reverse(name)).content.decode()
    # Once in the row of a desk and once in the menu of a phone.
    row, menu = page[: page.index('class="nav-narrow"')], page[page.index('class="nav-narrow"') :]
    for part in (row, menu[: menu.index("</header>")]):
        assert re.findall(r'href="([^"]*)" aria-current="true"', part) == [reverse(link)]
