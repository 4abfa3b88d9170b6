"""The season report: right numbers, nothing small to be worked out, on page and paper alike."""

from datetime import date
from itertools import product

import pytest
from django.core import mail
from django.core.management import CommandError, call_command
from django.urls import reverse
from hypothesis import given, settings
from hypothesis import strategies as st

from rigs.drawing import pages
from rigs.drawing.paper import Document
from tests.evidence.tows_factory import make_fleet
from tests.register.events_factory import happen, make_vessel
from tests.register.test_uptake_pages import made_up_fleet
from training.deck.suppression import SMALLEST
from training.desk.models import GroupRuleTally, PersonTally
from training.desk.season import dates, printed, telling, text
from training.desk.season.gathering import gather
from training.people.models import Group, Reach, Role, User
from training.people.sharing import Level
from training.register import conversion_figures
from training.register.conversion import Followed
from training.register.stages import Stage

TODAY = date(2026, 10, 20)
SEASON = dates.season(2026)

few_groups = st.lists(
    st.integers(1, 9).flatmap(lambda most: st.tuples(st.just(most), st.integers(0, most))),
    min_size=1,
    max_size=4,
)


def small(count):
    return 0 < count < SMALLEST


@settings(max_examples=200)
@given(few_groups)
def test_no_small_count_can_be_worked_out(sizes):
    groups = dict(enumerate(sizes))
    told = telling.parts(groups)
    total = sum(converted for _, converted in sizes)
    vessels = sum(each for each, _ in sizes)
    whole_is_told = telling.whole(total, vessels) is not None
    # Everything that agrees with what a reader has: vessels by group, the whole, what is told.
    fitting = [
        counts
        for counts in product(*(range(each + 1) for each, _ in sizes))
        if all(told[key] in (None, count) for key, count in enumerate(counts))
        and (not whole_is_told or sum(counts) == total)
    ]
    for key, (each, converted) in groups.items():
        if small(converted) or small(each - converted):
            assert told[key] is None
            known = {counts[key] for counts in fitting}
            # Everybody or nobody converted tells of each group, and is told in the headline.
            assert len(known) > 1 or total in (0, vessels)


@given(few_groups)
def test_what_is_told_is_true(sizes):
    groups = dict(enumerate(sizes))
    for key, count in telling.parts(groups).items():
        assert count in (None, groups[key][1])


def test_large_groups_are_told():
    groups = {"a": (40, 20), "b": (30, 10), "c": (20, 0)}
    assert telling.parts(groups) == {"a": 20, "b": 10, "c": 0}
    # Two of six is small, and so is what is left out together with a harbor of none.
    told = telling.parts({**groups, "d": (6, 2)})
    assert told == {"a": 20, "b": None, "c": None, "d": None}


class TestDates:
    def test_the_season_is_that_of_the_fishery_without_a_sweep(self):
        # July 1 to November 30: 50 CFR 648.80(a)(16), as read.
        assert (SEASON.first, SEASON.last) == (date(2026, 7, 1), date(2026, 11, 30))

    def test_the_latest_has_begun(self):
        assert dates.latest(date(2026, 6, 30)).year == 2025
        assert dates.latest(date(2026, 7, 1)).year == 2026


class Recorder:
    """An exam that notes what is written, with the letters' true widths."""

    def __init__(self):
        self.width = Document("widths").width
        self.pages, self.pictures = [[]], 0

    def text(self, x, y, words, size, bold=False, color="black"):
        self.pages[-1].append((x, y, words, self.width(words, size, bold), size))

    def line(self, *args, **options):
        """Nothing to note."""

    def picture(self, data, x, y, width, height):
        assert y + height <= 792
        self.pictures += 1

    def new_page(self):
        self.pages.append([])

    @property
    def words(self):
        return " ".join(words for page in self.pages for _, _, words, _, _ in page)


def all_words(report):
    return " ".join(words for section in text.sections(report) for words in section.sentences)


@pytest.mark.django_db
class TestReport:
    @pytest.fixture
    def fleet(self):
        made_up_fleet(5, 60)
        make_fleet(Level.SUMS, first=200)
        group = Group.objects.create(name="Eastlight crews", harbor="Eastlight")
        tallies = {"people": 20, "people_missed": 8, "asked": 60, "missed": 12}
        GroupRuleTally.objects.create(group=group, rule="dropper_spacing", **tallies)
        few = tallies | {"people_missed": 2}
        GroupRuleTally.objects.create(group=group, rule="dropper_length", **few)

    def test_numbers_are_those_of_the_database(self, fleet, staff):
        report = gather(staff, SEASON, TODAY)
        words = all_words(report)
        assert f"{report.converted} of the {report.vessels} vessels on the register" in words
        assert "16 pairs of tows by 8 vessels" in words
        assert [rule.missed for rule in report.rules] == [8]
        tables = [
            row
            for section in text.sections(report)
            if section.figure
            for row in section.figure.rows
        ]
        for group in (*report.by_harbor, *report.by_size):
            said = text.KEPT_BACK if group.converted is None else group.converted
            assert (group.name, group.vessels, said) in tables

    def test_paper_says_what_the_page_says(self, fleet, staff):
        report = gather(staff, SEASON, TODAY)
        sheet = Recorder()
        printed.set_on(sheet, report)
        words = sheet.words
        for section in text.sections(report):
            assert section.title in words
            for sentence in section.sentences:
                assert sentence in words
        assert sheet.pictures == sum(s.figure is not None for s in text.sections(report))
        for page in sheet.pages:
            for x, y, line, width, size in page:
                assert x + width <= 612 - 40, line
                assert y + size <= 792 - 20, line
        assert len(sheet.pages) > 2
        assert printed.as_pdf(report).startswith(b"%PDF-")

    def test_no_table_goes_on_without_its_header(self, staff):
        sheet = Recorder()
        flow = pages.Pages(sheet, "a footer that is longer than a page is wide " * 9)
        header = ("month", "vessels")
        flow.table(header, [(f"row {number}", number) for number in range(90)])
        assert len(sheet.pages) > 2
        for page in sheet.pages:
            said = [words for _, _, words, _, _ in page]
            rows = [words for words in said if words.startswith("row ")]
            assert said.count("month") == 1
            assert said.index("month") < said.index(rows[0])
            assert all(x + width <= 612 - 40 for x, _, _, width, _ in page)
        flow.table(header, [])
        assert [words for _, _, words, _, _ in sheet.pages[-1]].count("vessels") == 2

    def test_small_counts_are_not_written(self, staff):
        for number in range(20):
            vessel = make_vessel(f"V{number}", ("Eastlight", "Marrow Point")[number % 2])
            happen(vessel, Stage.TOLD, "2026-01-05")
            if number < 3:
                happen(vessel, Stage.CONVERTED, "2026-08-05")
        report = gather(staff, SEASON, TODAY)
        assert report.converted is None
        assert report.came is None
        assert {group.converted for group in report.by_harbor} == {None}
        assert "too few to show" in text.headline(report)
        assert "3 of" not in all_words(report)

    def test_an_empty_fleet_has_a_report(self, staff):
        report = gather(staff, SEASON, TODAY)
        assert "There are no vessels on the register" in text.headline(report)
        assert "no vessel came to fish without one" in all_words(report)
        assert printed.as_pdf(report).startswith(b"%PDF-")

    def test_training_is_counted(self, staff, user):
        for number in range(11):
            person = User.objects.create_user(f"t{number}@example.com", name=f"T {number}")
            PersonTally.objects.update_or_create(
                user=person, defaults={"lessons_read": number < 6, "step": ""}
            )
        training = gather(staff, SEASON, TODAY).training
        assert (training.people, training.begun, training.certified) == (12, 6, 0)

    def test_each_has_the_report_of_his_harbors(self, fleet, staff, as_staff):
        Reach.objects.create(user=staff, harbor="Marrow Point")
        report = gather(staff, SEASON, TODAY)
        assert [group.name for group in report.by_harbor] == ["Marrow Point"]
        assert report.rules == []
        page = as_staff.get(reverse("desk:report")).content.decode()
        assert "Eastlight" not in page
        assert "Marrow Point" in page

    def test_page_and_pdf_are_for_staff(self, as_staff, as_user, client):
        for name in ("report", "report_pdf"):
            address = reverse(f"desk:{name}")
            assert as_staff.get(address, {"year": "2025"}).status_code == 200
            assert as_staff.get(address, {"year": "no"}).status_code == 200
            assert as_user.get(address).status_code == 403
            assert client.get(address).status_code == 302
        assert as_staff.get(reverse("desk:report_pdf"))["Content-Type"] == "application/pdf"

    def test_queries_do_not_grow_with_the_fleet(self, as_staff, django_assert_max_num_queries):
        most = 30
        for first in (0, 100):
            make_fleet(Level.SUMS, owners=10, first=first)
            with django_assert_max_num_queries(most) as seen:
                as_staff.get(reverse("desk:report"))
            most = len(seen)


def test_no_step_of_the_curve_is_one_vessels():
    followed = [Followed("Eastlight", "small", 20 * i, i % 2 == 0) for i in range(1, 41)]
    figure = conversion_figures.yearly(followed)
    assert all(row[0] % 3 == 0 for row in figure.rows)
    last = figure.rows[-1][0]
    assert sum(each.days >= last * conversion_figures.MONTH for each in followed) >= SMALLEST


@pytest.mark.django_db
class TestCommand:
    def test_the_file_is_written_again_and_again(self, tmp_path, capsys):
        path = tmp_path / "report.pdf"
        for _ in range(2):
            call_command("season_report", season=2025, to=str(path))
            assert path.read_bytes().startswith(b"%PDF-")
        assert [each.name for each in tmp_path.iterdir()] == ["report.pdf"]

    def test_what_cannot_be_made_is_said(self, tmp_path):
        with pytest.raises(CommandError, match="has not begun"):
            call_command("season_report", season=2999, to=str(tmp_path / "a.pdf"))
        with pytest.raises(CommandError, match="no season"):
            call_command("season_report", season=0, to=str(tmp_path / "a.pdf"))
        with pytest.raises(CommandError, match="could not be written"):
            call_command("season_report", to=str(tmp_path / "no" / "a.pdf"))

    def test_staff_get_it_by_mail_once(self, staff, user):
        User.objects.create_user("off@example.com", name="Off", role=Role.STAFF, is_active=False)
        for _ in range(2):
            call_command("season_report", season=2025, mail=True)
        (message,) = mail.outbox
        assert message.to == [staff.email]
        name, data, kind = message.attachments[0]
        assert (name, kind) == ("season-2025.pdf", "application/pdf")
        assert data.startswith(b"%PDF-")
        call_command("season_report", season=2024, mail=True)
        assert len(mail.outbox) == 2
