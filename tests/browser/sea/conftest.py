"""
Phones at sea: each on a line of its own, which is really cut.

``make_phone()`` gives one; ``boat(user)`` gives one that ``user`` has made ready for sea.
"""

import contextlib
import os
import re
import shutil
import signal

import pytest
from playwright.sync_api import Error, expect

from tests.browser.conftest import FLAGS, PATIENCE
from tests.browser.line import Line
from training.deck import along

SCREEN = {
    "viewport": {"width": 360, "height": 740},
    "has_touch": True,
    "is_mobile": True,
    "device_scale_factor": 2,
}
ENTRIES = """() => new Promise((resolve) => {
  const asked = indexedDB.open("outbox", 1);
  // Nothing was ever written down: the site is to make its place for it, not this.
  asked.onupgradeneeded = () => asked.transaction.abort();
  asked.onerror = () => resolve([]);
  asked.onsuccess = ({ target: { result } }) => {
    result.transaction("entries").objectStore("entries").getAll().onsuccess = (found) => {
      result.close();
      resolve(found.target.result.map(({ person, kind, values }) => [person, kind, values ?? []]));
    };
  };
})"""
# Of a person and a kind; ``name`` and ``value`` are of a field, if any.
UNTIL = f"""async ([is_there, person, kind, name, value, patience]) => {{
  const isMeant = ([owner, sort, values]) => owner === person && sort === kind &&
    (name === null || values.some((pair) => pair[0] === name && pair[1] === value));
  const end = performance.now() + patience;
  while ((await ({ENTRIES})()).some(isMeant) !== is_there) {{
    if (performance.now() > end) throw new Error("It stays as it is.");
    await new Promise((go) => setTimeout(go, 50));
  }}
}}"""


class Phone:
    """A phone whose line to the site is its own; ``page`` is what it shows."""

    def __init__(self, page, line):
        self.page = page
        self.line = line

    def lose_signal(self):
        """Be out of reach of the site, as beyond the last mast."""
        self.line.cut()
        self.page.context.set_offline(True)

    def find_signal(self):
        """Be in reach of the site again."""
        self.line.restore()
        self.page.context.set_offline(False)

    def find_signal_again(self):
        """Be in reach again on the site's page for no signal, which goes on by itself."""
        with self.page.expect_navigation():
            self.find_signal()

    def make_ready(self):
        """Take everything along by the page "Ready for sea"."""
        self.page.goto("/sea/")
        expect(self.page.locator("[data-persist]")).not_to_be_empty()
        self.page.get_by_role("button", name="Take everything along").tap()
        expect(self.page.get_by_text(re.compile("^Ready for sea: "))).to_be_visible()

    def waiting(self, person, kind="noted"):
        """Return how many entries of a kind wait on the phone for ``person``."""
        found = self.page.evaluate(ENTRIES)
        return sum(each[:2] == [person.pk, kind] for each in found)

    def wait_until_sent(self, person, kind="noted"):
        """Wait until nothing of a kind waits on the phone for ``person`` any more."""
        while True:
            try:
                return self._wait(False, person, kind)
            except Error as error:
                if "navigation" not in str(error):
                    raise
                self.page.wait_for_load_state()

    def wait_until_drafted(self, person, name, value):
        """Wait until a draft of ``person`` on the phone has ``value`` in the field ``name``."""
        self._wait(True, person, "draft", name, value)

    def _wait(self, is_there, person, kind, name=None, value=None):
        self.page.evaluate(UNTIL, [is_there, person.pk, kind, name, value, PATIENCE])


@pytest.fixture
def make_phone(open_page, live_server):
    """A function that returns a phone with signal, on which nobody is signed in."""
    with contextlib.ExitStack() as lines:

        def made():
            thread = live_server.thread
            line = lines.enter_context(Line(thread.host, thread.port))
            return Phone(open_page(base_url=line.url, **SCREEN), line)

        yield made


@pytest.fixture
def boat(make_phone, sign_in, monkeypatch):
    """
    A function that returns a phone that ``user`` has made ready for sea.

    To be quick it takes along what the rooms ``of`` have, and no more.
    """
    parts = list(along._parts)

    def made(user, of=("nets", "sea")):
        rooms = {f"training.{room}.along" for room in of}
        few = [part for part in parts if part.__module__ in rooms]
        monkeypatch.setattr(along, "_parts", few)
        phone = make_phone()
        sign_in(phone.page, user)
        phone.make_ready()
        return phone

    return made


class KeptPhone(Phone):
    """A phone that keeps what is on it in a folder, over a sudden end of its browser too."""

    def __init__(self, browser_type, folder, line):
        self.browser_type = browser_type
        self.folder = folder
        self.line = line
        self.context = None
        self.trouble = []

    @property
    def page(self):
        """The page it shows."""
        return self.context.pages[0]

    def turn_on(self, has_signal=False):
        """Start the browser; the page it shows is empty."""
        self.context = self.browser_type.launch_persistent_context(
            self.folder,
            executable_path=os.environ.get("CHROMIUM") or shutil.which("chromium"),
            args=FLAGS,
            base_url=self.line.url,
            **SCREEN,
        )
        self.context.set_default_timeout(PATIENCE)
        self.page.on("pageerror", lambda error: self.trouble.append(str(error)))
        if has_signal:
            self.find_signal()
        else:
            self.lose_signal()

    def turn_off(self):
        """End the browser as one should, so that all is on disk."""
        self.context.close()

    def kill(self):
        """End the browser as an empty battery does: at once, with nothing put away."""
        session = self.context.browser.new_browser_cdp_session()
        told = session.send("SystemInfo.getProcessInfo")["processInfo"]
        main = next(each["id"] for each in told if each["type"] == "browser")
        with self.context.expect_event("close"):
            os.killpg(main, signal.SIGKILL)  # it leads the group of all its processes


@pytest.fixture
def kept_phone(chromium, live_server, tmp_path):
    """A phone that is off, and that can be killed; a script that stumbled on it fails the test."""
    with Line(live_server.thread.host, live_server.thread.port) as line:
        phone = KeptPhone(chromium.browser_type, tmp_path / "phone", line)
        yield phone
        phone.turn_off()
    assert not phone.trouble


def set_clock_ahead(context, ahead):
    """Have the pages of ``context`` believe that it is later by the timedelta ``ahead``."""
    milliseconds = round(ahead.total_seconds() * 1000)
    context.add_init_script(
        f"""{{
          const Right = Date;
          globalThis.Date = class extends Right {{
            constructor(...told) {{ told.length ? super(...told) : super(Date.now()); }}
            static now() {{ return Right.now() + {milliseconds}; }}
          }};
        }}"""
    )
