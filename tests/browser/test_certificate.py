"""From the certificate's page to a stranger's check of it, and the staff's pages about exams."""

import random

import pytest
from django.utils import timezone
from playwright.sync_api import expect

from rigs.rules.changes import NO_RULE
from tests.browser.looks import fits
from tests.certification.certificate_factory import make_exam, make_requirements, move_on
from tests.moments import BEFORE
from training.certification import certificates
from training.certification.models import Refresher, RequirementsPart, Revocation
from training.people.models import Role, User

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def requirements(db):
    requirements = make_requirements()
    for kind in ("space-droppers", "judge-rig"):
        RequirementsPart.objects.create(requirements=requirements, kind=kind, difficulty=1, count=2)
    return requirements


@pytest.fixture
def certificate(user, requirements):
    return certificates.issue(make_exam(user, requirements, handed_in=timezone.now()))


def test_a_stranger_checks_what_the_holder_shows(phone, desk, sign_in, user, certificate, axe):
    sign_in(phone, user)
    phone.goto("/certificates/")
    axe(phone)
    phone.get_by_role("link", name=certificate.exam.requirements.title).tap()
    expect(phone.get_by_text("This certificate is valid until")).to_be_visible()
    shown = phone.locator("figure img")
    expect(shown).to_have_js_property("complete", True)
    assert shown.evaluate("image => image.naturalWidth") > 0
    axe(phone)
    assert fits(phone)
    with phone.expect_download() as download:
        phone.get_by_role("link", name="PDF").tap()
    assert download.value.path().read_bytes().startswith(b"%PDF-")

    desk.goto("/verify/")
    axe(desk)
    desk.get_by_label("Code on the certificate").fill(certificate.code.lower())
    desk.keyboard.press("Enter")
    expect(desk.get_by_text("This certificate is valid until")).to_be_visible()
    expect(desk.get_by_text(user.name)).to_have_count(0)
    axe(desk)

    phone.get_by_label("Show my name").check()
    phone.get_by_role("button", name="Save my choice").tap()
    expect(phone.get_by_role("status")).to_contain_text("Your name is now shown")
    desk.reload()
    expect(desk.get_by_text(user.name)).to_be_visible()


def test_the_holder_goes_through_what_changed(phone, sign_in, user, certificate, axe, monkeypatch):
    sign_in(phone, user)
    move_on(monkeypatch, timezone.localdate(), drop=("legs_equal",))
    phone.goto("/certificates/")
    axe(phone)
    phone.get_by_role("link", name="See what changed").tap()
    expect(phone.locator(".finding")).to_have_count(1)
    axe(phone)
    assert fits(phone)
    done = phone.get_by_role("button", name="Save my answers")
    done.tap()
    expect(phone.get_by_text("Choose the rule as it is now.")).to_be_visible()
    axe(phone)
    phone.get_by_label(NO_RULE).check()
    done.tap()
    expect(phone.get_by_text("This certificate is valid until")).to_be_visible()
    assert Refresher.objects.count() == 1


def test_two_of_the_staff_take_one_back(desk, phone, sign_in, staff, certificate, axe):
    sign_in(desk, staff)
    desk.goto("/certificates/issued/")
    axe(desk)
    desk.get_by_role("link", name=certificate.holder_name).click()
    desk.get_by_role("button", name="Propose to withdraw it").click()
    expect(desk.get_by_text("Enter the reason.")).to_be_visible()
    axe(desk)
    desk.get_by_label("Reason for withdrawing it").fill("The exam had a wrong key.")
    desk.get_by_role("button", name="Propose to withdraw it").click()
    expect(desk.get_by_text("You asked for this yourself.")).to_be_visible()
    axe(desk)
    second = User.objects.create_user(
        "perrin@example.com", name="Perrin Holt", role=Role.STAFF, whole_fleet=True, joined=BEFORE
    )
    sign_in(phone, second)
    phone.goto(f"/certificates/{certificate.code}/")
    axe(phone)
    assert fits(phone)
    phone.get_by_role("button", name="Withdraw the certificate").tap()
    expect(phone.get_by_text("It is not valid.")).to_be_visible()
    assert Revocation.objects.get().by == staff
    for page in ("/account/email/", "/accounts/asked/"):
        phone.goto(page)
        axe(phone)
        assert fits(phone)
    phone.goto(f"/verify/{certificate.code}/")
    expect(phone.get_by_text("It is not valid.")).to_be_visible()
    axe(phone)


def test_staff_see_figures_and_set_a_pass_mark(desk, phone, sign_in, staff, requirements, axe):
    rng = random.Random(3)
    for number in range(24):
        person = User.objects.create_user(f"p{number}@example.com", name=f"Person {number}")
        skill = rng.uniform(2, 10)
        marks = [min(10, max(0, round(skill + rng.gauss(0, 1.5)))) for _ in range(4)]
        make_exam(person, requirements, marks=marks)
    for page in (desk, phone):
        sign_in(page, staff)
        page.goto("/measure/")
        axe(page)
        page.get_by_role("link", name="Figures").click()
        expect(page.get_by_text("Reliability, Cronbach’s alpha")).to_be_visible()
        axe(page)
        assert fits(page)
    phone.get_by_role("link", name="Set the passing score").tap()
    expect(phone.get_by_role("heading", name="Your estimate")).to_be_visible()
    axe(phone)
    for entry in phone.get_by_role("spinbutton").all():
        entry.fill("65")
    phone.get_by_role("button", name="Save my answers").tap()
    expect(phone.get_by_text("65 percent of the points")).to_be_visible()
    axe(phone)
    assert fits(phone)
