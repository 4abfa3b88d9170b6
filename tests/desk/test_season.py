"""The season report: right numbers of that day, and nothing small to be worked out."""

from collections import Counter
from datetime import date, timedelta
from itertools import product

import pytest
from django.core import mail
from django.core.management import CommandError, call_command
from django.db.models import F
from django.urls import reverse
from hypothesis import given, settings
from hypothesis import strategies as st

from rigs.drawing import pages
from rigs.drawing.paper import Document
from rigs.rules import rulebook
from tests.certification.certificate_factory import make_exam
from tests.evidence.tows_factory import make_fleet, make_pair
from tests.register.events_factory import happen, make_vessel
from tests.register.test_as_of import changed, morning, registered
from tests.register.test_uptake_pages import made_up_fleet, stage_on
from training.certification import certificates
from training.certification.models import Certificate, Correction
from training.deck.suppression import SMALLEST
from training.desk.season import counting, dates, printed, telling, text
from training.desk.season.gathering import gather
from training.evidence.models import PairedTows
from training.exercises.models import Assignment, Attempt
from training.lessons.models import LessonRead
from training.people.models import Group, Membership, Reach, Role, User
from training.people.sharing import Level, What, choose
from training.privacy.erasure import erase
from training.privacy.models import Erasure
from training.register import as_of, conversion_figures
from training.register.conversion import Followed
from training.register.models import AdoptionEvent, Vessel, VesselDetails
from training.register.stages import Stage

BEGUN = date(2025, 1, 2)
TODAY = date(2026, 10, 20)
SEASON, LAST = dates.season(2026), dates.season(2025)

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
        """What is said between the marks at the top and the foot of each page."""
        said = (words for page in self.pages for _, y, words, _, _ in page if 40 < y < 740)
        return " ".join(said).replace("\u00a0", " ")


@pytest.fixture
def book():
    return rulebook.load("no-sweep", "1")


def people(count, group=None, joined=BEGUN):
    """Return so many new trainees, who joined the site and the ``group`` on a day."""
    first = User.objects.count()
    made = [
        User.objects.create_user(f"t{n}@example.com", name=f"T {n}", joined=morning(joined))
        for n in range(first, first + count)
    ]
    for person in made if group else ():
        Membership.objects.create(group=group, user=person, joined=morning(joined))
    return made


def practice(person, day, book, **missed):
    """Have ``person`` turn in an exercise on ``day`` that asks rules, each ``missed`` or not."""
    assignment = Assignment.objects.create(
        user=person,
        kind="judge-rig",
        seed=1,
        difficulty=1,
        rulebook_name=book.name,
        rulebook_version=book.version,
        is_open=False,
    )
    findings = [
        {"key": key, "right": not wrong, "out_of": 1, "outcome": "fail", "basis": "law"}
        for key, wrong in missed.items()
    ]
    return Attempt.objects.create(
        assignment=assignment,
        answer={},
        marks=0,
        out_of=1,
        passed=False,
        findings=findings,
        handed_in=morning(day),
    )


def all_words(report):
    return " ".join(words for section in text.sections(report) for words in section.sentences)


@pytest.mark.django_db
class TestReport:
    @pytest.fixture
    def fleet(self, book):
        made_up_fleet(5, 45)
        make_fleet(Level.SUMS, first=200)
        registered(BEGUN)
        group = Group.objects.create(name="Eastlight crews", harbor="Eastlight")
        for person in people(12, group):
            missed = {"dropper_spacing": person.pk % 2 == 0, "dropper_length": person.pk % 6 == 0}
            practice(person, date(2026, 8, 3), book, **missed)

    def test_numbers_are_those_of_the_database(self, fleet, staff):
        report = gather(staff, SEASON, TODAY)
        words = all_words(report)
        vessels = Vessel.objects.filter(is_fishing=True)
        converted = sum(stage_on(vessel, TODAY) == Stage.CONVERTED for vessel in vessels)
        assert (report.told.vessels, report.told.converted) == (len(vessels), converted)
        assert f"{converted} of the {len(vessels)} vessels on the register" in words
        assert "On October 20, 2026:" in words
        assert "16 pairs of tows by 8 vessels" in words
        # Two of twelve is small, six of twelve is not.
        assert [(rule.missed, rule.people) for rule in report.rules] == [(6, 12)]
        tables = [
            row
            for section in text.sections(report)
            if section.figure
            for row in section.figure.rows
        ]
        for group in (*report.by_harbor, *report.by_size):
            said = text.KEPT_BACK if group.converted is None else group.converted
            assert (group.name, group.vessels, said) in tables

    @pytest.mark.parametrize("for_office", [False, True])
    def test_paper_says_what_the_page_says(self, fleet, staff, for_office):
        report = gather(staff, SEASON, TODAY, for_office)
        sheet = Recorder()
        printed.set_on(sheet, report)
        words = sheet.words
        for section in text.sections(report):
            assert section.title in words
            for sentence in section.sentences:
                assert sentence in words
        assert sheet.pictures == sum(s.figure is not None for s in text.sections(report))
        for page in sheet.pages:
            said = [line for _, _, line, _, _ in page]
            # Each page says for whom it is.
            assert (text.OFFICE in said, text.HAND_ON in said) == (for_office, not for_office)
            for x, y, line, width, size in page:
                assert x + width <= 612 - 40, line
                assert y + size <= 792 - 20, line
        assert len(sheet.pages) > 2
        assert printed.as_pdf(report).startswith(b"%PDF-")

    def test_the_longest_report_stays_in_its_columns(self, staff):
        names = [f"Northwest Bay of the Long Reach by the Old Fish Pier {n:02}" for n in range(12)]
        names += [f"{'Harborwithoutaspace' * 4}{n:02}" for n in range(12)]
        for harbor in names:
            for number in range(2):
                make_vessel(f"V{number}", harbor, feet=30 + 20 * number)
        registered(BEGUN)
        sheet = Recorder()
        printed.set_on(sheet, gather(staff, SEASON, TODAY, for_office=True))
        titles = {part.title for part in text.sections(gather(staff, SEASON, TODAY))}
        for page in sheet.pages:
            lines = [(y, x, x + width, words) for x, y, words, width, _ in page if 40 < y < 740]
            for y, x, right, words in lines:
                assert right <= 612 - 54, words
                # What stands on one line does not run into what is right of it.
                assert all(right < each[1] for each in lines if each[0] == y and each[1] > x), words
            # No page ends with a heading.
            assert max(lines)[3] not in titles
        told = [words for page in sheet.pages for _, _, words, _, _ in page]
        assert all(sum(name.startswith(words) for words in told) for name in names)
        parts = {part.title: part for part in text.sections(gather(staff, SEASON, TODAY))}
        part = parts["By harbor"]
        assert "12 smaller harbors" in " ".join(t.text for t in part.figure.scene.texts)

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

    def test_small_counts_are_not_written_but_for_the_office(self, staff):
        for number in range(20):
            vessel = make_vessel(f"V{number}", ("Eastlight", "Marrow Point")[number % 2])
            happen(vessel, Stage.TOLD, "2026-01-05")
            if number < 3:
                happen(vessel, Stage.CONVERTED, "2026-08-05")
        registered(BEGUN)
        people(3)
        report = gather(staff, SEASON, TODAY)
        assert report.told == telling.Told(20, None, None, None, None, None)
        assert {group.converted for group in report.by_harbor} == {None}
        assert "too few to show" in text.headline(report)
        assert "3 of" not in all_words(report)
        whole = gather(staff, SEASON, TODAY, for_office=True)
        assert whole.told == telling.Told(20, 3, 3, 3, 0, 0)
        assert [group.converted for group in whole.by_harbor] == [2, 1]
        assert "3 of the 20 vessels on the register" in text.headline(whole)
        assert "July 1, 2026 to October 20, 2026, 3 of them came" in all_words(whole)

    def test_an_empty_fleet_has_a_report(self, staff):
        report = gather(staff, SEASON, TODAY)
        assert "There are no vessels on the register" in text.headline(report)
        assert "came to fish" not in all_words(report)
        assert report.before is None
        assert printed.as_pdf(report).startswith(b"%PDF-")

    def test_each_has_the_report_of_his_harbors(self, fleet, staff, as_staff):
        Reach.objects.create(user=staff, harbor="Marrow Point")
        for for_office in (False, True):
            report = gather(staff, SEASON, TODAY, for_office)
            assert [group.name for group in report.by_harbor] == ["Marrow Point"]
            assert report.rules == []
            assert report.told.people in (None, 0)
        page = as_staff.get(reverse("desk:report"), {"version": "office"}).content.decode()
        assert "Eastlight" not in page
        assert "Marrow Point" in page

    def test_page_and_pdf_are_for_staff(self, fleet, as_staff, as_user, client):
        for name in ("report", "report_pdf"):
            address = reverse(f"desk:{name}")
            assert as_staff.get(address, {"year": "2025"}).status_code == 200
            assert as_user.get(address, {"version": "office"}).status_code == 403
            assert client.get(address).status_code == 302
        asked = {"year": "2025", "version": "office"}
        whole = as_staff.get(reverse("desk:report_pdf"), asked)
        assert whole["Content-Type"] == "application/pdf"
        assert "season-2025-office.pdf" in whole["Content-Disposition"]
        given = as_staff.get(reverse("desk:report_pdf"), {"year": "2025"})
        assert 'filename="season-2025.pdf"' in given["Content-Disposition"]
        page = as_staff.get(reverse("desk:report"), asked).content.decode()
        assert text.OFFICE in page
        assert "year=2025&amp;version=office" in page
        page = as_staff.get(reverse("desk:report"), {"version": "shout"}).content.decode()
        assert text.HAND_ON in page

    def test_a_year_without_data_is_not_offered(self, fleet, as_staff):
        address = reverse("desk:report")
        page = as_staff.get(address).content.decode()
        assert '<option value="2025"' in page
        assert '<option value="2024"' not in page
        for year in ("2024", "1", "no", "2999"):
            page = as_staff.get(address, {"year": year}).content.decode()
            assert "There is no report of the season you asked for" in page
            assert as_staff.get(reverse("desk:report_pdf"), {"year": year}).status_code == 404

    def test_queries_do_not_grow_with_the_fleet(self, as_staff, django_assert_max_num_queries):
        most = 36
        for first in (0, 100):
            make_fleet(Level.SUMS, owners=10, first=first)
            registered(BEGUN)
            with django_assert_max_num_queries(most) as seen:
                as_staff.get(reverse("desk:report"), {"version": "office"})
            most = len(seen)


def recounted(day, first):
    """Count a day's figures again, person by person and vessel by vessel, over the rows."""
    end = as_of.end_of(day)
    there = [
        vessel
        for vessel in Vessel.objects.filter(added__lt=end)
        if vessel.details.filter(since__lt=end).last().is_fishing
    ]
    stages = [stage_on(vessel, day) for vessel in there]
    came = [
        vessel
        for vessel in there
        if any(
            stage_on(vessel, each - timedelta(1)) != Stage.CONVERTED
            and stage_on(vessel, each) == Stage.CONVERTED
            for each in {event.day for event in vessel.events.all()}
            if first <= each <= day
        )
    ]
    found = Counter()
    for person in User.objects.exclude(role=Role.STAFF).filter(joined__lt=end):
        if Erasure.objects.filter(person=person, made__lt=end).exists():
            continue
        exams = [exam for exam in person.exams.all() if exam.begun < end]
        holds = False
        for exam in exams:
            certificate = getattr(exam, "certificate", None)
            if certificate and certificate.issued < end < certificate.expires:
                revocation = getattr(certificate, "revocation", None)
                words = [each.passed for each in exam.corrections.all() if each.made < end]
                gone = revocation is not None and revocation.made < end
                holds |= not gone and (not words or words[-1])
        attempts = Attempt.objects.by(person).filter(handed_in__lt=end)
        read = person.lessons_read.filter(read_at__lt=end)
        found.update(people=1, begun=bool(exams or attempts or read), certified=holds)
    return telling.Told(
        len(there),
        stages.count(Stage.CONVERTED),
        len(came),
        found["people"],
        found["begun"],
        found["certified"],
    )


def pass_exam(person, day, months=24):
    """Have ``person`` be certified from ``day`` on."""
    moment = morning(day)
    certificate = certificates.issue(make_exam(person, begun=moment, handed_in=moment))
    certificate.expires = certificates.months_later(moment, months)
    certificate.save()
    return certificate


@pytest.mark.django_db
class TestASeasonThatIsOver:
    """The report of last season, and what of it later days may move."""

    @pytest.fixture
    def fleet(self, book):
        made_up_fleet(6, 45)
        # A year earlier, so that much of it happened before and in the season of 2025.
        AdoptionEvent.objects.update(day=F("day") - timedelta(days=200))
        registered(date(2024, 8, 1))
        self.trained = people(16, joined=date(2024, 9, 1))
        for number, person in enumerate(self.trained[:12]):
            practice(person, date(2025, 7 + number % 5, 2), book, dropper_spacing=number % 2 == 0)
        self.certificates = [
            pass_exam(person, date(2025, 7, 10), months)
            for person, months in zip(self.trained[:7], (24, 24, 24, 24, 24, 24, 3), strict=True)
        ]
        LessonRead.objects.note(self.trained[14], "anything")
        LessonRead.objects.update(read_at=morning(date(2025, 8, 1)))

    def test_each_figure_is_a_recount_of_that_day(self, fleet, staff):
        for season, day in ((LAST, LAST.last), (dates.season(2024), dates.season(2024).last)):
            told = gather(staff, season, TODAY, for_office=True).told
            assert told == recounted(day, season.first)
        assert gather(staff, LAST, TODAY, for_office=True).told.certified == 6
        assert told.people == 16
        assert told.begun == told.certified == 0
        (rule,) = gather(staff, LAST, TODAY).rules
        assert (rule.people, rule.missed) == (12, 6)

    def test_nothing_moves_when_this_season_goes_on(self, fleet, staff, book):
        before = {office: gather(staff, LAST, TODAY, office) for office in (False, True)}
        self._go_on(staff, book)
        for office, report in before.items():
            again = gather(staff, LAST, date(2026, 12, 24), office)
            assert again == report
            assert text.title(again) == text.title(report)
            assert text.sections(again) == text.sections(report)

    def _go_on(self, staff, book):
        """Have much happen in the year after the season."""
        vessels = list(Vessel.objects.order_by("pk"))
        for number, vessel in enumerate(vessels):
            happen(vessel, list(Stage)[number % 7], date(2025, 12, 1) + timedelta(number))
        changed(vessels[0], date(2025, 12, 1), harbor="Gannet Cove", length=99.0)
        changed(vessels[1], date(2025, 12, 1), is_fishing=not vessels[1].is_fishing)
        make_fleet(Level.SUMS, first=300)
        Vessel.objects.filter(name__in=[f"Vessel {n}" for n in range(300, 308)]).update(
            added=morning(date(2026, 1, 2))
        )
        VesselDetails.objects.filter(
            vessel__name__in=[f"Vessel {n}" for n in range(300, 308)]
        ).update(since=morning(date(2026, 1, 2)))
        User.objects.filter(name__startswith="Hand").update(joined=morning(date(2026, 1, 2)))
        newcomer = people(1, joined=date(2025, 12, 1))[0]
        for person in (newcomer, *self.trained[12:]):
            practice(person, date(2025, 12, 1), book, dropper_spacing=True)
        certificates.revoke(self.certificates[0], "Found to be somebody else's answers.", staff)
        Correction.objects.create(
            exam=self.certificates[1].exam, passed=False, reason="Marked wrongly.", by=staff
        )
        Certificate.objects.filter(pk=self.certificates[2].pk).update(
            expires=morning(date(2026, 2, 1))
        )
        pass_exam(self.trained[10], date(2025, 12, 3))

    def test_each_count_opens_its_rows_as_of_that_day(self, fleet, staff, as_staff):
        erase(self.trained[1])
        moved = Vessel.objects.order_by("pk")[0]
        changed(moved, date(2025, 12, 1), harbor="Gannet Cove")
        page = as_staff.get(reverse("desk:report"), {"year": "2025", "version": "office"})
        counts = page.context["counts"]
        assert len(counts) > 12
        for each in counts:
            rows = as_staff.get(f"{reverse(f'desk:report_{each.of}')}?{each.asked}")
            assert rows.context["page"].paginator.count == each.number, each.words
        # Of another harbor since: in the list of that day, but not to be opened by who is held.
        then = VesselDetails.objects.filter(vessel=moved).order_by("since")[0].harbor
        Reach.objects.create(user=staff, harbor=then)
        asked = {"year": "2025", "of": "fishing", "harbor": then}
        rows = as_staff.get(reverse("desk:report_vessels"), asked).context["page"].object_list
        assert [row.pk for row in rows if row.name == moved.name] == [None]
        for asked in ({"of": "x"}, {"of": "here", "year": "1999"}):
            assert as_staff.get(reverse("desk:report_people"), asked).status_code == 404
        page = as_staff.get(reverse("desk:report"), {"year": "2025"})
        assert page.context["counts"] == []

    def test_taken_back_by_the_last_day_does_not_count(self, fleet, staff):
        revoked = certificates.revoke(self.certificates[0], "Answers of somebody else.", staff)
        type(revoked).objects.update(made=morning(LAST.last))
        told = gather(staff, LAST, TODAY, for_office=True).told
        assert told.certified == 5 == recounted(LAST.last, LAST.first).certified
        type(revoked).objects.update(made=morning(LAST.last + timedelta(1)))
        assert gather(staff, LAST, TODAY, for_office=True).told.certified == 6

    def test_who_deletes_the_account_later_stays_a_count(self, fleet, staff):
        before = gather(staff, LAST, TODAY, for_office=True)
        # One who has practiced alone, and one whose certificate stays without a name.
        erase(self.trained[11])
        erase(self.trained[1])
        after = gather(staff, LAST, TODAY, for_office=True)
        assert after.told == before.told._replace(begun=before.told.begun - 1)
        (rule,), (was,) = after.rules, before.rules
        assert (was.people - rule.people, was.missed - rule.missed) == (2, 0)
        assert "what they read and practiced goes out of this report" in all_words(after)
        Erasure.objects.update(made=morning(LAST.last))
        gone = gather(staff, LAST, TODAY, for_office=True).told
        assert (gone.people, gone.certified) == (14, 5)

    def test_words_of_a_season_that_runs_and_one_that_is_over(self, fleet, staff):
        over, runs = gather(staff, LAST, TODAY), gather(staff, SEASON, TODAY)
        assert (over.on, over.is_running) == (LAST.last, False)
        assert text.title(over) == "Season 2025: the whole fleet"
        assert text.as_of(over) == "As of November 30, 2025, the last day of the season."
        assert (runs.on, runs.is_running) == (TODAY, True)
        assert text.title(runs) == "Season 2026 so far: the whole fleet"
        assert "so far, as of October 20, 2026" in text.as_of(runs)
        assert not gather(staff, SEASON, SEASON.last).is_running
        # What is not known of past days is said where there are any.
        assert "marked as no longer fishing before" in all_words(over)
        assert "may be missing from past days" not in all_words(over)
        held = over._replace(harbors=["Eastlight"])
        assert "may be missing from past days" in all_words(held)
        alone = runs._replace(before=None, harbors=["Eastlight"])
        assert "past days" not in all_words(alone)
        assert "past days" in all_words(runs)
        books = {book.version for book in over.rulebooks}
        assert books == {
            rulebook.in_force(name, LAST.last).version for name in rulebook.gear_names(LAST.last)
        }

    def test_the_season_before_stands_beside_it(self, fleet, staff):
        report = gather(staff, LAST, TODAY, for_office=True)
        before = dates.season(2024)
        assert report.before.told == recounted(before.last, before.first)
        (part,) = [each for each in text.sections(report) if each.table]
        assert part.table.header[1:] == ("Nov 30, 2024", "Nov 30, 2025")
        for row, *both in zip(part.table.rows, report.before.told, report.told, strict=True):
            assert [*row[1:]] == both
        # One that runs is set beside the same day of the season before, not its end.
        runs = gather(staff, SEASON, TODAY, for_office=True)
        assert runs.before.on == date(2025, 10, 20)
        assert runs.before.told == recounted(date(2025, 10, 20), LAST.first)
        assert "not at its end" in all_words(runs)
        assert gather(staff, before, TODAY).before is None

    def test_a_register_that_grew_is_said(self, fleet, staff):
        for number in range(3):
            make_vessel(f"New {number}", added=morning(date(2025, 2, 1)))
        report = gather(staff, LAST, TODAY)
        before, now = report.before.told, report.told
        assert now.vessels == before.vessels + 3
        assert (
            f"The register has grown by 3 vessels, from {before.vessels} to {now.vessels}."
            in all_words(report)
        )


@pytest.mark.django_db
def test_paired_tows_are_those_up_to_the_last_day(staff):
    owners = make_fleet(Level.SUMS, owners=8, pairs=2)
    for owner in owners:
        make_pair(owner, LAST.last, flatfish=(10.0 + owner.pk % 7, 40.0))
        make_pair(owner, date(2025, 8, 1), flatfish=(20.0, 41.0 + owner.pk % 5))
        make_pair(owner, LAST.last + timedelta(1), flatfish=(30.0, 31.0))
    catches = [
        (catch.without_sweep, catch.with_sweep)
        for pair in PairedTows.objects.filter(day__lte=LAST.last)
        for catch in pair.catches.filter(group="flatfish")
    ]
    report = gather(staff, LAST, TODAY)
    assert (report.evidence.pairs, report.evidence.last) == (16, LAST.last)
    without, with_sweep = map(sum, zip(*catches, strict=True))
    assert report.evidence.groups["flatfish"].ratio == pytest.approx(without / with_sweep)
    assert set(report.evidence.groups) == {"flatfish"}
    words = all_words(report)
    assert "16 pairs of tows by 8 vessels" in words
    assert "all pairs towed up to November 30, 2025" in words
    # Whoever takes back the leave to count them takes them out of every report.
    choose(owners[0], What.CATCHES, Level.OWN)
    assert gather(staff, LAST, TODAY).evidence.pairs == 14


def counts_of(vessels, converted, came, people, begun, certified):
    return counting.SeasonCounts(
        TODAY, vessels, converted, came, [], [], people, begun, certified, False
    )


many = st.builds(
    lambda vessels, people, shares: counts_of(
        vessels,
        round(vessels * shares[0]),
        round(vessels * shares[0] * shares[1]),
        people,
        round(people * shares[2]),
        round(people * shares[2] * shares[3]),
    ),
    st.integers(0, 40),
    st.integers(0, 40),
    st.tuples(*[st.floats(0, 1)] * 4),
)


@settings(max_examples=200)
@given(many, many)
def test_no_two_figures_beside_each_other_tell_a_small_one(before, now):
    then, told = telling.beside(before, now), telling.alone(now)
    for each, counts in ((then, before), (told, now)):
        for name, value in each._asdict().items():
            assert value in (None, getattr(counts, name))
        assert not small(each.people or 0)
        for part, whole in ((each.converted, each.vessels), (each.came, each.vessels)):
            assert part is None or not (small(part) or small(whole - part))
        for part in (each.begun, each.certified):
            assert part is None or not (small(part) or small(counts.people - part))
        for part, whole in ((each.certified, each.begun), (each.came, each.converted)):
            assert None in (part, whole) or not small(abs(whole - part))
    for name in ("converted", "people", "begun", "certified"):
        two = getattr(then, name), getattr(told, name)
        assert None in two or not small(abs(two[0] - two[1]))
    if None not in (then.converted, told.converted, told.came):
        assert not small(abs(told.came - (told.converted - then.converted)))


def test_no_step_of_the_curve_is_one_vessels():
    followed = [Followed("Eastlight", "small", 20 * i, i % 2 == 0) for i in range(1, 41)]
    figure = conversion_figures.yearly(followed)
    assert all(row[0] % 3 == 0 for row in figure.rows)
    last = figure.rows[-1][0]
    assert sum(each.days >= last * conversion_figures.MONTH for each in followed) >= SMALLEST


@pytest.mark.django_db
class TestCommand:
    @pytest.fixture
    def vessels(self):
        for number in range(3):
            make_vessel(f"V{number}", added=morning(date(2024, 8, 1)))

    def test_the_file_is_written_again_and_again(self, vessels, tmp_path, capsys):
        path = tmp_path / "report.pdf"
        for _ in range(2):
            call_command("season_report", season=2025, to=str(path))
            assert path.read_bytes().startswith(b"%PDF-")
        assert [each.name for each in tmp_path.iterdir()] == ["report.pdf"]

    def test_the_file_has_the_whole_fleet_in_the_version_asked_for(
        self, vessels, tmp_path, monkeypatch
    ):
        reports = []
        monkeypatch.setattr(printed, "as_pdf", lambda report: reports.append(report) or b"")
        for office in (False, True):
            call_command("season_report", season=2025, to=str(tmp_path / "a"), for_office=office)
        assert [report.for_office for report in reports] == [False, True]
        assert [report.told.vessels for report in reports] == [3, 3]

    def test_what_cannot_be_made_is_said(self, vessels, tmp_path):
        with pytest.raises(CommandError, match="has not begun"):
            call_command("season_report", season=2999, to=str(tmp_path / "a.pdf"))
        with pytest.raises(CommandError, match="no season"):
            call_command("season_report", season=0, to=str(tmp_path / "a.pdf"))
        with pytest.raises(CommandError, match="Nothing is known of the season 2023"):
            call_command("season_report", season=2023, to=str(tmp_path / "a.pdf"))
        with pytest.raises(CommandError, match="goes to a file"):
            call_command("season_report", season=2024, mail=True, for_office=True)
        with pytest.raises(CommandError, match="could not be written"):
            call_command("season_report", to=str(tmp_path / "no" / "a.pdf"))

    def test_staff_get_it_by_mail_once(self, vessels, staff, user):
        User.objects.create_user(
            "off@example.com", name="Off", role=Role.STAFF, whole_fleet=True, is_active=False
        )
        for _ in range(2):
            call_command("season_report", season=2025, mail=True)
        (message,) = mail.outbox
        assert message.to == [staff.email]
        name, data, kind = message.attachments[0]
        assert (name, kind) == ("season-2025.pdf", "application/pdf")
        assert data.startswith(b"%PDF-")
        call_command("season_report", season=2024, mail=True)
        assert len(mail.outbox) == 2
