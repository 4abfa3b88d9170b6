"""A change to one's own net, seen in flight before anything is cut."""

from unittest.mock import Mock

import pytest
from playwright.sync_api import expect

from tests.browser.looks import fits
from tests.nets.conftest import make_net
from training.nets import in_flight as site

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.usefixtures("few_cases")]

LONG = 60_000  # milliseconds: flying twenty nets takes seconds, and more on a loaded machine


def opened(page, sign_in, user):
    """Open the flight of a net of ``user`` on ``page``, once there is its picture."""
    sign_in(page, user)
    page.goto(f"/nets/{make_net(user).pk}/flight/")
    expect(page.get_by_role("heading", name="The net as it is")).to_be_visible(timeout=LONG)
    return page


def test_what_is_typed_is_flown_at_once_and_how_sure_it_is_comes_later(
    phone, sign_in, axe_in_both, user
):
    page = opened(phone, sign_in, user)
    assert fits(page)
    expect(page.get_by_role("button", name="Show what it does")).to_be_hidden()
    page.get_by_label("Floats more, or fewer with a minus", exact=True).fill("4")
    expect(page.get_by_role("heading", name="The footrope goes up everywhere")).to_be_visible(
        timeout=LONG
    )
    assert page.url.endswith("/flight/"), "the page was left"
    expect(page.get_by_role("heading", name="How sure is that?")).to_be_visible(timeout=LONG)
    expect(page.get_by_text("4 nets that may be yours").first).to_be_attached()
    for part in page.locator("main details").all():
        part.locator("summary").first.click()
    assert fits(page)
    axe_in_both(page)


def test_what_cannot_be_read_is_said_beside_the_field_that_is_in_hand(phone, sign_in, user):
    page = opened(phone, sign_in, user)
    page.get_by_text("Chain, ropes, legs and sweep").click()
    field = page.get_by_label("Headrope longer by")
    field.fill("some")
    expect(page.get_by_text("not understood").first).to_be_visible(timeout=LONG)
    expect(field).to_be_focused()
    field.fill("4 in")
    expect(page.locator("[data-flight-changes]")).to_be_visible(timeout=LONG)
    expect(page.get_by_text("not understood")).to_have_count(0)


OVER_CORNER = "Floats more over the port corner"


def middle(locator):
    """Return the middle of what ``locator`` finds, on the screen."""
    box = locator.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def drag(page, grip, onto):
    """Drag ``grip`` by the mouse to ``onto``, a place on the screen."""
    page.mouse.move(*middle(grip))
    page.mouse.down()
    page.mouse.move(*onto, steps=4)
    page.mouse.up()


def changes(page):
    """Return what the drawing tells of a change to who cannot see it."""
    return page.locator("[data-flight-ahead] desc").text_content()


def tried(page, words):
    """Wait until the site has answered what ``words`` say."""
    expect(page.locator("[data-flight-figure]")).to_contain_text(words, timeout=LONG)


def test_a_float_is_dragged_onto_the_headrope_and_off_again(desk, sign_in, user):
    page = opened(desk, sign_in, user)
    place = page.get_by_role("button", name="Put a float on over the port corner")
    place.scroll_into_view_if_needed()
    drag(page, page.locator("[data-hold=float]"), middle(place))
    assert page.locator("[name=over_port_corner]").input_value() == "1"
    tried(page, "1 float more over the port corner")
    # To another place, and then away from the rope.
    there = page.get_by_role("button", name="Put one more float on over the port corner")
    drag(page, there, middle(page.get_by_role("button", name="on over the starboard corner")))
    tried(page, "1 float more over the starboard corner")
    assert page.locator("[name=over_port_corner]").input_value() == ""
    there = page.get_by_role("button", name="Put one more float on over the starboard corner")
    x, y = middle(there)
    drag(page, there, (x, y + 250))
    expect(page.get_by_role("heading", name="The net as it is")).to_be_visible(timeout=LONG)
    assert page.locator("[name=over_starboard_corner]").input_value() == ""


def test_a_finger_drags_a_float_on_and_the_page_stays_where_it_is(phone, sign_in, user):
    page = opened(phone, sign_in, user)
    place = page.get_by_role("button", name="Put a float on over the starboard corner")
    place.scroll_into_view_if_needed()
    scrolled = page.evaluate("scrollY")
    finger = page.context.new_cdp_session(page)
    (x, y), (u, v) = middle(page.locator("[data-hold=float]")), middle(place)
    stops = [(x + (u - x) * i / 4, y + (v - y) * i / 4) for i in range(5)]
    for i, (at_x, at_y) in enumerate(stops):
        kind = "touchMove" if i else "touchStart"
        finger.send(
            "Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": at_x, "y": at_y}]}
        )
    assert page.evaluate("scrollY") == scrolled
    finger.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    tried(page, "1 float more over the starboard corner")


def test_a_float_let_go_beside_the_net_is_not_put_on(desk, sign_in, user):
    page = opened(desk, sign_in, user)
    float_ = page.locator("[data-hold=float]")
    float_.scroll_into_view_if_needed()
    x, y = middle(float_)
    drag(page, float_, (x + 30, y - 40))
    assert not any(
        page.locator(f"[name={each.get_attribute('name')}]").input_value()
        for each in page.locator("[name^=over_]").all()
    )
    expect(page.locator(".flight-float")).to_have_count(1)


def test_taps_put_a_float_on_and_take_it_off(phone, sign_in, axe_in_both, user):
    page = opened(phone, sign_in, user)
    for hold in page.locator(".flight-hold").all():
        box = hold.bounding_box()
        assert min(box["width"], box["height"]) >= 44
    page.get_by_role("button", name="Put a float on over the center").tap()
    tried(page, "1 float more over the center")
    assert "center +" in changes(page)
    page.get_by_role("button", name="Put one more float on over the center").tap()
    tried(page, "2 floats more over the center")
    assert fits(page)
    axe_in_both(page)
    off = page.get_by_role("button", name="Take a float off: center")
    off.tap()
    tried(page, "1 float more over the center")
    off.tap()
    expect(page.get_by_role("heading", name="The net as it is")).to_be_visible(timeout=LONG)


def test_what_cannot_be_flown_can_be_taken_off_again(desk, sign_in, user, monkeypatch):
    page = opened(desk, sign_in, user)
    with monkeypatch.context() as patched:
        patched.setattr(site, "shown", Mock(side_effect=site.CannotFly("The mouth would close.")))
        page.get_by_role("button", name="Put a float on over the center").click()
        tried(page, "The mouth would close.")
    page.get_by_role("button", name="Take a float off: center").click()
    expect(page.get_by_role("heading", name="The net as it is")).to_be_visible(timeout=LONG)
    expect(page.get_by_role("button", name="Put a float on over the center")).to_be_focused()


def test_what_can_be_tapped_does_not_lie_over_each_other(phone, sign_in, user):
    page = opened(phone, sign_in, user)
    places = [middle(each) for each in page.locator(".flight-hold").all()]
    assert len(places) == 9
    for i, (x, y) in enumerate(places):
        for u, v in places[i + 1 :]:
            assert max(abs(x - u), abs(y - v)) >= 43.5


def test_a_leg_on_the_drawing_is_chosen_and_made_longer_inch_by_inch(phone, sign_in, user):
    page = opened(phone, sign_in, user)
    page.get_by_role("button", name="Starboard bottom leg: make it longer").tap()
    length = page.get_by_label("That leg longer by", exact=True)
    expect(length).to_be_focused()
    assert page.get_by_label("One leg longer").input_value() == "starboard bottom"
    more = page.get_by_role("button", name="An inch more")
    more.tap()
    more.tap()
    tried(page, "starboard bottom leg 2 in longer")
    assert length.input_value() == "2 in"
    pressed = page.get_by_role("button", name="Starboard bottom leg: make it longer")
    expect(pressed).to_have_attribute("aria-pressed", "true")
    page.get_by_role("button", name="An inch less").tap()
    tried(page, "starboard bottom leg 1 in longer")


def test_the_sweep_is_cut_on_the_drawing(phone, sign_in, user):
    page = opened(phone, sign_in, user)
    assert page.get_by_role("button", name="Cut the sweep").count() == 0
    page.get_by_label("Start from").select_option("now")
    cut = page.get_by_role("button", name="Cut the sweep")
    expect(cut).to_be_visible(timeout=LONG)
    cut.tap()
    tried(page, "cut the sweep")
    assert page.get_by_label("Cut the sweep of the net as it is now").is_checked()
    expect(cut).to_have_count(0)


def test_keys_do_all_that_a_finger_does_and_the_focus_stays(desk, sign_in, user):
    page = opened(desk, sign_in, user)
    place = page.get_by_role("button", name="on over the port wing end")
    place.focus()
    page.keyboard.press("Enter")
    tried(page, "1 float more over the port wing end")
    expect(place).to_be_focused()
    page.keyboard.press("Space")
    tried(page, "2 floats more over the port wing end")
    page.get_by_text("Floats at one place").click()
    page.get_by_label("Floats more over the port wing end", exact=True).fill("")
    page.get_by_label(OVER_CORNER, exact=True).fill("1")
    tried(page, "1 float more over the port corner")
    expect(page.get_by_role("button", name="Take a float off")).to_have_text(
        "Take a float off: port corner"
    )


def test_buttons_beside_a_field_count_one_more_and_one_less(phone, sign_in, user):
    page = opened(phone, sign_in, user)
    field = page.get_by_label("Floats more, or fewer with a minus", exact=True)
    page.get_by_role("button", name="One less: Floats more").tap()
    assert field.input_value() == "-1"
    tried(page, "1 float fewer")
    page.get_by_role("button", name="One more: Floats more").tap()
    assert field.input_value() == "0"
    # What is wrong with it comes from the site, and the buttons are there again.
    field.fill("99")
    expect(page.get_by_text("less than or equal to 12")).to_be_visible(timeout=LONG)
    page.get_by_role("button", name="One less: Floats more").tap()
    assert field.input_value() == "12"


def test_a_print_has_the_change_and_all_that_is_folded_and_nothing_to_tap(desk, sign_in, user):
    page = opened(desk, sign_in, user)
    page.get_by_label("Floats more, or fewer with a minus", exact=True).fill("2")
    expect(page.get_by_role("heading", name="How sure is that?")).to_be_visible(timeout=LONG)
    page.evaluate("window.print = () => { window.printed = true; }")
    page.get_by_role("button", name="Print this").click()
    assert page.evaluate("window.printed")
    page.emulate_media(media="print")
    for words in (
        "2 floats more",
        "Gray net, printed",
        "Nine in ten go",
        "The changed net",
        "Rules used on this page",
        "The catch, and what is in the net.",
    ):
        expect(page.get_by_text(words).first).to_be_visible()
    expect(page.get_by_role("heading", name="What do you want to try?")).to_be_hidden()
    assert page.get_by_role("button").filter(visible=True).count() == 0


def test_without_scripts_the_button_shows_both(open_page, sign_in, user):
    page = open_page(java_script_enabled=False)
    sign_in(page, user)
    page.goto(f"/nets/{make_net(user).pk}/flight/")
    expect(page.get_by_text("Choose something to try")).to_be_visible()
    page.get_by_label("Droppers more").fill("2")
    page.get_by_role("button", name="Show what it does").click(timeout=LONG)
    expect(page.locator("[data-flight-changes]")).to_be_visible(timeout=LONG)
    expect(page.get_by_role("heading", name="How sure is that?")).to_be_visible()
    expect(page.get_by_label("Droppers more")).to_have_value("2")
    assert page.locator(".flight-hold, .flight-float, .flight-step").count() == 0
    expect(page.get_by_role("button", name="Print this")).to_be_hidden()
    page.get_by_text("Floats at one place").click()
    page.get_by_label(OVER_CORNER).fill("1")
    page.get_by_role("button", name="Show what it does").click(timeout=LONG)
    tried(page, "1 float more over the port corner")
