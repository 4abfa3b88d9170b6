"""Files that people send as registers: read whatever they were saved as, or refused."""

import io
import zipfile
from datetime import date, datetime

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from hypothesis import given
from hypothesis import strategies as st

from tests.register.tables_factory import csv_file, read_table, xlsx_file
from training.deck.spreadsheet import as_written, safe_cell
from training.register.table import reading
from training.register.table.columns import KEYS, RegisterError, check_columns, plain, unit_of
from training.register.table.laying import Table
from training.register.table.reading import read

ROW = ["Sanderling", "Kettle Harbor", "52 ft 6 in", "TS 1041", "Zoë Fenwright", ""]


def upload(content, name="register.csv"):
    return SimpleUploadedFile(name, content)


class TestText:
    @pytest.mark.parametrize("sign", [",", ";", "\t"])
    @pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
    def test_however_it_was_saved(self, sign, encoding):
        table = read_table(csv_file(ROW, sign=sign, encoding=encoding))
        assert table.rows == [(2, ROW)]

    def test_a_comma_in_a_heading_does_not_mislead(self):
        table = read_table(upload(b"name;harbor;owner, or whoever\nTeal;Eastlight;Ida\n"))
        assert table.rows == [(2, ["Teal", "Eastlight", "Ida"])]

    def test_lines_are_counted_as_an_editor_does(self):
        content = b'name,harbor,owner\n\nTeal,Eastlight,"Ida\nof the quay"\n,,\nSkua,Eastlight,\n'
        assert read_table(upload(content)).rows == [
            (3, ["Teal", "Eastlight", "Ida of the quay"]),
            (6, ["Skua", "Eastlight", ""]),
        ]

    @pytest.mark.parametrize(
        ("content", "told"),
        [
            (b"", "file is empty"),
            (b"name,harbor\n", "no vessel below"),
            (b"name,harbor\n\0\0\1,x\n", "not a table"),
            (b"name,harbor\n\x81\x8d,x\n", "not a table"),
            (b"name,harbor\n" + b"x" * 200_000 + b",y\n", "Line 2 cannot be read"),
            (b"name,harbor\n" + b"x" * 600 + b",y\n", "A cell holds more"),
        ],
    )
    def test_what_is_no_register_is_refused_with_a_reason(self, content, told):
        with pytest.raises(RegisterError, match=told):
            read(upload(content))

    def test_too_many_rows(self, monkeypatch):
        monkeypatch.setattr(reading, "MOST_ROWS", 3)
        rows = [[f"Vessel {index}", "Eastlight", "40", "", "", ""] for index in range(4)]
        assert len(read_table(csv_file(*rows[:3])).rows) == 3
        with pytest.raises(RegisterError, match="more than 3 rows"):
            read(csv_file(*rows))

    def test_too_many_bytes(self, monkeypatch):
        monkeypatch.setattr(reading, "MOST_BYTES", 20)
        with pytest.raises(RegisterError, match="larger than"):
            read_table(csv_file(ROW))


class TestWorkbook:
    def test_cells_are_read_as_a_person_would_type_them(self):
        told = xlsx_file(
            ["Teal", "Eastlight", 52.5, 1041, True, datetime(2026, 7, 1)],
            ["Skua", "Eastlight", 52.0, None, date(2026, 7, 2), "'=Ida"],
        )
        assert read_table(told).rows == [
            (2, ["Teal", "Eastlight", "52.5", "1041", "yes", "2026-07-01"]),
            (3, ["Skua", "Eastlight", "52", "", "2026-07-02", "=Ida"]),
        ]

    def test_empty_rows_are_left_out(self):
        assert read_table(xlsx_file(ROW, [], ROW)).rows == [(2, ROW[:5]), (4, ROW[:5])]

    def test_a_packed_file_that_is_no_workbook(self):
        packed = io.BytesIO()
        with zipfile.ZipFile(packed, "w") as file:
            file.writestr("letter.txt", "Dear Sir")
        with pytest.raises(RegisterError, match="cannot be read"):
            read(upload(packed.getvalue(), "register.xlsx"))

    def test_a_broken_workbook(self):
        whole = xlsx_file(ROW).read()
        with pytest.raises(RegisterError, match="cannot be read"):
            read(upload(whole[: len(whole) // 2], "register.xlsx"))

    def test_a_file_that_unpacks_to_far_more(self):
        packed = io.BytesIO()
        with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as file:
            file.writestr("xl/worksheets/sheet1.xml", b"0" * (reading.MOST_BYTES_UNPACKED + 1))
        assert packed.tell() < reading.MOST_BYTES
        with pytest.raises(RegisterError, match="too large for a register"):
            read(upload(packed.getvalue(), "register.xlsx"))

    def test_entities_are_not_blown_up(self):
        bomb = (
            b'<!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;">]><worksheet>&b;</worksheet>'
        )
        packed = io.BytesIO()
        with zipfile.ZipFile(xlsx_file(ROW)) as whole, zipfile.ZipFile(packed, "w") as file:
            for part in whole.namelist():
                file.writestr(part, bomb if "sheet1" in part else whole.read(part))
        with pytest.raises(RegisterError, match="cannot be read"):
            read(upload(packed.getvalue(), "register.xlsx"))

    def test_a_cell_far_away_does_not_stretch_the_table(self):
        book = xlsx_file(ROW)
        table = read_table(book)
        assert table == Table(table.headers, [(2, ROW[:5])])
        far = xlsx_file([*ROW, *[None] * 5000, "x"])
        assert read_table(far).rows == [(2, ROW[:5])]


class TestHeadings:
    @pytest.mark.parametrize(
        "cells",
        [
            ["Name", "HARBOR", "Length (ft)", "Registration No."],
            ["vessel name", " home port ", "LENGTH", "reg no"],
            ["Vessel_Name", "Home-Harbor", "Length over all [ft]", "Registration number"],
        ],
    )
    def test_are_known_by_many_names(self, cells):
        assert [KEYS[plain(cell)] for cell in cells] == ["name", "harbor", "length", "registration"]

    @pytest.mark.parametrize(
        ("heading", "unit"),
        [
            ("length (m)", "m"),
            ("LOA [feet]", "ft"),
            ("Length_m", "m"),
            ("length", ""),
            ("m/ft", ""),
        ],
    )
    def test_say_the_unit_of_bare_numbers(self, heading, unit):
        assert unit_of(heading) == unit

    @pytest.mark.parametrize("columns", [{}, {"name": 0}, {"harbor": 1, "owner": 0}])
    def test_nothing_to_know_a_vessel_by(self, columns):
        with pytest.raises(RegisterError, match="To know a vessel"):
            check_columns(columns)

    def test_a_day_without_a_stage_is_none_of_ours(self):
        with pytest.raises(RegisterError, match="choose the column of the stage"):
            check_columns({"registration": 0, "since": 1})

    @pytest.mark.parametrize("columns", [{"registration": 0}, {"name": 0, "harbor": 1}])
    def test_a_number_or_a_name_and_a_harbor_is_enough(self, columns):
        check_columns(columns)


@given(st.text())
def test_a_cell_made_harmless_reads_back_as_it_was(text):
    assert as_written(str(safe_cell(text))) == text
