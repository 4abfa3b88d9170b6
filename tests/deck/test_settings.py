"""Settings from the environment: read, refused in words, and checked for use."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from django.core import checks

from training.deck.checks import SETTINGS, wrong_settings
from training.deck.environment import Environment, WrongSettings
from training.deck.readiness import Well
from training.deck.site_readiness import settings_are_right

ROOT = Path(__file__).resolve().parents[2]

# A site as an office would run it, and nothing to say against it.
GOOD = {
    "LOCAL": False,
    "SITE_DEMO": False,
    "SITE_PROXIES": 1,
    "STAFF_FACTOR": True,
    "ALLOWED_HOSTS": ["training.example"],
    "SITE_ADDRESS": "https://training.example",
    "OFFICE_NAME": "Tern Sound Fisheries Extension",
    "EMAIL_HOST": "mail.office.example",
    "EMAIL_HOST_USER": "training",
    "EMAIL_HOST_PASSWORD": "sanderling over mud",
    "DEFAULT_FROM_EMAIL": "Training <training@office.example>",
    "ERROR_MAIL": ["office@office.example"],
    "READY_TOKEN": "sanderling-over-mud-and-marsh",
    "PHOTO_BUCKET": "photos",
    "PHOTO_STORE": "https://objects.example",
    "PHOTO_USER": "tern",
    "PHOTO_PASSWORD": "tern",
    "XAPI_ENDPOINT": "https://records.example/xapi",
    "XAPI_USER": "tern",
    "XAPI_PASSWORD": "tern",
}


@pytest.fixture
def site(settings, tmp_path):
    """The settings of such a site."""
    for name, value in GOOD.items():
        setattr(settings, name, value)
    (tmp_path / "staticfiles.json").touch()
    settings.STATIC_ROOT = tmp_path
    return settings


def found():
    """Return what is wrong as {setting: level}; each names its remedy."""
    messages = wrong_settings()
    assert all(message.hint for message in messages)
    return {message.id.removeprefix("settings."): message.level for message in messages}


def test_nothing_is_said_against_good_settings(site):
    assert found() == {}


@pytest.mark.parametrize(
    ("name", "value", "under"),
    [
        ("ALLOWED_HOSTS", [], "ALLOWED_HOSTS SITE_ADDRESS"),
        ("ALLOWED_HOSTS", ["*"], "ALLOWED_HOSTS"),
        ("ALLOWED_HOSTS", ["training.example", "https://tern.example"], "ALLOWED_HOSTS"),
        ("ALLOWED_HOSTS", ["training.example", "tern.example:8000"], "ALLOWED_HOSTS"),
        ("ALLOWED_HOSTS", ["tern.example"], "SITE_ADDRESS"),
        ("SITE_ADDRESS", "", "SITE_ADDRESS"),
        ("SITE_ADDRESS", "http://training.example", "SITE_ADDRESS"),
        ("SITE_ADDRESS", "training.example", "SITE_ADDRESS"),
        ("SITE_ADDRESS", "https://training.example/site", "SITE_ADDRESS"),
        ("SITE_ADDRESS", "https://[training.example", "SITE_ADDRESS"),
        ("OFFICE_NAME", "", "OFFICE_NAME"),
        ("EMAIL_HOST", "", "EMAIL_HOST"),
        ("EMAIL_HOST_PASSWORD", "", "EMAIL_HOST"),
        ("DEFAULT_FROM_EMAIL", "training@localhost", "MAIL_FROM"),
        ("DEFAULT_FROM_EMAIL", "the office", "MAIL_FROM"),
        ("ERROR_MAIL", [], "ERROR_MAIL"),
        ("ERROR_MAIL", ["the office"], "ERROR_MAIL"),
        ("READY_TOKEN", "", "READY_TOKEN"),
        ("READY_TOKEN", "tern", "READY_TOKEN"),
        ("SITE_DEMO", True, "SITE_DEMO"),
        ("SITE_PROXIES", 0, "SITE_PROXIES"),
        ("STAFF_FACTOR", False, "STAFF_FACTOR"),
        ("STATIC_ROOT", Path("/nowhere"), "STATIC_ROOT"),
        ("PHOTO_BUCKET", "", "PHOTO_BUCKET"),
        ("PHOTO_STORE", "http://objects.example", "PHOTO_BUCKET"),
        ("PHOTO_PASSWORD", "", "PHOTO_BUCKET"),
        ("XAPI_ENDPOINT", "", "XAPI_ENDPOINT"),
        ("XAPI_ENDPOINT", "http://records.example", "XAPI_ENDPOINT"),
        ("XAPI_PASSWORD", "", "XAPI_ENDPOINT"),
    ],
)
def test_what_is_wrong_is_said_under_its_name(site, name, value, under):
    setattr(site, name, value)
    assert set(found()) == set(under.split())


def test_who_serves_without_a_key_or_a_proxy_is_told_and_not_stopped(site):
    site.SITE_PROXIES, site.CERTIFICATE_KEY, site.CERTIFICATE_KEY_FILE = 0, "", None
    assert found() == {"SITE_PROXIES": checks.INFO, "CERTIFICATE_KEY": checks.WARNING}


def test_a_name_one_slip_off_is_found_before_any_command(site):
    names = {"SITE_PROXIE": "1", "SITE_PROXIES": "1", "SITE_PACKAGES": "", "EDITOR": "vi"}
    site.ENVIRONMENT = Environment(names)
    site.ENVIRONMENT.number("SITE_PROXIES", 0)
    (message,) = checks.run_checks(tags=[SETTINGS])
    assert "SITE_PROXIE." in message.msg
    assert "SITE_PROXIES" in message.hint


def test_readiness_names_what_is_wrong(site):
    assert isinstance(settings_are_right(), Well)
    site.EMAIL_HOST, site.OFFICE_NAME, site.SITE_PROXIES = "", "", 0
    assert "EMAIL_HOST, OFFICE_NAME. Run" in settings_are_right()
    site.LOCAL = True
    assert isinstance(settings_are_right(), Well)


def test_a_finding_can_be_silenced(site):
    site.OFFICE_NAME = ""
    site.SILENCED_SYSTEM_CHECKS = ["settings.OFFICE_NAME"]
    assert found() == {}


@pytest.mark.parametrize("value", ["-1", "1.5", "one", "10", "٣", "9" * 5000])
def test_a_number_that_is_none_is_refused_in_words(value):
    env = Environment({"SITE_PROXIES": value})
    assert env.number("SITE_PROXIES", 0, most=9) == 0
    with pytest.raises(WrongSettings, match="SITE_PROXIES is .* from 0 to 9"):
        env.stop_if_wrong()


def test_what_is_blank_or_missing_is_the_default():
    env = Environment({"A": " ", "B": " 3 "})
    assert (env.number("A", 7), env.number("B", 7), env.number("C", 7)) == (7, 3, 7)
    assert (env.text("A", "x"), env.flag("A"), env.words("A")) == ("x", False, [])
    env.stop_if_wrong()
    assert env.names == {"A", "B", "C"}


def test_a_secret_is_read_to_the_letter_and_never_told():
    env = Environment({"KEY": " tern ", "DATABASE_URL": "postgres://tern:secret"})
    assert env.secret("KEY") == " tern "
    assert env.read("DATABASE_URL", lambda: int("no number"), "Write an address.") is None
    with pytest.raises(WrongSettings) as refused:
        env.stop_if_wrong()
    assert "secret" not in str(refused.value)


def run(*command, **environ):
    """Run Python with no settings but ``environ``; return (exit code, both outputs)."""
    environ |= {name: os.environ[name] for name in ("PATH", "HOME") if name in os.environ}
    done = subprocess.run(
        [sys.executable, *command], cwd=ROOT, env=environ, capture_output=True, text=True
    )
    return done.returncode, done.stdout + done.stderr


def test_all_that_cannot_be_read_is_told_at_once_and_without_a_traceback():
    wrong = {"SITE_PROXIES": "two", "TIME_ZONE": "Tern Sound", "HSTS_PRELOAD": "maybe"}
    wrong |= {"DATABASE_URL": "tern://secret", "SITE_DEMO": "0", "EMAIL_PORT": "70000"}
    code, words = run("manage.py", "check", SECRET_KEY="k" * 60, **wrong)
    assert code == 1
    assert len(words.splitlines()) == 5
    assert all(name in words for name in wrong if name != "SITE_DEMO")
    assert "secret" not in words


SHOW = "from django.conf import settings; print(settings.SECURE_HSTS_PRELOAD)"


@pytest.mark.parametrize("asked", ["0", "1"])
def test_browser_makers_are_asked_to_ship_the_name_only_if_the_office_wants_it(asked):
    environ = {"DJANGO_SETTINGS_MODULE": "training.settings", "SECRET_KEY": "k" * 60}
    code, words = run("-c", SHOW, HSTS_PRELOAD=asked, **environ)
    assert (code, words.strip()) == (0, str(asked == "1"))
