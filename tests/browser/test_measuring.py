"""Drawings measured by finger, mouse and keyboard; and by eye, without scripts."""

import re

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from rigs.words import units
from tests.exercises.conftest import measured_answer
from training.exercises import handing
from training.exercises.models import Assignment, Attempt
from training.exercises.typed_measurements import read_measurements

pytestmark = pytest.mark.django_db(transaction=True)

MARKED = "**/exercises/marked/*/"
SEED = 12  # at level 3 a rig with faults, of which one is on the ropes


@pytest.fixture
def task(user):
    return handing.task_of(
        Assignment.objects.create(
            user=user,
            kind="measure-drawing",
            seed=SEED,
            difficulty=3,
            rulebook_name="no-sweep",
            rulebook_version="1",
        )
    )


def open_task(page, sign_in, user):
    sign_in(page, user)
    page.goto(reverse("exercises:do", args=["measure-drawing"]))


def section(page, name="ropes"):
    return page.locator(f"[data-measure=measure-{name}]")


def end(page, which, name="ropes"):
    return section(page, name).get_by_role("slider", name=f"{which} end")


def told(page, name="ropes"):
    return section(page, name).locator("[data-measure-told]")


def place_of(sheet, name):
    """Return the x in drawing units of what is called ``name``."""
    return next(x for x, names in sheet.ends.items() if name in names)


def on_screen(page, x, name="ropes"):
    """Bring the drawing's x into view; return where on the screen it is."""
    return page.evaluate(
        """([x, name]) => {
            const section = document.querySelector(`[data-measure=measure-${name}]`);
            const pane = section.querySelector("[data-measure-pane]");
            pane.scrollIntoView({ block: "center", behavior: "instant" });
            const svg = pane.querySelector("svg");
            const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
            pane.scrollLeft = x * scale - pane.clientWidth / 2;
            const box = svg.getBoundingClientRect();
            return { x: box.left + x * scale, y: box.top + box.height / 2 };
        }""",
        [x, name],
    )


def handle(page, which):
    """Bring an end's handle into view; return its middle on the screen."""
    end(page, which).scroll_into_view_if_needed()
    box = end(page, which).bounding_box()
    return {"x": box["x"] + box["width"] / 2, "y": box["y"] + box["height"] / 2}


def drag_by_finger(page, start, to_x):
    touch = page.context.new_cdp_session(page)

    def send(kind, *xs):
        points = [{"x": x, "y": start["y"]} for x in xs]
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    send("touchStart", start["x"])
    for step in range(1, 9):
        send("touchMove", start["x"] + (to_x - start["x"]) * step / 8)
    send("touchEnd")


def read(text):
    """Return the metres that the tool tells."""
    return units.parse_length(re.split(r",| between| \(", text)[0], bare=None)


def drawn(page, name="ropes"):
    """Return how many pixels wide a unit is drawn."""
    return section(page, name).evaluate(
        """(each) => {
            const svg = each.querySelector("svg");
            return svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
        }"""
    )


def test_a_finger_drags_both_ends_and_the_distance_is_true(phone, sign_in, user, task, axe):
    open_task(phone, sign_in, user)
    sheet = task.drawn("ropes")
    for button in ("Larger", "Larger"):
        section(phone).get_by_role("button", name=button).tap()
    assert drawn(phone) == pytest.approx(4, abs=0.01)
    # Two droppers close enough to be seen together at four times the size are few; a
    # float and its neighbour always are.
    wanted = {"First": "float 2", "Second": "float 3"}
    middle = sum(place_of(sheet, name) for name in wanted.values()) / 2
    on_screen(phone, middle)
    section(phone).get_by_role("button", name="Bring ends here").tap()
    for which, name in wanted.items():
        goal = phone.evaluate(
            """(x) => {
                const svg = document.querySelector("[data-measure=measure-ropes] svg");
                const box = svg.getBoundingClientRect();
                return box.left + (x * box.width) / svg.viewBox.baseVal.width;
            }""",
            place_of(sheet, name),
        )
        drag_by_finger(phone, handle(phone, which), goal + 3)
        expect(end(phone, which)).to_have_attribute("aria-valuetext", name)
    expect(told(phone)).to_contain_text("float 2 to float 3")
    gap = task.rig.floats[2].position - task.rig.floats[1].position
    assert read(told(phone).inner_text()) == pytest.approx(gap, abs=sheet.resolution() / 4)
    axe(phone)


def test_without_catching_a_finger_is_as_fine_as_is_said(phone, sign_in, user, task):
    open_task(phone, sign_in, user)
    sheet = task.drawn("ropes")
    for _ in range(2):
        section(phone).get_by_role("button", name="Larger").tap()
    on_screen(phone, place_of(sheet, "float 2") + 20)
    section(phone).get_by_role("button", name="Bring ends here").tap()
    before = read(told(phone).inner_text())
    start = handle(phone, "First")
    now = int(end(phone, "First").get_attribute("aria-valuenow"))
    # To somewhere with nothing close by to catch on.
    pixels = next(
        far
        for far in range(14, 60)
        if all(abs(point.x - now - far / 4) > 4 for point in sheet.points)
    )
    drag_by_finger(phone, start, start["x"] + pixels)
    expect(told(phone)).not_to_contain_text(units.feet_inches(before, 4))
    moved = before - read(told(phone).inner_text())
    assert moved == pytest.approx(pixels / drawn(phone) / sheet.scale, abs=sheet.resolution())


def test_a_mouse_drags_and_a_click_brings_the_nearer_end(desk, sign_in, user, task):
    open_task(desk, sign_in, user)
    sheet = task.drawn("ropes")
    at = on_screen(desk, place_of(sheet, "dropper 2"))
    desk.mouse.click(at["x"], at["y"])
    expect(end(desk, "First")).to_have_attribute("aria-valuetext", re.compile("dropper 2"))
    start = handle(desk, "Second")
    desk.mouse.move(start["x"], start["y"])
    desk.mouse.down()
    goal = at["x"] + (place_of(sheet, "dropper 3") - place_of(sheet, "dropper 2")) * drawn(desk)
    desk.mouse.move(goal, start["y"], steps=8)
    desk.mouse.up()
    gap = task.rig.droppers[2].position - task.rig.droppers[1].position
    expect(told(desk)).to_contain_text("dropper 3")
    assert read(told(desk).inner_text()) == pytest.approx(gap, abs=sheet.resolution() / 4)


def test_the_keyboard_alone_measures_keeps_and_answers(desk, sign_in, user, task):
    open_task(desk, sign_in, user)
    sheet = task.drawn("ropes")
    end(desk, "First").focus()
    desk.keyboard.press("Home")
    desk.keyboard.press("Tab")
    expect(end(desk, "Second")).to_be_focused()
    desk.keyboard.press("Home")
    expect(told(desk)).to_contain_text("0 in")
    for _ in range(3):
        desk.keyboard.press("ArrowRight")
    desk.keyboard.press("Shift+ArrowRight")
    pixels = 13
    far = pixels / drawn(desk) * sheet.metres_per_unit()
    expect(told(desk)).to_contain_text(units.feet_inches(far, sheet.under))
    desk.keyboard.press("End")
    whole = max(task.rig.footrope.length, task.rig.headrope.length)
    expect(told(desk)).to_contain_text(units.feet_inches(whole, sheet.under))
    desk.keyboard.press("Home")
    desk.keyboard.press("PageUp")
    second = sheet.points[1]
    expect(end(desk, "Second")).to_have_attribute("aria-valuetext", second.name)
    field = section(desk).get_by_label("Name it")
    field.focus()
    desk.keyboard.type("From the end to the first mark")
    desk.keyboard.press("Enter")
    expect(section(desk).get_by_role("listitem").first).to_contain_text("From the end to the first")
    expect(desk.locator("h1")).to_have_text("Measure the drawing")  # Enter handed nothing in
    (kept,) = read_measurements(desk.locator("[name=measurements]").input_value(), "ropes")
    assert (kept.start, kept.end) == pytest.approx((sheet.points[0].x, second.x), abs=0.01)


def test_what_is_measured_is_kept_put_in_handed_in_and_marked(phone, sign_in, user, task, axe):
    answer = measured_answer(task)
    open_task(phone, sign_in, user)
    for name, value in answer.items():
        if name.startswith("said_"):
            phone.locator(f"input[name={name}][value={value}]").check()
    failing = next(f for f in task.verdict.failed if ("ropes", f.key) in task.asked and f.spots)
    size = phone.locator(f"[name=size_{failing.key}]")
    end(phone, "First").press("Home")
    end(phone, "Second").press("End")
    section(phone).get_by_role("button", name="Save this measurement").tap()
    kept = section(phone).locator("[data-measure-kept] li")
    expect(kept).to_have_count(1)
    reading = told(phone).inner_text().split(",")[0]
    ask = phone.locator(f"#ask-{failing.key}")
    ask.get_by_role("button", name="Use what the tool shows").tap()
    expect(size).to_have_value(reading)
    size.fill("")
    choice = ask.get_by_label("or one that you saved")
    choice.select_option(index=1)
    expect(size).to_have_value(reading)
    for name, value in answer.items():
        if name.startswith("size_"):
            phone.locator(f"[name={name}]").fill(value)
    phone.reload()
    expect(kept).to_have_count(1)
    assert phone.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    axe(phone)
    phone.get_by_role("button", name="Turn in my answer").tap()
    phone.wait_for_url(MARKED)
    attempt = Attempt.objects.get()
    assert attempt.passed
    assert attempt.marks == attempt.out_of
    (line,) = read_measurements(attempt.answer["measurements"], "ropes")
    assert reading in line.name
    expect(phone.locator(".exercise-figure .measured").first).to_be_attached()
    ropes = phone.locator(".scroll-along svg").first
    shown = ropes.evaluate("svg => [svg.clientWidth, svg.viewBox.baseVal.width]")
    assert shown[0] == pytest.approx(shown[1], abs=1)  # not made to fit, but scrolled along
    assert phone.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    axe(phone)


def test_a_kept_measurement_is_shown_again_and_removed(desk, sign_in, user, task):
    open_task(desk, sign_in, user)
    end(desk, "First").press("Home")
    end(desk, "Second").press("End")
    whole = told(desk).inner_text()
    section(desk).get_by_role("button", name="Save this measurement").click()
    end(desk, "Second").press("Home")
    expect(told(desk)).to_contain_text("0 in")
    section(desk).get_by_role("button", name=re.compile("^Show")).click()
    expect(told(desk)).to_have_text(whole)
    section(desk).get_by_role("button", name=re.compile("^Remove")).click()
    expect(section(desk).locator("[data-measure-kept] li")).to_have_count(0)
    assert desk.locator("[name=measurements]").input_value() == ""


def test_how_much_is_asked_only_of_what_is_outside(phone, sign_in, user, task):
    open_task(phone, sign_in, user)
    key = task.keys[0]
    size = phone.locator(f"[name=size_{key}]")
    expect(size).to_be_hidden()
    phone.locator(f"input[name=said_{key}][value=outside]").check()
    expect(size).to_be_visible()
    phone.locator(f"input[name=said_{key}][value=within]").check()
    expect(size).to_be_hidden()


def test_without_scripts_the_form_and_the_tapes_are_enough(open_page, sign_in, user, task):
    page = open_page(viewport={"width": 360, "height": 740}, java_script_enabled=False)
    open_task(page, sign_in, user)
    expect(page.locator("noscript .notice")).to_be_visible()
    expect(section(page).get_by_text("feet from the port end")).to_be_attached()
    expect(section(page).get_by_text("this bar is 10 ft")).to_be_attached()
    expect(page.get_by_role("button", name="Bring ends here").first).to_be_hidden()
    for name, value in measured_answer(task).items():
        if name.startswith("said_"):
            page.locator(f"input[name={name}][value={value}]").check()
    for name, value in measured_answer(task).items():
        if name.startswith("size_"):
            page.locator(f"[name={name}]").fill(value)
    page.get_by_role("button", name="Turn in my answer").click()
    page.wait_for_url(MARKED)
    assert Attempt.objects.get().passed
