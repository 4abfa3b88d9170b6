"""What is typed into a form stays on the phone until the site has it, and goes to nobody else."""

import pytest
from playwright.sync_api import expect

from tests.certification.candidates import begin, make_requirements
from tests.nets.conftest import SWEEP_NET, TOW, make_net
from tests.site import PASSWORD
from training.certification.models import ExamTask
from training.nets.models import Net, Tow
from training.people.models import User

pytestmark = pytest.mark.django_db(transaction=True)

START = ("name", "bosom", "port_wing", "headrope")
LEFT = """() => new Promise((resolve) => {
  indexedDB.open("outbox").onsuccess = ({ target: { result } }) => {
    result.transaction("entries").objectStore("entries").getAllKeys().onsuccess = (found) =>
      resolve(found.target.result.map(([person, kind, key]) => `${kind}: ${key}`));
  };
})"""
FULL = """() => {
  IDBObjectStore.prototype.put = function () { this.transaction.abort(); };
}"""


def enter_net(page):
    page.goto("/nets/new/")
    for name in START:
        page.locator(f"[name={name}]").fill(SWEEP_NET[name])
    page.locator("[name=has_sweep]").select_option("yes")
    expect(page.get_by_text("What you enter stays on this device")).to_be_visible()


def save_net(page):
    page.get_by_role("button", name="Save and see the plan").click()


def expect_kept(page):
    for name in START:
        expect(page.locator(f"[name={name}]")).to_have_value(SWEEP_NET[name])
    expect(page.locator("[name=has_sweep]")).to_have_value("yes")


def test_a_net_outlives_a_lost_connection(phone, sign_in, user, axe):
    sign_in(phone, user)
    enter_net(phone)
    phone.context.set_offline(True)
    save_net(phone)
    expect(
        phone.get_by_text("Saved on this phone. It is sent when there is signal.")
    ).to_be_visible()
    expect(phone.locator("[name=name]")).to_have_value("My net")  # the next one can be entered
    axe(phone)
    assert not Net.objects.exists()
    phone.context.set_offline(False)
    phone.goto("/nets/")
    expect(phone.get_by_text("Sent, and saved on the site: Net: Gray net.")).to_be_visible()
    assert Net.objects.get().typed["headrope"] == SWEEP_NET["headrope"]
    phone.wait_for_function(f"({LEFT})().then((left) => !left.length)")
    phone.goto("/nets/new/")
    expect(phone.locator("[name=name]")).to_have_value("My net")


def test_a_net_whose_reply_was_lost_is_made_once(phone, sign_in, user):
    sign_in(phone, user)
    enter_net(phone)
    lost = []

    def lose(route):
        if route.request.method == "POST" and not lost:
            lost.append(route.fetch(max_redirects=0).status)
            route.abort()
        else:
            route.continue_()

    phone.route("**/nets/new/", lose)
    save_net(phone)
    expect(phone.get_by_text("Sent, and saved on the site: Net: Gray net.")).to_be_visible()
    assert lost == [302]
    assert Net.objects.count() == 1


def test_only_the_saved_net_is_forgotten_and_cancel_forgets(phone, sign_in, user):
    net = make_net(user)
    sign_in(phone, user)
    phone.goto(f"/nets/{net.pk}/edit/")
    phone.locator("[name=headrope]").fill("61 ft")
    expect(phone.get_by_text("What you enter stays on this device")).to_be_visible()
    # To look at the net is not to save it.
    phone.goto(f"/nets/{net.pk}/")
    expect(phone.get_by_role("heading", level=1)).to_have_text(net.name)
    phone.goto(f"/nets/{net.pk}/edit/")
    expect(phone.locator("[name=headrope]")).to_have_value("61 ft")
    phone.get_by_role("link", name="Cancel").click()
    phone.wait_for_url(f"**/nets/{net.pk}/")
    phone.goto(f"/nets/{net.pk}/edit/")
    expect(phone.locator("[name=headrope]")).to_have_value(net.typed["headrope"])


def test_a_tow_outlives_a_lost_connection(phone, sign_in, user):
    net = make_net(user)
    sign_in(phone, user)
    phone.goto(f"/nets/{net.pk}/shine/new/")
    for name, text in TOW.items():
        field = phone.locator(f"[name={name}]")
        field.select_option(text) if name == "speed_over" else field.fill(text)
    phone.context.set_offline(True)
    phone.get_by_role("button", name="Save the tow").dblclick()
    expect(
        phone.get_by_text("Saved on this phone. It is sent when there is signal.")
    ).to_be_visible()
    expect(phone.locator("[name=speed]")).to_have_value("")
    phone.context.set_offline(False)
    expect(phone.get_by_text("Sent, and saved on the site: Tow of Gray net")).to_be_visible()
    assert Tow.objects.get().typed["speed"] == TOW["speed"]
    phone.goto(f"/nets/{net.pk}/shine/")
    expect(phone.locator("#tow-heights-title")).to_have_count(1)
    phone.wait_for_function(f"({LEFT})().then((left) => !left.length)")


def test_somebody_else_on_the_phone_sees_nothing_of_it(phone, sign_in, user):
    sign_in(phone, user)
    enter_net(phone)
    other = User.objects.create_user("other@example.com", PASSWORD, name="Other")
    phone.context.clear_cookies()
    sign_in(phone, other)
    phone.goto("/nets/new/")
    expect(phone.locator("[data-drawing]")).to_be_visible()
    phone.locator("[name=name]").fill("Brown net")
    expect(phone.get_by_text("What you enter stays on this device")).to_be_visible()
    expect(phone.locator("[name=bosom]")).to_have_value("")
    phone.context.clear_cookies()
    sign_in(phone, user)
    phone.goto("/nets/new/")
    expect_kept(phone)


def test_a_full_phone_is_not_said_to_hold_what_it_does_not(phone, sign_in, user):
    exam = begin(user, make_requirements((("pick-chain", 1, 1),)))
    sign_in(phone, user)
    phone.goto(f"/exams/{exam.pk}/task/1/")
    phone.evaluate(FULL)
    phone.context.set_offline(True)
    phone.get_by_label("3/8 in chain", exact=True).check()
    told = phone.locator("[data-answer-told]")
    expect(told).to_contain_text("Your answer is on this page only")
    # It is sent all the same, as soon as that goes.
    phone.context.set_offline(False)
    expect(told).to_contain_text("Saved at")
    assert ExamTask.objects.get(exam=exam, number=1).answer["stock"] == "3/8 in"
    phone.goto("/nets/new/")
    phone.evaluate(FULL)
    phone.locator("[name=name]").fill("Gray net")
    phone.context.set_offline(True)
    save_net(phone)
    expect(phone.locator("[data-draft-trouble]")).to_contain_text("not saved on this device")
    expect(phone.get_by_text("What you enter stays on this device")).to_be_hidden()
    phone.context.set_offline(False)
