"""A week without signal, from Sunday to Saturday: all of it arrives once, in order."""

from datetime import timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import expect

from tests.browser.sea.conftest import set_clock_ahead
from tests.browser.sea.deeds import (
    NOTED,
    change_net,
    do_task,
    enter,
    enter_tow,
    note_tow,
    sign_in_by_form,
)
from tests.browser.test_check import PHONE, start
from tests.nets.conftest import TOW, make_net
from tests.site import PASSWORD
from training.checks.models import CheckRevision, CheckSheet
from training.exercises import handing
from training.exercises.models import Assignment, Attempt
from training.inbox.models import Arrival
from training.nets.models import Tow

pytestmark = pytest.mark.django_db(transaction=True)

DAY = timedelta(days=1)
DRAWN = ("measure-drawing", "space-droppers")


class Week:
    """One person's phone at sea, and what was noted on it, in order: addresses."""

    def __init__(self, phone, net):
        self.phone = phone
        self.net = net
        self.noted = []

    @property
    def page(self):
        return self.phone.page

    def turn_on(self, before):
        """Turn the phone on so many days before the test runs; its clock is a day ahead."""
        self.before = before
        self.phone.turn_on()
        set_clock_ahead(self.phone.context, DAY - before * DAY)
        self.page.goto("/")
        expect(self.page.get_by_text("From this phone")).to_be_visible()

    def die(self):
        """Run out of battery, and come back."""
        self.phone.kill()
        self.turn_on(self.before - 1)

    def tow(self, day, speed):
        note_tow(self.phone, self.net, day=day.isoformat(), speed=speed)
        self.noted.append(f"/nets/{self.net.pk}/shine/new/")

    def half_a_tow(self, day, speed):
        """Type a tow in part; the phone dies; the rest is typed on what is still there."""
        enter_tow(self.page, self.net, day=day.isoformat(), speed=speed, shine_center="")
        expect(self.page.get_by_text("What you enter stays on this device")).to_be_visible()
        self.phone.wait_until_drafted(self.net.owner, "catch_bottom", TOW["catch_bottom"])
        self.die()
        self.page.goto(f"/nets/{self.net.pk}/shine/new/")
        expect(self.page.locator("[name=speed]")).to_have_value(speed)
        enter(self.page, {"shine_center": "10 in"})
        self.page.get_by_role("button", name="Save the tow").tap()
        expect(self.page.get_by_text(NOTED)).to_be_visible()
        self.noted.append(f"/nets/{self.net.pk}/shine/new/")

    def task(self, assignment):
        """Answer a task, and see how it is graded."""
        do_task(self.phone, assignment)
        self.noted.append(f"/exercises/sea/{assignment.pk}/")

    def check(self, vessel):
        """Begin a check sheet and turn it in, most of it not measured."""
        self.page.goto(PHONE)
        start(self.page, vessel)
        key = self.page.url.partition("#")[2].partition("/")[0]
        self.page.goto(f"{PHONE}#{key}/notes")
        self.page.get_by_role("button", name="Turn in the sheet").tap()
        self.page.get_by_role("button", name="Turn it in like this").tap()
        expect(self.page.locator("[data-saved]")).to_contain_text("Turned in. Not sent yet.")

    def lessons(self):
        """Read every lesson that the list names."""
        self.page.goto("/lessons/")
        links = self.page.locator("main a[href^='/lessons/']")
        addresses = {link.get_attribute("href") for link in links.all()}
        for address in sorted(addresses):
            self.page.goto(address)
            expect(self.page.get_by_text("From this phone")).to_be_visible()
        assert len(addresses) > 5


def test_a_week_at_sea(kept_phone, officer, monkeypatch):
    net = make_net(officer)
    now = timezone.now
    with monkeypatch.context() as on_sunday:
        on_sunday.setattr(timezone, "now", lambda: now() - 6 * DAY)
        kept_phone.turn_on(has_signal=True)
        # Not by a cookie of the test's own: such a one is gone with the browser.
        sign_in_by_form(kept_phone.page, officer, PASSWORD)
        kept_phone.page.wait_for_url("/")
        kept_phone.make_ready()
        kept_phone.turn_off()
    today = timezone.localdate()
    monday, tuesday, wednesday, thursday, friday = (today - n * DAY for n in (5, 4, 3, 2, 1))
    # Those that are answered with a tool on a drawing have a browser test of their own.
    plain = Assignment.objects.at_sea().exclude(kind__in=DRAWN)
    tasks = list(plain.order_by("pk")[:10])
    assert len(tasks) == 10

    week = Week(kept_phone, net)
    week.turn_on(before=5)
    week.tow(monday, "2.5 kn")
    for each in tasks[:4]:
        week.task(each)
    week.check("Sanderling")
    week.tow(tuesday, "2.6 kn")
    week.half_a_tow(tuesday, "2.7 kn")
    week.lessons()
    change_net(week.page, net, headrope="61 ft")
    expect(week.page.get_by_text(NOTED)).to_be_visible()
    week.noted.append(f"/nets/{net.pk}/edit/")
    for each in tasks[4:9]:
        week.task(each)
    week.check("Dunlin")
    week.die()
    week.tow(wednesday, "2.8 kn")
    week.tow(thursday, "2.9 kn")
    week.task(tasks[9])
    week.tow(friday, "3 kn")
    assert kept_phone.waiting(officer) == len(week.noted) == 17
    assert not Arrival.objects.exists()
    assert not CheckSheet.objects.exists()

    kept_phone.turn_off()
    week.turn_on(before=0)
    kept_phone.find_signal()
    kept_phone.wait_until_sent(officer)
    arrived = Arrival.objects.filter(person=officer).order_by("arrived", "pk")
    assert [each.address for each in arrived] == week.noted
    assert not [(each.told, each.sent) for each in arrived if each.outcome != "taken"]
    speeds = [tow.typed["speed"] for tow in Tow.objects.order_by("pk")]
    assert speeds == ["2.5 kn", "2.6 kn", "2.7 kn", "2.8 kn", "2.9 kn", "3 kn"]
    attempts = Attempt.objects.by(officer).order_by("handed_in", "pk")
    assert [each.assignment for each in attempts] == tasks
    for each in attempts:
        assert each.passed
        assert not each.was_told_otherwise
        assert handing.remark(each).marks == each.marks
    net.refresh_from_db()
    assert net.typed["headrope"] == "61 ft"
    week.page.goto(PHONE)
    expect(week.page.get_by_text("All sheets are sent.")).to_be_visible()
    sheets = CheckSheet.objects.order_by("pk")
    assert [(each.vessel_name, bool(each.finished)) for each in sheets] == [
        ("Sanderling", True),
        ("Dunlin", True),
    ]
    week.page.goto("/arrived/")
    expect(week.page.locator("main")).to_contain_text("This phone's clock was 1 day ahead")
    # Once more changes nothing.
    counts = Tow.objects.count(), Attempt.objects.count(), CheckRevision.objects.count()
    week.page.reload()
    kept_phone.wait_until_sent(officer)
    assert counts == (Tow.objects.count(), Attempt.objects.count(), CheckRevision.objects.count())
