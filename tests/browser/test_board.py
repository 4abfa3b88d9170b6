"""Exercises by touch, mouse and keyboard; answers that a lost connection does not lose."""

import re

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from rigs.words.units import INCH
from tests.browser.rope import expect_places, hang, hang_exactly, places, spot, tap
from tests.exercises.conftest import right_answer
from training.exercises import handing, kinds
from training.exercises.models import Attempt

pytestmark = pytest.mark.django_db(transaction=True)

KIND = kinds.get("space-droppers")
# Nothing of any answer is in the browser's own database.
NOTHING_LEFT = """() => new Promise((resolve) => {
  indexedDB.open("outbox").onsuccess = ({ target: { result } }) => {
    result.transaction("entries").objectStore("entries").count().onsuccess = (counted) =>
      resolve(counted.target.result === 0);
  };
})"""

MARKED = "**/exercises/marked/*/"


@pytest.fixture
def task(user):
    return handing.task_of(handing.open_assignment(user, KIND))


def open_board(page, sign_in, user, kind=KIND):
    sign_in(page, user)
    page.goto(reverse("exercises:do", args=[kind.slug]))


def drag(page, start, end):
    """Drag with one finger from inch ``start`` to inch ``end``, both in view."""
    at = spot(page, (start + end) / 2)
    pixels = page.evaluate(
        """() => {
            const line = document.querySelector(".board-line");
            const marks = JSON.parse(document.getElementById("board-marks").textContent).marks;
            const run = Number(line.getAttribute("x2")) - Number(line.getAttribute("x1"));
            return run / (marks[marks.length - 1].at - marks[0].at);
        }"""
    )
    half = (end - start) / 2 * pixels
    touch = page.context.new_cdp_session(page)

    def send(kind, *xs):
        points = [{"x": x, "y": at["y"]} for x in xs]
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    send("touchStart", at["x"] - half)
    for step in range(1, 9):
        send("touchMove", at["x"] - half + 2 * half * step / 8)
    send("touchEnd")


def test_a_net_hung_by_touch_is_marked_and_passed(phone, sign_in, user, task, axe):
    open_board(phone, sign_in, user)
    wanted = [round(at / INCH) for at in task.fewest]
    for inches in wanted:
        hang_exactly(phone, inches)
    expect_places(phone, wanted)
    axe(phone)
    phone.get_by_role("button", name="Turn in my answer").tap()
    phone.wait_for_url(MARKED)
    attempt = Attempt.objects.get()
    assert attempt.passed
    expect(phone.locator(".score")).to_contain_text(f"{attempt.marks} of {attempt.out_of}")
    expect(phone.locator(".exercise-figure").first).to_contain_text("yours")
    axe(phone)


def test_a_finger_drags_a_dropper_to_a_mark_without_hanging_another(phone, sign_in, user, task):
    open_board(phone, sign_in, user)
    corner = round(task.footrope.starboard_corner / INCH)
    start = hang(phone, corner - 40)
    drag(phone, start, corner - 4)
    expect_places(phone, [corner])
    expect(phone.locator("[data-board-readout]")).to_contain_text("at the starboard corner")


def test_a_mouse_drags_a_dropper_without_hanging_another(desk, sign_in, user, task):
    open_board(desk, sign_in, user)
    corner = round(task.footrope.starboard_corner / INCH)
    at = spot(desk, corner - 40)
    desk.mouse.click(at["x"], at["y"])
    expect(desk.locator("[data-picked]")).to_have_count(1)
    at = spot(desk, places(desk)[0])
    desk.mouse.move(at["x"], at["y"])
    desk.mouse.down()
    to = spot(desk, corner)
    desk.mouse.move(to["x"], to["y"], steps=6)
    desk.mouse.up()
    expect_places(desk, [corner])


def test_the_keyboard_alone_is_enough(desk, sign_in, user, task):
    open_board(desk, sign_in, user)
    desk.get_by_role("button", name="Add a dropper").focus()
    desk.keyboard.press("Enter")
    expect_places(desk, [0])
    for key in ("ArrowRight", "PageUp", "ArrowLeft", "PageUp"):
        desk.keyboard.press(key)
    expect_places(desk, [24])
    desk.keyboard.press("Home")
    expect_places(desk, [round(task.footrope.port_end / INCH)])
    desk.keyboard.press("End")
    expect_places(desk, [round(task.footrope.starboard_end / INCH)])
    desk.keyboard.press("Delete")
    expect_places(desk, [])


def test_board_and_typed_distances_follow_each_other(phone, sign_in, user):
    open_board(phone, sign_in, user)
    phone.get_by_text("Type the distances").tap()
    starboard = phone.get_by_label("To starboard of the center")
    starboard.fill("3 ft 6 in\n54 in\nabout 6")
    phone.get_by_label("A dropper right at the center").check()
    expect_places(phone, [0, 42, 54])
    expect(phone.locator("[data-board-readout]")).to_contain_text("1 typed line is not drawn")
    tap(phone, 42)
    expect(phone.locator("[data-picked]")).to_have_attribute("aria-valuenow", "42")
    phone.get_by_role("button", name="1 ft to port").tap()
    # What the board cannot read is left for the site to judge.
    expect(starboard).to_have_value("2 ft 6 in\n4 ft 6 in\nabout 6")
    phone.get_by_role("button", name="Remove the dropper").tap()
    expect(starboard).to_have_value("4 ft 6 in\nabout 6")
    phone.get_by_role("button", name="Turn in my answer").tap()
    expect(phone.locator("#div_id_starboard .invalid-feedback")).to_contain_text("about 6")
    expect(starboard).to_be_visible()
    expect(starboard).to_have_value(re.compile(r"^4 ft 6 in\r?\nabout 6\s*$"))
    assert not Attempt.objects.exists()


def test_an_answer_outlives_a_lost_connection(phone, sign_in, user, task):
    open_board(phone, sign_in, user)
    hung = [hang(phone, 0), hang(phone, 60)]
    phone.context.set_offline(True)
    phone.get_by_role("button", name="Turn in my answer").tap()
    trouble = phone.locator("[data-draft-trouble]")
    expect(trouble).to_contain_text("Not turned in: no connection")
    assert not Attempt.objects.exists()
    phone.context.set_offline(False)

    phone.reload()
    expect_places(phone, hung)
    phone.get_by_role("button", name="Turn in my answer").tap()
    phone.wait_for_url(MARKED)
    assert Attempt.objects.count() == 1
    assert phone.evaluate("Object.keys(localStorage)") == []
    phone.wait_for_function(NOTHING_LEFT)


def test_a_site_in_trouble_is_not_taken_for_a_saved_answer(phone, sign_in, user):
    open_board(phone, sign_in, user)
    hung = hang(phone, 0)
    phone.route("**/exercises/space-droppers/", lambda route: route.fulfill(status=503))
    phone.get_by_role("button", name="Turn in my answer").tap()
    expect(phone.locator("[data-draft-trouble]")).to_contain_text("Not turned in")
    expect_places(phone, [hung])
    assert not Attempt.objects.exists()


def test_a_session_that_ran_out_keeps_the_answer(phone, sign_in, user):
    open_board(phone, sign_in, user)
    hung = hang(phone, 0)
    phone.context.clear_cookies(name="sessionid")
    phone.get_by_role("button", name="Turn in my answer").tap()
    phone.wait_for_url("**/account/sign-in/**")
    sign_in(phone, user)
    phone.goto(reverse("exercises:do", args=[KIND.slug]))
    expect_places(phone, [hung])


@pytest.mark.parametrize("slug", ["pick-chain", "judge-rig"])
def test_ticks_are_kept_over_a_reload_and_handed_in(phone, sign_in, user, slug, axe):
    kind = kinds.get(slug)
    answer = right_answer(handing.task_of(handing.open_assignment(user, kind)))
    open_board(phone, sign_in, user, kind)
    for name, given in answer.items():
        for value in given if isinstance(given, list) else [given]:
            phone.locator(f"input[name={name}][value='{value}']").check()
    phone.reload()
    axe(phone)
    phone.get_by_role("button", name="Turn in my answer").tap()
    phone.wait_for_url(MARKED)
    assert Attempt.objects.get().passed
    axe(phone)


def test_without_scripts_the_distances_are_typed(open_page, sign_in, user, task):
    page = open_page(viewport={"width": 360, "height": 740}, java_script_enabled=False)
    open_board(page, sign_in, user)
    expect(page.locator("[data-board]")).to_be_hidden()
    answer = right_answer(task)
    page.get_by_label("To port of the center").fill(answer["port"])
    page.get_by_label("A dropper right at the center").check()
    page.get_by_label("To starboard of the center").fill(answer["starboard"])
    page.get_by_role("button", name="Turn in my answer").click()
    page.wait_for_url(MARKED)
    assert Attempt.objects.get().passed


def test_of_two_close_together_the_nearest_is_picked(desk, sign_in, user):
    open_board(desk, sign_in, user)
    desk.get_by_text("Type the distances").click()
    desk.get_by_label("To starboard of the center").fill("30 in\n36 in")
    at = spot(desk, 30)
    desk.mouse.click(at["x"], at["y"])
    expect(desk.locator("[data-picked]")).to_have_attribute("aria-valuenow", "30")
    expect_places(desk, [30, 36])
    desk.keyboard.press("ArrowLeft")
    expect_places(desk, [29, 36])
