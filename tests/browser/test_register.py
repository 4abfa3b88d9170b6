"""Importing a register on a desk, and recording on a phone what was heard on the dock."""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from tests.browser.looks import fits
from tests.register.events_factory import happen, make_vessel
from training.register.models import AdoptionEvent, Vessel
from training.register.stages import Stage

pytestmark = pytest.mark.django_db(transaction=True)

REGISTER = """name,harbor,length,registration number,owner
Sanderling,Kettle Harbor,52 ft 6 in,TS 1041,Ida Fenwright
Teal,Eastlight,44 ft,TS 1042,Ivo Larkham
Skua,Eastlight,long,TS 1043,
"""

WORDS = ("Sanderling", "Teal", "Skua", "Phalarope", "Dunlin", "Whimbrel", "Gannet", "Turnstone")
HARBORS = ("Kettle Harbor", "Marrow Point", "Gannet Cove", "Eastlight")


def test_a_register_is_looked_at_and_imported(desk, sign_in, staff, axe, tmp_path):
    make_vessel()
    file = tmp_path / "register.csv"
    file.write_text(REGISTER)
    sign_in(desk, staff)
    desk.goto(reverse("register:vessels"))
    desk.get_by_role("link", name="Import a register").click()
    expect(desk.get_by_role("heading", name="Import a register")).to_be_visible()
    axe(desk)
    desk.get_by_label("The register, as a CSV or XLSX file").set_input_files(file)
    desk.get_by_role("button", name="Check the file").click()
    confirm = desk.get_by_role("button", name="Import these 2 rows")
    expect(confirm).to_be_visible()
    expect(desk.get_by_text("Nothing has changed yet.")).to_be_visible()
    expect(desk.get_by_text("“long” was not understood")).to_be_visible()
    axe(desk)
    confirm.click()
    expect(desk.get_by_role("heading", name="What was imported")).to_be_visible()
    assert set(Vessel.objects.values_list("name", flat=True)) == {"Sanderling", "Teal"}


def foreign_register():
    """
    Return a register of 40 made-up vessels as some other program writes it.

    A title above the headings, none of which is ours, decimal commas, and lengths without
    a unit.
    """
    rows = ["Fleet list;;;;;;", "Hull no;Boat called;Hailing port;LOA;Master;Status;Last visit"]
    for number in range(40):
        day = f"{number % 12 + 1}/{number % 9 + 1}/2025"
        rows.append(
            f"TS {2000 + number};{WORDS[number % 8]} {number};{HARBORS[number % 4]};"
            f"{14 + number % 5},{number % 10};Ida No. {number};in use;{day}"
        )
    return "\n".join(rows)


def test_a_register_with_other_headings_is_taken_in_on_a_phone(
    phone, sign_in, staff, axe, tmp_path
):
    make_vessel("Dovekie", "Kettle Harbor")
    file = tmp_path / "fleet.csv"
    file.write_text(foreign_register(), encoding="cp1252")
    sign_in(phone, staff)
    taps = 0

    def tap(role, name):
        nonlocal taps
        phone.get_by_role(role, name=name).first.tap()
        taps += 1

    def looked_at(heading):
        expect(phone.get_by_role("heading", name=heading, level=1)).to_be_visible()
        assert fits(phone)
        axe(phone)

    phone.goto("/")
    phone.get_by_text("Menu", exact=True).tap()
    taps += 1
    tap("link", "Take in a register")
    looked_at("Import a register")
    phone.get_by_label("The register, as a CSV or XLSX file").set_input_files(file)
    taps += 1
    tap("button", "Check the file")
    looked_at("What is in each column?")
    expect(phone.get_by_label("“Boat called”")).to_have_value("name")
    expect(phone.get_by_label("“Last visit”")).to_have_value("")
    tap("button", "Use these columns")
    looked_at("What do these cells mean?")
    phone.get_by_label("meters:").check()
    phone.get_by_label("what does “in use” mean?").select_option("yes")
    taps += 1 + 2  # a list is opened first
    tap("button", "Read it this way")
    looked_at("What would change")
    tap("button", "Import these 40 rows")
    looked_at("What was imported")
    # Each row by another way: cut from the text that was written.
    for line in foreign_register().splitlines()[2:]:
        number, name, harbor, length, master, *__ = line.split(";")
        vessel = Vessel.objects.get(registration=number)
        assert (vessel.name, vessel.harbor, vessel.captain) == (name, harbor, master)
        assert vessel.length == float(length.replace(",", "."))
    print(f"A register of 40 rows with other headings: {taps} taps.")
    assert taps <= 10


def test_what_happened_is_recorded_on_a_phone(phone, sign_in, staff, axe):
    vessel = make_vessel(owner="Ida Fenwright", registration="TS 1041")
    happen(vessel, Stage.TOLD, "2026-07-01", by=staff, note="On the dock.")
    sign_in(phone, staff)
    phone.goto(reverse("register:vessels"))
    assert fits(phone)
    axe(phone)
    phone.get_by_role("link", name="Sanderling").tap()
    phone.get_by_role("link", name="Record what happened").tap()
    expect(phone.get_by_role("heading", name="Record what happened")).to_be_visible()
    assert fits(phone)
    axe(phone)
    phone.get_by_label("fishing without a sweep").check()
    phone.get_by_label("Note (optional)").fill("Says the net tows easier.")
    phone.get_by_role("button", name="Save the entry").tap()
    expect(phone.get_by_text("It is recorded.")).to_be_visible()
    expect(phone.get_by_text("Says the net tows easier.")).to_be_visible()
    assert fits(phone)
    axe(phone)
    assert AdoptionEvent.objects.filter(stage=Stage.CONVERTED, by=staff).count() == 1
