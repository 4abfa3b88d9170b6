"""Registers as other programs write them: what is guessed, what is asked, what is remembered."""

import io
import uuid

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from openpyxl import Workbook

from rigs.words.units import FOOT
from tests.register.events_factory import make_vessel
from tests.register.tables_factory import csv_file, dry_run, import_file, read_table
from training.people.models import Reach
from training.register.models import HeadingMemory, ImportDraft, Vessel
from training.register.table import importing, laying, matching, mending, reviewing, steps
from training.register.table.alike import near, one_off
from training.register.table.columns import RegisterError
from training.register.table.entries import NOT_SAID, Answers
from training.register.table.sizing import read_length

pytestmark = pytest.mark.django_db

FOREIGN = ["Hull no", "Boat called", "Hailing port", "LOA (m)", "Master", "Color"]
CELLS = ["TS 1041", "Teal", "Eastlight", "15,5", "Ida Fenwright", "blue"]


def taken(file, staff):
    return steps.take_in(file, staff, uuid.uuid4())


def keys(draft, harbors=None):
    return [guess.key for guess in matching.guesses(draft, harbors)]


def book_of(*sheets):
    """Return an XLSX file with the ``sheets``, each a title and its rows."""
    book = Workbook()
    book.remove(book.active)
    for title, rows in sheets:
        sheet = book.create_sheet(title)
        for row in rows:
            sheet.append(row)
    content = io.BytesIO()
    book.save(content)
    return SimpleUploadedFile("fleet.xlsx", content.getvalue())


class TestGuesses:
    def test_by_the_words_of_the_headings(self, staff):
        draft = taken(csv_file(CELLS, header=FOREIGN, sign=";"), staff)
        assert draft.columns is None
        assert keys(draft) == ["registration", "name", "harbor", "length", "captain", ""]

    def test_the_likelier_of_two_gets_it(self, staff):
        header = ["Vessel registration no", "Vessel", "Home berth", "Owner name"]
        draft = taken(csv_file(["1", "Teal", "Eastlight", "Ida"], header=header), staff)
        assert keys(draft) == ["registration", "name", "harbor", "owner"]

    def test_by_what_stands_below_them(self, staff):
        make_vessel("Teal", "Eastlight", registration="TS 1041")
        make_vessel("Skua", "Kettle Harbor", registration="TS 1042")
        rows = [["ts1041", "teal", "eastlight", "1"], ["TS 1042", "Skua", "Kettle Harbor", "2"]]
        draft = taken(csv_file(*rows, header=["A", "B", "C", "D"]), staff)
        assert keys(draft) == ["registration", "name", "harbor", ""]
        # Whoever looks after no such harbor is told nothing of them.
        assert keys(draft, {"Gannet Cove"}) == ["", "", "", ""]

    def test_are_shown_with_cells(self, staff):
        rows = [CELLS, [*CELLS[:1], "Skua", *CELLS[2:]], ["", "", "", "", "", ""]]
        draft = taken(csv_file(*rows, header=FOREIGN, sign=";"), staff)
        named = matching.guesses(draft, None)[1]
        assert (named.heading, named.examples) == ("Boat called", ["Teal", "Skua"])

    def test_a_column_below_no_heading_is_not_lost(self, staff):
        draft = taken(csv_file([*CELLS, "TS 9"], header=FOREIGN, sign=";"), staff)
        assert matching.guesses(draft, None)[-1].examples == ["TS 9"]


class TestMemory:
    @pytest.fixture
    def draft(self, staff):
        return import_file(csv_file(CELLS, header=FOREIGN, sign=";"), staff)

    def test_the_next_file_needs_no_word(self, staff, draft):
        again = taken(csv_file(["TS 2", *CELLS[1:]], header=FOREIGN, sign=";"), staff)
        assert again.columns == draft.columns
        assert again.answers is not None

    def test_what_was_left_out_stays_out(self, staff, draft):
        assert HeadingMemory.objects.get(heading="color").key == ""

    def test_the_last_word_counts(self, staff, draft):
        again = taken(csv_file(CELLS, header=FOREIGN, sign=";"), staff)
        steps.match(again.key, staff, again.columns | {"owner": 4} | {"captain": 5})
        third = taken(csv_file(CELLS, header=FOREIGN, sign=";"), staff)
        assert (third.columns["owner"], third.columns["captain"]) == (4, 5)

    def test_a_bare_length_keeps_its_unit(self, staff):
        header = ["name", "harbor", "length"]
        first = taken(csv_file(["Teal", "Eastlight", "15.5"], header=header), staff)
        assert steps.questions(first).unit is None
        steps.answer(first.key, staff, Answers(unit="m", order=""))
        second = taken(csv_file(["Skua", "Eastlight", "12"], header=header), staff)
        assert second.outcomes[0][5]["length"] == 12
        assert reviewing.how_read(second).notes == ["Lengths without a unit are read in meters."]


class TestSheetsAndHeadings:
    def test_a_title_above_the_headings(self, staff):
        text = "Fleet of the sound\r\n\r\n" + ";".join(FOREIGN) + "\r\n" + ";".join(CELLS)
        draft = taken(SimpleUploadedFile("fleet.csv", text.encode()), staff)
        assert (draft.top, draft.headers, len(draft.rows)) == (3, FOREIGN, 1)

    def test_the_sheet_with_known_headings_is_chosen(self, staff):
        rows = [["name", "harbor", "length"], ["Teal", "Eastlight", "50 ft"]]
        notes = ("Notes", [["Printed", "by", "Robin"], ["on", "Monday", "x"]])
        draft = taken(book_of(notes, ("Fleet", rows)), staff)
        assert (draft.sheet, draft.headers) == (1, rows[0])
        assert draft.outcomes[0][1] == "add"

    def test_another_sheet_can_be_chosen(self, staff):
        one = ("2025", [["name", "harbor", "length"], ["Teal", "Eastlight", "50 ft"]])
        two = ("2026", [["name", "harbor", "length"], ["Skua", "Eastlight", "51 ft"]])
        draft = taken(book_of(one, two), staff)
        steps.lay(draft.key, staff, 1, 1)
        draft.refresh_from_db()
        assert draft.outcomes[0][2] == "Skua"
        with pytest.raises(RegisterError, match="Choose one of the sheets"):
            steps.lay(draft.key, staff, 2, 1)

    def test_a_table_without_headings(self, staff):
        rows = [["TS 2", "Teal", "Eastlight"], ["TS 3", "Skua", "Eastlight"]]
        draft = taken(csv_file(*rows, header=["TS 1", "Dovekie", "Eastlight"]), staff)
        steps.lay(draft.key, staff, 0, laying.NO_HEADINGS)
        draft.refresh_from_db()
        assert draft.headers == ["Column 1", "Column 2", "Column 3"]
        assert [line for line, __ in draft.rows] == [1, 2, 3]
        steps.match(draft.key, staff, {"registration": 0, "name": 1, "harbor": 2})
        assert not HeadingMemory.objects.exists()

    def test_decimal_commas_do_not_part_cells(self):
        rows = [["TS 1", "Teal", "15,5"], ["TS 2", "Skua", "12,25"]]
        assert read_table(csv_file(*rows, header=["Hull", "Called", "LOA"], sign=";")).rows == [
            (2, rows[0]),
            (3, rows[1]),
        ]


class TestLengths:
    @pytest.mark.parametrize(
        ("text", "bare", "metres"),
        [
            ("15,5", "m", 15.5),
            ("15,500", "m", 15.5),
            ("15.500", "m", 15.5),
            ("15.500 mm", "ft", 15.5),
            ("15,500 mm", "ft", 15.5),
            ("1.550,0 cm", "ft", 15.5),
            ("52,5", "ft", 52.5 * FOOT),
            ("52,500", "ft", 52.5 * FOOT),
            ("52'6\"", "m", 52.5 * FOOT),
        ],
    )
    def test_have_decimals_of_many_habits(self, text, bare, metres):
        assert read_length(text, bare) == pytest.approx(metres)

    def test_a_bare_one_is_asked_about(self, staff):
        header = ["name", "harbor", "length"]
        draft = taken(csv_file(["Teal", "Eastlight", "15"], header=header), staff)
        assert draft.answers is None
        with_unit = csv_file(["Teal", "Eastlight", "15 m"], header=header)
        assert taken(with_unit, staff).answers is not None


class TestDays:
    HEADER = ["name", "harbor", "length", "stage", "stage since"]

    def row(self, day, name="Teal"):
        return [name, "Eastlight", "50 ft", "told", day]

    def test_an_unclear_order_is_asked(self, staff):
        draft = taken(csv_file(self.row("3/4/2026"), header=self.HEADER), staff)
        assert (draft.answers, steps.questions(draft).order.choices) == (None, ("mdy", "dmy"))
        assert importing.confirm(draft.key, staff)[1] is False
        steps.answer(draft.key, staff, Answers(order="dmy"))
        draft.refresh_from_db()
        assert draft.outcomes[0][7] == ["told", "2026-04-03"]

    def test_a_clear_one_is_said(self, staff):
        rows = [self.row("3/4/2026"), self.row("25/4/2026", "Skua")]
        draft = taken(csv_file(*rows, header=self.HEADER), staff)
        assert [outcome[7][1] for outcome in draft.outcomes] == ["2026-04-03", "2026-04-25"]
        assert reviewing.how_read(draft).notes == [
            "Dates are read like 25/4/2026 in line 3: April 25, 2026."
        ]

    def test_a_spreadsheet_may_have_changed_some_about(self, staff):
        rows = [self.row("2026-03-04"), self.row("25/4/2026", "Skua")]
        draft = taken(csv_file(*rows, header=self.HEADER), staff)
        assert "Check line 2: it says March 4, 2026." in reviewing.how_read(draft).notes[-1]
        rows[0] = self.row("2026-03-14")
        draft = taken(csv_file(*rows, header=self.HEADER), staff)
        assert len(reviewing.how_read(draft).notes) == 1


class TestWords:
    HEADER = ["name", "harbor", "length", "still fishing"]

    def test_that_are_not_known_are_asked_for(self, staff):
        rows = [["Teal", "Eastlight", "50 ft", "Sold"], ["Skua", "Eastlight", "50 ft", "sold"]]
        draft = taken(csv_file(*rows, header=self.HEADER), staff)
        (word,) = steps.questions(draft).words
        assert (word.key, word.text, word.rows) == ("is_fishing", "Sold", 2)
        steps.answer(draft.key, staff, Answers(words={"is_fishing": {"sold": "no"}}))
        importing.confirm(draft.key, staff)
        assert set(Vessel.objects.values_list("is_fishing", flat=True)) == {False}

    def test_may_say_nothing(self, staff):
        file = csv_file(["Teal", "Eastlight", "50 ft", "perhaps"], header=self.HEADER)
        told = {"is_fishing": {"perhaps": NOT_SAID}}
        assert dry_run(file, staff, words=told)[1][0].values.keys() == {"name", "harbor", "length"}

    def test_a_harbor_spelled_another_way(self, staff):
        make_vessel("Skua", "Kettle Harbor")
        row = ["Teal", "KETTLE HBR.", "50 ft", "yes"]
        draft = taken(csv_file(row, header=self.HEADER), staff)
        (word,) = steps.questions(draft).words
        assert (word.text, word.guess) == ("KETTLE HBR.", "Kettle Harbor")
        told = {"harbor": {"kettle hbr.": "Kettle Harbor"}}
        steps.answer(draft.key, staff, Answers(words=told))
        again = taken(csv_file(row, header=self.HEADER), staff)
        assert again.outcomes[0][5]["harbor"] == "Kettle Harbor"

    def test_another_harbor_is_none_of_them(self, staff):
        make_vessel("Skua", "Kettle Harbor")
        row = ["Teal", "Eastlight", "50 ft", "yes"]
        assert taken(csv_file(row, header=self.HEADER), staff).answers is not None


class TestTwins:
    @pytest.mark.parametrize(
        ("one", "other", "is_near"),
        [
            ("sanderling", "sanderlin", True),
            ("sanderling", "sanderilng", True),
            ("sanderling", "sanderlink", True),
            ("sanderling", "sandrlink", False),
            ("teal2", "teal3", False),
            ("teal", "tern", False),
            ("ida", "ada", False),
        ],
    )
    def test_near_is_one_letter(self, one, other, is_near):
        assert near(one, other) is is_near
        assert near(other, one) is is_near
        assert not one_off(one, one)

    def only(self, staff, *cells):
        header = ["name", "harbor", "length", "registration number"]
        (outcome,) = dry_run(csv_file([*cells], header=header), staff)[1]
        return outcome

    @pytest.mark.parametrize(
        "cells",
        [
            ("F/V Sanderling", "Kettle Harbor", "50 ft", ""),
            ("Sanderlinng", "Kettle Harbor", "50 ft", ""),
            ("Sanderling", "Kettle Hbr", "50 ft", ""),
            ("Sanderlin", "Kettle Harbor", "50 ft", "TS 1042"),
        ],
    )
    def test_are_pointed_out_and_wait(self, staff, cells):
        vessel = make_vessel(registration="TS 1041")
        outcome = self.only(staff, *cells)
        assert outcome.does == "ask"
        assert outcome.twins == [[f"v{vessel.pk}", "Sanderling (TS 1041, Kettle Harbor)"]]

    @pytest.mark.parametrize(
        "cells",
        [
            ("Sanderling II", "Kettle Harbor", "50 ft", ""),
            ("Sanderlinng", "Kettle Harbor", "50 ft", "TS 77"),
            ("Sanderlinng", "Eastlight", "50 ft", ""),
            ("Sanderling", "Eastlight", "50 ft", "TS 77"),
            ("Sanderling", "Eastlight", "50 ft", ""),
        ],
    )
    def test_others_are_new(self, staff, cells):
        make_vessel(registration="TS 1041")
        assert self.only(staff, *cells).does == "add"

    def test_a_vessel_without_a_number_may_have_moved(self, staff):
        make_vessel()
        assert self.only(staff, "Sanderling", "Eastlight", "50 ft", "").does == "ask"

    def test_of_a_harbor_out_of_reach_are_not_told(self, staff):
        make_vessel()
        Reach.objects.create(user=staff, harbor="Eastlight")
        assert self.only(staff, "Sanderling", "Eastlight", "50 ft", "").does == "add"

    @pytest.fixture
    def draft(self, staff):
        make_vessel(registration="TS 1041")
        header = ["name", "harbor", "length", "owner"]
        rows = [
            ["Sanderlinng", "Kettle Harbor", "51 ft", "Ivo"],
            ["Phalarope", "Eastlight", "50 ft", ""],
            ["Phalerope", "Eastlight", "50 ft", ""],
        ]
        return dry_run(csv_file(*rows, header=header), staff)[0]

    def does(self, draft):
        draft.refresh_from_db()
        return [outcome[1] for outcome in draft.outcomes]

    def test_stay_out_until_somebody_says(self, staff, draft):
        assert self.does(draft) == ["ask", "add", "ask"]
        importing.confirm(draft.key, staff)
        assert set(Vessel.objects.values_list("name", flat=True)) == {"Sanderling", "Phalarope"}

    def test_the_same_one_is_changed(self, staff, draft):
        vessel = Vessel.objects.get()
        steps.decide(draft.key, staff, {"2": f"v{vessel.pk}", "4": "out"})
        assert self.does(draft) == ["change", "add", "refuse"]
        importing.confirm(draft.key, staff)
        vessel.refresh_from_db()
        assert (vessel.name, vessel.owner, vessel.registration) == ("Sanderlinng", "Ivo", "TS 1041")

    def test_new_ones_are_added(self, staff, draft):
        steps.decide(draft.key, staff, {"2": "new", "4": "new"})
        assert self.does(draft) == ["add", "add", "add"]

    def test_a_vessel_that_is_none_of_them_is_not_taken(self, staff, draft):
        other = make_vessel("Dovekie")
        steps.decide(draft.key, staff, {"2": f"v{other.pk}"})
        assert self.does(draft)[0] == "ask"


class TestMending:
    def test_what_was_refused_comes_back_and_goes_in_again(self, staff):
        rows = [
            ["TS 1", "Teal", "Eastlight", "15,5", "Ida", "blue"],
            ["TS 2", "Skua", "Eastlight", "long", "=Ivo", "red"],
        ]
        draft = import_file(csv_file(*rows, header=FOREIGN, sign=";"), staff)
        header, (row,) = mending.header(draft), mending.rows(draft)
        assert header == [*FOREIGN, "line in the file", "what is wrong"]
        assert row[:7] == [*rows[1], 3]
        assert "“long” was not understood" in row[7]
        row[3] = "12,25"
        again = taken(csv_file([str(cell) for cell in row], header=header, sign=";"), staff)
        assert importing.confirm(again.key, staff)[1]
        assert Vessel.objects.get(name="Skua").length == 12.25

    def test_a_done_import_keeps_only_what_is_to_mend(self, staff):
        draft = import_file(csv_file(CELLS, header=FOREIGN, sign=";"), staff)
        assert (draft.rows, draft.sheets, draft.added) == ([], [], 1)
        assert ImportDraft.objects.filter(key=draft.key).exists()
