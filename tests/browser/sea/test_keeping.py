"""A phone with no room, one that was cleared, and a site that changed while it was away."""

import re
from datetime import timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import expect

from rigs.words.units import FOOT
from tests.browser.sea.deeds import NOT_REACHED, NOTED, do_task, enter, note_tow, save_tow
from tests.nets.conftest import TOW, make_net
from tests.rulesets.conftest import make_draft
from training.exercises.models import Assignment, Attempt
from training.exercises.sea import setting
from training.nets.models import Tow
from training.rulesets import shelf
from training.rulesets.models import Version
from training.sea import parts

pytestmark = pytest.mark.django_db(transaction=True)

CLEAR = """() => caches.keys().then((all) => Promise.all(all.map((each) => caches.delete(each))))"""
DAY = timedelta(days=1)


@pytest.fixture
def net(user):
    return make_net(user)


def cdp(phone, method, **told):
    return phone.page.context.new_cdp_session(phone.page).send(method, told)


def test_a_full_phone_says_what_is_not_on_it(boat, user, net):
    phone = boat(user)
    late = make_net(user, name="Brown net")
    phone.page.goto(f"/nets/{net.pk}/shine/new/")
    cdp(phone, "Storage.overrideQuotaForOrigin", origin=phone.line.url, quotaSize=1)
    phone.lose_signal()
    enter(phone.page, TOW)
    save_tow(phone.page)
    expect(phone.page.get_by_role("alert")).to_contain_text("not saved on this")
    expect(phone.page.get_by_text(NOTED)).to_be_hidden()
    assert phone.waiting(user) == 0
    phone.find_signal()
    phone.page.goto("/sea/")
    phone.page.get_by_role("button", name="Take everything along").tap()
    failed = phone.page.get_by_role("alert")
    expect(failed).to_contain_text(f"{late.name}: this phone has no room for it")
    expect(phone.page.get_by_text(re.compile("^Ready for sea: .* Taken along"))).to_have_count(0)
    # What was there before stays.
    phone.lose_signal()
    phone.page.goto(f"/nets/{net.pk}/")
    expect(phone.page.get_by_role("heading", level=1)).to_have_text(net.name)
    phone.page.goto(f"/nets/{late.pk}/")
    expect(phone.page.get_by_role("heading", name=NOT_REACHED)).to_be_visible()


def test_a_phone_that_was_cleared_claims_nothing(boat, user, net):
    phone = boat(user)
    phone.lose_signal()
    note_tow(phone, net)
    phone.page.evaluate(CLEAR)
    phone.find_signal()
    phone.page.goto("/sea/")
    expect(phone.page.get_by_text("Nothing is taken along on this phone.")).to_be_visible()
    # What waits is no page, and was not cleared with them.
    phone.wait_until_sent(user)
    assert Tow.objects.count() == 1
    # Taken along anew, all of it is there again.
    phone.make_ready()
    phone.lose_signal()
    phone.page.goto(f"/nets/{net.pk}/")
    expect(phone.page.get_by_role("heading", level=1)).to_have_text(net.name)


def test_a_new_version_of_the_site_with_something_unsent(boat, user, net, monkeypatch):
    phone = boat(user)
    phone.lose_signal()
    note_tow(phone, net)
    monkeypatch.setattr(parts, "version", lambda: "another")
    phone.find_signal()
    phone.page.goto("/")
    phone.wait_until_sent(user)
    assert Tow.objects.count() == 1
    # What was taken along before opens still; taken along again it is of the new version.
    phone.make_ready()
    phone.lose_signal()
    phone.page.goto(f"/nets/{net.pk}/")
    expect(phone.page.get_by_role("heading", level=1)).to_have_text(net.name)
    note_tow(phone, net, speed="2.6 kn")
    phone.find_signal()
    phone.wait_until_sent(user)
    assert Tow.objects.count() == 2


def approved(staff, second, first):
    """Have another version of a rule set hold from the day ``first`` on; return it."""
    draft = make_draft(staff, limits={"dropper_spacing": 7 * FOOT}, first=first)
    now = timezone.now()
    Version.objects.filter(pk=draft.pk).update(
        submitted_at=now, approved_by=second, approved_at=now
    )
    shelf.forget()
    return draft


def test_rules_that_changed_meanwhile(boat, user, staff, second, monkeypatch):
    phone = boat(user, of=("exercises",))
    old = Assignment.objects.at_sea().filter(rulebook_name="no-sweep").first()
    draft = approved(staff, second, timezone.localdate() + DAY)
    phone.lose_signal()
    do_task(phone, old)
    # Two days on, at the dock.
    now = timezone.now
    monkeypatch.setattr(timezone, "now", lambda: now() + 2 * DAY)
    phone.find_signal()
    phone.wait_until_sent(user)
    # It is graded by the rules that it was set by; what is set from now on goes by the new ones.
    attempt = Attempt.objects.get()
    assert attempt.assignment == old
    assert attempt.passed
    assert not attempt.was_told_otherwise
    phone.make_ready()
    today = timezone.localdate()
    along = setting.along(user, today)
    names = {each.rulebook_version for each in along if each.rulebook_name == draft.name}
    assert names == {draft.version}
