"""
A real browser on a live server.

``phone`` and ``desk`` are pages of a small touch screen and of a wide one, opened
on the live server, so that ``phone.goto("/")`` is enough. ``sign_in(page, user)``
signs in; ``axe(page)`` fails on anything that shuts people out, ``axe_in_both(page)``
in the light or in the dark. Chromium is looked for on the path, or where ``CHROMIUM`` says.
"""

import os
import shutil
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.conf import settings
from django.test import Client
from playwright.sync_api import expect, sync_playwright

# Playwright's plain calls run an event loop behind the scenes, in the tests' own
# thread. Django sees the loop and refuses to touch the database there, lest it hold
# up other tasks of the loop; there are none, so it may.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"

HERE = Path(__file__).resolve().parent

FLAGS = [
    "--no-sandbox",  # containers, where tests often run, do not allow one
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]

# How long to wait for what is bound to come: long, for machines that do much at once.
PATIENCE = 60_000  # milliseconds
expect.set_options(timeout=PATIENCE)

SHUT_OUT = {"serious", "critical"}


def pytest_collection_modifyitems(items):
    """Mark every test in this folder, so that ``-m "not browser"`` leaves them out."""
    for item in items:
        if HERE in item.path.parents:
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def chromium():
    """A running browser."""
    path = os.environ.get("CHROMIUM") or shutil.which("chromium")
    if not path or not shutil.which(path):
        pytest.fail(
            f"No Chromium at {path or 'any place on the path'}: browser tests need one. "
            "Install it (Debian: apt install chromium) or set CHROMIUM to where it is.",
            pytrace=False,
        )
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=FLAGS)
        yield browser
        browser.close()


@pytest.fixture
def open_page(chromium, live_server):
    """
    A function that opens a page, given what Playwright's ``new_context`` takes.

    At the end of the test a script that stumbled, or a thing on the page that the
    content security policy held back, fails it.
    """
    contexts = []
    trouble = []

    def note(message):
        if "Content Security Policy" in message.text:
            trouble.append(message.text)

    def opened(**options):
        context = chromium.new_context(**{"base_url": live_server.url} | options)
        context.set_default_timeout(PATIENCE)
        contexts.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: trouble.append(str(error)))
        page.on("console", note)
        return page

    yield opened
    for context in contexts:
        context.close()
    assert not trouble


@pytest.fixture
def phone(open_page):
    """A page on a phone of 360 by 740 pixels with a touch screen."""
    return open_page(
        viewport={"width": 360, "height": 740},
        has_touch=True,
        is_mobile=True,
        device_scale_factor=2,
    )


@pytest.fixture
def desk(open_page):
    """A page on a screen of 1280 by 800 pixels."""
    return open_page(viewport={"width": 1280, "height": 800})


@pytest.fixture
def sign_in(live_server):
    """A function that signs ``user`` in on ``page``, without going through the form."""

    def signed_in(page, user):
        client = Client()
        client.force_login(user)
        name = settings.SESSION_COOKIE_NAME
        page.context.add_cookies(
            [{"name": name, "value": client.cookies[name].value, "url": live_server.url}]
        )

    return signed_in


@pytest.fixture
def axe():
    """A function that fails if axe-core finds a serious or critical problem on ``page``."""

    def checked(page):
        if not page.evaluate("'axe' in window"):
            page.evaluate(Axe().axe_script)
        violations = page.evaluate(
            "axe.run({resultTypes: ['violations']}).then(found => found.violations)"
        )
        found = [
            f"{violation['impact']}: {violation['help']} ({violation['id']}) at "
            + "; ".join(node["html"][:160] for node in violation["nodes"])
            for violation in violations
            if violation["impact"] in SHUT_OUT
        ]
        assert not found, f"on {page.url}:\n" + "\n".join(found)

    return checked


@pytest.fixture
def axe_in_both(axe):
    """
    ``axe``, of ``page`` as it is in the light and then as it is in the dark.

    For pages that were opened once: a page that turns dark is as one opened in the dark
    (``test_accessibility`` holds that).
    """

    def checked(page):
        for scheme in ("light", "dark"):
            page.emulate_media(color_scheme=scheme)
            axe(page)

    return checked
