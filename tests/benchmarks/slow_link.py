"""
How soon a lesson can be used over a slow link, and what it weighs: cold, again, and taken along.

The site is served as an office serves it, with its files collected and compressed, by gunicorn
without a proxy: HTTP/1.1 on six connections. Chromium is slowed down to 400 kbit/s, with 400 ms
before each answer begins. What connecting by TLS takes (two or three more ways there and back), and
packets that are lost, are not in it. Bytes are heads and bodies as they came, counted until nothing
more comes; of a lesson that the phone has, without what the site's worker looks up behind it.
"""

import os
import shutil
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.load import site

PORT = 8097
HOME = f"http://localhost:{PORT}"
RATE = 400_000 / 8  # bytes a second
DELAY = 400  # milliseconds
SECONDS, BYTES = 2, 100_000  # aims for a lesson that was never there

# Milliseconds from when the page is asked for: until its words are seen in their styles, and until
# the page's own scripts have run, so that its controls work.
MOMENTS = """() => [
  performance.getEntriesByName("first-contentful-paint")[0]?.startTime ?? 0,
  performance.getEntriesByType("navigation")[0].domContentLoadedEventEnd,
]"""


class Wire:
    """The network of one page, slowed down; ``bytes`` came over it."""

    def __init__(self, page):
        self.bytes = 0
        session = page.context.new_cdp_session(page)
        session.send("Network.enable")
        conditions = {"offline": False, "latency": DELAY}
        conditions |= {"downloadThroughput": RATE, "uploadThroughput": RATE}
        session.send("Network.emulateNetworkConditions", conditions)
        session.on("Network.loadingFinished", self._came)

    def _came(self, told):
        self.bytes += told["encodedDataLength"]


def _visit(page, wire, address):
    """Return (bytes, seconds until it is seen, seconds until its controls work)."""
    before = wire.bytes
    page.goto(address, wait_until="networkidle")
    seen, works = page.evaluate(MOMENTS)
    return wire.bytes - before, seen / 1000, works / 1000


def _told(weight, seen, works):
    return f"{weight / 1000:6.1f} KB, seen after {seen:4.2f} s, works after {works:4.2f} s"


def _cookie(session):
    return {"name": "sessionid", "value": session, "url": HOME}


def _measure(browser, session, lessons):
    print(f"Lessons at {RATE * 8 / 1000:.0f} kbit/s and {DELAY} ms (aims for a cold one: ", end="")
    print(f"{BYTES / 1000:.0f} KB, works after {SECONDS} s), signed in as a trainee")
    for address in lessons:
        context = browser.new_context(viewport={"width": 360, "height": 740})
        context.add_cookies([_cookie(session)])
        page = context.new_page()
        wire = Wire(page)
        cold = _visit(page, wire, HOME + address)
        again = _visit(page, wire, HOME + address)
        share = f"{cold[2] / SECONDS:4.2f} of the aim"
        print(f"  {address}\n    cold   {_told(*cold)}, {share}\n    again  {_told(*again)}")
        context.close()


def _measure_along(browser, session, lessons):
    """Print the same of a phone that has taken everything along."""
    from tests.browser.sea.conftest import SCREEN, Phone

    context = browser.new_context(base_url=HOME, **SCREEN)
    context.add_cookies([_cookie(session)])
    page = context.new_page()
    Phone(page, line=None).make_ready()
    wire = Wire(page)
    print("Taken along on one phone, the same line")
    for address in lessons:
        print(f"  {address}\n    along  {_told(*_visit(page, wire, HOME + address))}")
    context.close()


def _somebody():
    """Make a trainee; return the key of their session, and the addresses of their lessons."""
    from django.test import Client

    from training.course.progress import lessons_of
    from training.people.models import User

    user = User.objects.create_user("bench@example.com", None, name="Bench")
    client = Client()
    client.force_login(user)
    lessons = [f"/lessons/{each.slug}/" for each in lessons_of(user)]
    return client.cookies["sessionid"].value, lessons


def run():
    """Print bytes and seconds of each lesson of a trainee, on a site of its own."""
    import django
    from playwright.sync_api import sync_playwright

    from tests.browser.conftest import FLAGS

    path = os.environ.get("CHROMIUM") or shutil.which("chromium")
    with TemporaryDirectory() as name:
        folder = Path(name)
        os.environ |= {
            "SITE_DEMO": "1",
            "COLLECTED": str(folder / "static"),
            "DJANGO_SETTINGS_MODULE": "tests.benchmarks.collected",
            "DATABASE_URL": f"sqlite:///{folder / 'site.sqlite3'}",
        }
        site.manage("migrate", "--verbosity", "0")
        site.manage("collectstatic", "--noinput", "--verbosity", "0")
        django.setup()
        session, lessons = _somebody()
        with site.served(PORT, workers=1), sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=path, args=FLAGS)
            _measure(browser, session, lessons)
            _measure_along(browser, session, lessons)
            browser.close()


if __name__ == "__main__":
    run()
