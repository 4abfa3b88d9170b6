"""The live figures and the steps put in order: by touch, by keyboard, and without scripts."""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from rigs.physics import chain, tow
from rigs.rules import rulebook
from rigs.tuning.flight_words import headline
from rigs.tuning.flights import pictured, pictured_words
from rigs.words.units import INCH, KNOT, inches
from tests.exercises.conftest import right_answer
from training.exercises import handing, kinds
from training.exercises.models import Assignment, Attempt

pytestmark = pytest.mark.django_db(transaction=True)

LESSON = reverse("lessons:detail", args=["shine-and-tuning"])
ORDER = kinds.get("order-conversion")


def model_text(stock, count, length, speed, shine):
    report = tow.height_report(
        chain.Choice(chain.STOCKS[stock], count), length * INCH, speed * KNOT, shine * INCH
    )
    return f"{report.model.name}: footrope about {inches(report.model.height, 1)} off the bottom"


def test_the_dropper_follows_what_is_set(phone, axe):
    phone.goto(LESSON)
    figure = phone.get_by_role("form", name="A dropper to try out")
    length = round(rulebook.load("no-sweep", "1").requirement("dropper_length").limit / INCH)
    words = figure.locator("[data-live-words]")
    expect(figure.get_by_role("button")).to_be_hidden()
    expect(figure.locator("output").first).to_have_text("3 kn")
    # By keyboard: one step of the slider at a time.
    figure.get_by_label("Towing speed").focus()
    for _ in range(5):
        phone.keyboard.press("ArrowLeft")
    expect(figure.locator("output").first).to_have_text("2.5 kn")
    expect(words).to_contain_text(model_text("3/8 in", 1, length, 2.5, 14))
    drawn = figure.locator("svg desc").text_content()
    figure.get_by_label("Chain").select_option("two 5/16 in")
    figure.get_by_label("Shine").fill("20")
    expect(words).to_contain_text(model_text("5/16 in", 2, length, 2.5, 20))
    expect(figure.locator("svg desc")).not_to_have_text(drawn)
    axe(phone)


def test_a_lost_connection_is_told_and_got_over(phone):
    phone.goto(LESSON)
    figure = phone.get_by_role("form", name="A dropper to try out")
    trouble = figure.locator("[data-live-trouble]")
    phone.context.set_offline(True)
    figure.get_by_label("Shine").fill("20")
    expect(trouble).to_be_visible()
    phone.context.set_offline(False)
    figure.get_by_label("Shine").fill("21")
    expect(trouble).to_be_hidden()
    expect(figure.locator("[data-live-words]")).to_contain_text("21 in")


def test_without_scripts_a_button_shows_it(open_page):
    page = open_page(viewport={"width": 360, "height": 740}, java_script_enabled=False)
    page.goto(LESSON)
    figure = page.get_by_role("form", name="A dropper to try out")
    figure.get_by_label("Chain").select_option("one 5/16 in")
    figure.get_by_role("button", name="Show this").click()
    page.wait_for_url("**/lessons/live/**")
    expect(page.locator("[data-live-words]")).to_contain_text("one 5/16 in")


def flight_of(page):
    return page.get_by_role("form", name="A net in flight to try out")


def test_the_net_in_flight_follows_what_is_chosen(phone, axe):
    phone.goto(LESSON)
    figure = flight_of(phone)
    drawn = figure.locator("svg desc").text_content()
    choice = figure.get_by_role("combobox")
    choice.focus()
    for key in ("floats -2", "bottom-leg +3 port"):
        change = pictured.after(key)
        choice.select_option(key)
        expect(figure.locator("[data-live-words]")).to_contain_text(headline(change.moves))
        rows = figure.locator("[data-live-more] tbody tr")
        for row, place in zip(rows.all(), pictured_words.places(change), strict=True):
            expect(row).to_contain_text(place.span)
    expect(figure.locator("svg desc")).not_to_have_text(drawn)
    expect(figure.locator(".notice-bad:visible")).to_contain_text("Rule broken")
    assert phone.evaluate("document.documentElement.scrollWidth <= innerWidth")
    axe(phone)


def test_without_scripts_a_button_shows_the_net_in_flight(open_page):
    page = open_page(viewport={"width": 360, "height": 740}, java_script_enabled=False)
    page.goto(LESSON)
    flight_of(page).get_by_role("combobox").select_option("footrope +24")
    flight_of(page).get_by_role("button", name="Show this").click()
    page.wait_for_url("**/lessons/live/**")
    expect(page.locator("[data-live-words]")).to_contain_text("Lengthen the footrope")
    expect(page.locator("[data-live-more]")).to_contain_text("the model is not sure")


def move_up(page, title, key=None):
    button = page.get_by_role("button", name=f"Move “{title}” up")
    if key:
        button.focus()
        page.keyboard.press(key)
    else:
        button.tap()


@pytest.mark.parametrize("key", [None, "Enter"])
def test_steps_are_put_in_order_by_touch_and_by_keyboard(phone, sign_in, user, axe, key):
    task = handing.task_of(handing.open_assignment(user, ORDER))
    sign_in(phone, user)
    phone.goto(reverse("exercises:do", args=[ORDER.slug]))
    shown = list(task.jumbled)
    for at, step in enumerate(task.steps):
        for _ in range(shown.index(step.key) - at):
            move_up(phone, step.deed, key)
        shown.remove(step.key)
        shown.insert(at, step.key)
    titles = [step.deed for step in task.steps]
    expect(phone.locator("[data-order-step] strong")).to_have_text(titles)
    phone.reload()  # kept on the device meanwhile
    expect(phone.locator("[data-order-step] strong")).to_have_text(titles)
    axe(phone)
    phone.get_by_role("button", name="Turn in my answer").tap()
    phone.wait_for_url("**/exercises/marked/*/")
    assert Attempt.objects.get().passed


def test_a_step_is_left_out_and_taken_in_again(phone, sign_in, user, axe):
    Assignment.objects.filter(pk=handing.open_assignment(user, ORDER).pk).update(difficulty=3)
    task = handing.task_of(handing.open_assignment(user, ORDER))
    sign_in(phone, user)
    phone.goto(reverse("exercises:do", args=[ORDER.slug]))
    titles = dict(task.shown_steps)
    first, *others = task.jumbled
    out = phone.get_by_role("button", name=f"“{titles[first]}” is not needed")
    out.tap()
    steps = phone.locator("[data-order-step] strong")
    expect(steps).to_have_text([titles[key] for key in (*others, first)])
    expect(phone.locator(f"select[name={first}]")).to_have_value("out")
    expect(phone.locator(f"select[name={others[0]}]")).to_have_value("1")
    axe(phone)
    phone.reload()  # kept on the device meanwhile
    expect(out).to_have_attribute("aria-pressed", "true")
    out.tap()
    expect(phone.locator(f"select[name={first}]")).to_have_value(str(len(titles)))


def test_without_scripts_the_steps_are_numbered(open_page, sign_in, user):
    page = open_page(viewport={"width": 360, "height": 740}, java_script_enabled=False)
    task = handing.task_of(handing.open_assignment(user, ORDER))
    sign_in(page, user)
    page.goto(reverse("exercises:do", args=[ORDER.slug]))
    answer = right_answer(task)
    for name, number in {**answer, "ready": answer["check"]}.items():
        page.locator(f"select[name={name}]").select_option(number)
    page.get_by_role("button", name="Turn in my answer").click()
    expect(page.locator(".order .invalid-feedback")).to_contain_text("Use each number once")
    page.locator("select[name=ready]").select_option(answer["ready"])
    page.get_by_role("button", name="Turn in my answer").click()
    page.wait_for_url("**/exercises/marked/*/")
    assert Attempt.objects.get().passed
