"""A lesson done by doing, on a phone: known, read, heard, its readings answered."""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from training.course.progress import progress_for
from training.recall import sets
from training.recall.models import ReadingSet

pytestmark = pytest.mark.django_db(transaction=True)

SLUG = "legs-and-ground-cables"
LESSON = reverse("lessons:detail", args=[SLUG])

# A voice for a browser that has none: it notes what it is given and is done at once, until told
# to hold its breath.
VOICE = """
window.heard = [];
class SpeechSynthesisUtterance { constructor(text) { this.text = text; } }
window.SpeechSynthesisUtterance = SpeechSynthesisUtterance;
Object.defineProperty(window, "speechSynthesis", { value: {
  speak(voice) {
    window.heard.push(voice.text);
    if (window.heard.length < 5) setTimeout(() => voice.onend());
  },
  cancel() {},
} });
"""


def answer(page, reading_set, miss=()):
    """Answer what is left of ``reading_set`` as it is asked, wrong about the keys in ``miss``."""
    for reading in reading_set.readings.filter(answered=None):
        right = sets.task_of(reading).right
        wrong = {"met": "broken", "broken": "met"}[right]
        said = wrong if reading.focus in miss else right
        page.locator(f"button[name=said][value={said}]").click()
        expect(page.locator("h1")).to_contain_text(
            "Not right" if reading.focus in miss else "Right"
        )
        page.locator("main a.button").click()


def test_a_lesson_is_read_and_then_done(phone, sign_in, axe, user):
    sign_in(phone, user)
    phone.goto(LESSON)
    assert phone.evaluate("document.documentElement.scrollWidth <= innerWidth")
    half = phone.locator("section.worked", has_text="Half worked").locator("details").first
    expect(half.locator(".finding-list")).to_be_hidden()
    half.locator("summary").click()
    expect(half.locator(".finding-list")).to_be_visible()
    axe(phone)
    phone.get_by_role("button", name="I have read this").click()
    # It leads on to the next thing to do, not back to the top.
    phone.wait_for_url("**/practice/**")
    reading_set = ReadingSet.objects.get(user=user)
    answer(phone, reading_set, miss={"legs_equal"})
    # What was missed leads to the very passage.
    phone.get_by_role("link", name="Read about").first.click()
    phone.wait_for_url(f"**{LESSON}#rule-legs_equal")
    expect(phone.locator("#rule-legs_equal")).to_be_in_viewport()
    assert not progress_for(user).of(SLUG).complete
    phone.get_by_role("button", name="Answer the reading").click()
    phone.wait_for_url("**/practice/**")
    answer(phone, ReadingSet.objects.filter(user=user).first())
    # The first lesson of the course is still to be read.
    expect(phone.get_by_role("link", name="Read: ")).to_be_visible()
    assert progress_for(user).of(SLUG).complete


def test_who_knows_it_is_tested_at_once(phone, sign_in, user):
    sign_in(phone, user)
    phone.goto(LESSON)
    phone.get_by_text("I know this already").click()
    phone.get_by_role("button", name="Test what I know").click()
    phone.wait_for_url("**/practice/**")
    answer(phone, ReadingSet.objects.get(user=user))
    phone.goto(LESSON)
    expect(phone.get_by_text("Passed by its readings", exact=True)).to_be_visible()


def test_a_lesson_is_heard_by_keyboard(phone):
    phone.add_init_script(VOICE)
    phone.goto(LESSON)
    button = phone.get_by_role("button", name="Hear this lesson")
    button.focus()
    phone.keyboard.press("Enter")
    expect(phone.get_by_text("Reading aloud.")).to_be_visible()
    phone.wait_for_function("window.heard.length === 5")
    heard = phone.evaluate("window.heard")
    assert "wire" in heard[0]
    assert not any("CFR" in each or "*" in each for each in heard)
    phone.get_by_role("button", name="Stop reading").press("Enter")
    expect(phone.get_by_text("Stopped.")).to_be_visible()
    expect(button).to_be_visible()


def test_without_a_voice_nothing_is_offered(phone):
    phone.add_init_script("delete window.SpeechSynthesisUtterance; delete window.speechSynthesis;")
    phone.goto(LESSON)
    expect(phone.get_by_role("button", name="Hear this lesson")).to_be_hidden()
