"""What is read on a phone is large enough, and large text needs no sideways scrolling."""

from django.urls import reverse

from tests.browser.looks import fits

SMALLEST = 12  # pixels, of a letter in a drawing on a screen 360 wide
LETTERS = """() => [...document.querySelectorAll("main svg text")]
    .filter(text => text.checkVisibility())
    .map(text => {
      const matrix = text.getScreenCTM();
      return Math.hypot(matrix.a, matrix.b) * parseFloat(getComputedStyle(text).fontSize);
    })"""
DRAWN = (
    *(("exercises:do", kind) for kind in ("judge-rig", "find-fault", "read-shine")),
    *(("lessons:detail", slug) for slug in ("what-a-sweep-costs", "from-wing-end-to-center")),
)
ENLARGED = (
    *(("exercises:do", kind) for kind in ("judge-rig", "space-droppers", "measure-drawing")),
    *((name, None) for name in ("home", "lessons:list", "recall:rules", "nets:net_new")),
    ("lessons:detail", "droppers"),
)


def go(page, name, argument):
    page.goto(reverse(name, args=[argument] if argument else []))


def test_letters_in_drawings_can_be_read_on_a_phone(phone, sign_in, user):
    sign_in(phone, user)
    for name, argument in DRAWN:
        go(phone, name, argument)
        sizes = phone.evaluate(LETTERS)
        assert sizes, argument
        # A hair less, for what the screen rounds.
        assert min(sizes) > SMALLEST - 0.1, argument


def test_text_at_200_percent_needs_no_sideways_scrolling(phone, sign_in, user):
    sign_in(phone, user)
    for name, argument in ENLARGED:
        go(phone, name, argument)
        phone.evaluate("document.documentElement.style.fontSize = '200%'")
        assert fits(phone), (name, argument)


def test_a_phone_shows_no_help_for_a_keyboard_and_a_desk_does(phone, desk, sign_in, user):
    for page, is_shown in ((phone, False), (desk, True)):
        sign_in(page, user)
        go(page, "exercises:do", "space-droppers")
        page.wait_for_selector("[data-board]:not([hidden])")
        assert page.locator(".for-keys").is_visible() is is_shown


def test_the_drawing_stays_in_sight_beside_its_last_question(phone, sign_in, user):
    sign_in(phone, user)
    go(phone, "exercises:do", "measure-drawing")
    phone.wait_for_selector(".is-live")
    section = phone.locator(".sheet").first
    section.locator("fieldset").last.scroll_into_view_if_needed()
    pane = section.locator(".measure-pane").bounding_box()
    assert pane["y"] >= 0
    assert pane["y"] + pane["height"] < phone.viewport_size["height"] * 2 / 3
