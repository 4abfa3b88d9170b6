"""What a fisherman does with a phone at sea."""

import re

from playwright.sync_api import expect

from tests.exercises.conftest import right_answer
from tests.nets.conftest import TOW
from training.exercises import handing

NOT_REACHED = "The site cannot be reached"
NOTED = re.compile("^Saved on this phone")


def enter(page, typed):
    """Type what ``typed`` has for the fields of its names."""
    for name, text in typed.items():
        field = page.locator(f"main form [name={name}]")
        if field.evaluate("(field) => field.localName") == "select":
            field.select_option(text)
        else:
            field.fill(text)


def enter_tow(page, net, **changes):
    """Open the form of a new tow of ``net`` and fill it in."""
    page.goto(f"/nets/{net.pk}/shine/new/")
    enter(page, TOW | changes)


def save_tow(page):
    page.get_by_role("button", name="Save the tow").tap()


def note_tow(phone, net, **changes):
    """Note a tow of ``net`` without signal."""
    enter_tow(phone.page, net, **changes)
    save_tow(phone.page)
    expect(phone.page.get_by_text(NOTED)).to_be_visible()


def change_net(page, net, **typed):
    """Change what ``typed`` names of ``net``, and save it."""
    page.goto(f"/nets/{net.pk}/edit/")
    enter(page, typed)
    page.get_by_role("button", name="Save and see the plan").tap()


def sign_in_by_form(page, person, password):
    """Sign ``person`` in as people do."""
    page.goto("/account/sign-in/")
    page.locator("[name=username]").fill(person.email)
    page.locator("[name=password]").fill(password)
    page.locator("main").get_by_role("button", name="Sign in").tap()


def answer(page, raw):
    """Fill a task's form in with a raw answer."""
    for name, given in raw.items():
        fields = page.locator(f"main form [name='{name}']")
        sort = fields.first.evaluate("(field) => field.type")
        for value in given if isinstance(given, list) else [given]:
            if sort in ("radio", "checkbox"):
                page.locator(f"main form [name='{name}'][value='{value}']").check()
            elif sort == "select-one":
                fields.select_option(value)
            else:
                fields.fill(value)


def do_task(phone, assignment):
    """Answer a task that was taken along, rightly, and see how the phone says it is graded."""
    raw = right_answer(handing.task_of(assignment))
    graded = handing.graded(assignment, raw)
    phone.page.goto(f"/exercises/sea/{assignment.pk}/")
    answer(phone.page, raw)
    phone.page.get_by_role("button", name="Turn in my answer").tap()
    told = phone.page.get_by_label("Result")
    expect(told).to_contain_text("saved on this phone, not sent yet")
    expect(told).to_contain_text(f"{graded.marks} of {graded.out_of} point")
