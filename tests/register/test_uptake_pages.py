"""The pages of uptake: their numbers against a recount, who sees what, at what cost."""

import csv
import io
import random
from datetime import date, timedelta

import numpy as np
import pytest
from django.urls import reverse
from django.utils import timezone
from lifelines import KaplanMeierFitter

from rigs.words.days import long_day
from rigs.words.units import FOOT
from tests.register.events_factory import happen, make_vessel, new_key
from training.deck import figures
from training.deck.plain import counted, months, without_a_sweep
from training.people.models import Reach
from training.register import (
    conversion,
    conversion_figures,
    events,
    uptake,
    uptake_figures,
    uptake_sums,
)
from training.register.models import AdoptionEvent, Vessel
from training.register.sizes import SIZES, size_of
from training.register.stages import Stage
from training.register.wording import stage_words

pytestmark = pytest.mark.django_db

HARBOURS = ("Kettle Harbor", "Marrow Point", "Eastlight")
TODAY = date(2026, 10, 20)
FIRST = date(2025, 2, 3)


def made_up_fleet(seed=2, vessels=24):
    """Make vessels and a random way for most of them; some no longer fish."""
    rng = random.Random(seed)
    made, happened = [], []
    for number in range(vessels):
        vessel = Vessel(
            name=f"Vessel {number}",
            harbor=HARBOURS[number % 3],
            length=rng.randint(30, 90) * FOOT,
            is_fishing=rng.random() < 0.85,
        )
        made.append(vessel)
        day = FIRST + timedelta(days=rng.randint(0, 400))
        for stage in rng.sample(list(Stage), rng.randint(0, 6)):
            happened.append(AdoptionEvent(vessel=vessel, stage=stage, day=day, key=new_key()))
            day += timedelta(days=rng.randint(0, 90))
    # By bulk and counted at the end, to be quick.
    Vessel.objects.bulk_create(made)
    AdoptionEvent.objects.bulk_create(happened)
    uptake.rebuild()


@pytest.fixture
def fleet(db):
    made_up_fleet()


def stage_on(vessel, day):
    """Return where ``vessel`` stood at the end of ``day``, by going through its events by hand."""
    order = list(Stage)
    stage = None
    for event in vessel.events.filter(day__lte=day).order_by("day", "recorded", "pk"):
        if stage in (None, Stage.BACK):
            if stage is None or event.stage == Stage.CONVERTED:
                stage = Stage(event.stage)
        elif order.index(event.stage) > order.index(stage):
            stage = Stage(event.stage)
    return stage


def month_end(month):
    return (month + timedelta(days=32)).replace(day=1) - timedelta(days=1)


def table(response):
    assert response.status_code == 200
    return list(csv.reader(io.StringIO(response.getvalue().decode("utf-8-sig"))))


def narrowed(harbor, size):
    """Return the vessels of ``harbor`` and ``size``, all if empty."""
    return [
        vessel
        for vessel in Vessel.objects.all()
        if harbor in ("", vessel.harbor) and size in ("", size_of(vessel.length).key)
    ]


class TestFigures:
    @pytest.mark.parametrize("harbor", ["", "Marrow Point"])
    @pytest.mark.parametrize("size", ["", "small"])
    def test_stock_equals_a_recount_at_each_months_end(self, fleet, staff, harbor, size):
        found = uptake_sums.uptake(staff, TODAY, harbor, size)
        vessels = narrowed(harbor, size)
        assert found.months[-1] == TODAY.replace(day=1)
        for i, month in enumerate(found.months):
            # Events of later days of the running month count already.
            stood = [stage_on(vessel, month_end(month)) for vessel in vessels]
            for stage in Stage:
                assert found.rows[stage].stock[i] == stood.count(stage)

    @pytest.mark.parametrize("harbor", ["", "Marrow Point"])
    @pytest.mark.parametrize("size", ["", "small"])
    def test_the_stock_of_each_day_is_a_recount(self, fleet, staff, harbor, size):
        found = uptake_sums.day_by_day(staff, TODAY, harbor, size)
        vessels = narrowed(harbor, size)
        assert found.days[-1] <= found.until == TODAY
        for i, day in list(enumerate(found.days))[::4]:
            stood = [stage_on(vessel, day) for vessel in vessels]
            assert [found.stocks[stage][i] for stage in Stage] == [*map(stood.count, Stage)]
        stood = [stage_on(vessel, TODAY) for vessel in vessels]
        assert [found.stocks[stage][-1] for stage in Stage] == [*map(stood.count, Stage)]

    def test_an_entry_that_was_corrected_leaves_no_trace_in_charts(self, staff, as_staff):
        def charts():
            sums, daily = uptake_sums.uptake(staff, TODAY), uptake_sums.day_by_day(staff, TODAY)
            words = stage_words()
            drawn = [uptake_figures.stock(sums, daily, words)]
            drawn += [uptake_figures.flow(sums, TODAY, words, stage) for stage in Stage]
            followed = conversion.conversion(staff, TODAY).followed
            drawn += [conversion_figures.figure(followed), conversion_figures.yearly(followed)]
            return [(figure.scene, figure.rows, figure.caption) for figure in drawn]

        other, vessel = make_vessel("Other"), make_vessel()
        happen(other, Stage.TOLD, "2026-03-01")
        happen(other, Stage.CONVERTED, "2026-08-01")
        happen(vessel, Stage.TOLD, "2026-04-01")
        before = charts()
        # Put in years too early, moved, and taken out: as if it had never been there.
        wrong = happen(vessel, Stage.CONVERTED, "2019-05-02")
        assert charts() != before
        moved = events.correct(wrong, key=new_key(), by=staff, day=date(2026, 5, 2))
        assert charts()[0][1][0][0] == "Mar 2026"
        events.withdraw(moved, key=new_key(), by=staff)
        assert charts() == before

    def test_flow_adds_up_to_stock(self, fleet, staff):
        for row in uptake_sums.uptake(staff, TODAY).rows.values():
            assert sum(row.entered) - sum(row.left) == row.stock[-1]
            assert min(row.stock) >= 0

    def test_counts_equal_a_recount(self, fleet, staff):
        found = {(each.harbor, each.size): each for each in uptake_sums.counts(staff)}
        for harbor in HARBOURS:
            for size in SIZES:
                vessels = [
                    vessel
                    for vessel in Vessel.objects.filter(harbor=harbor, is_fishing=True)
                    if size_of(vessel.length) == size
                ]
                converted = [
                    vessel for vessel in vessels if stage_on(vessel, date.max) == Stage.CONVERTED
                ]
                cell = found.get((harbor, size.key))
                assert (cell.vessels if cell else 0) == len(vessels)
                assert (cell.converted if cell else 0) == len(converted)

    def test_a_chart_shows_the_last_months_and_a_table_all(self, staff):
        happen(make_vessel(), Stage.TOLD, date(2019, 5, 2))
        found = uptake_sums.uptake(staff, TODAY)
        daily = uptake_sums.day_by_day(staff, TODAY)
        figure = uptake_figures.stock(found, daily, stage_words())
        assert (daily.days, daily.stocks[Stage.TOLD]) == ((date(2023, 11, 1),), (1,))
        assert figure.rows[0][0] == "May 2019"
        assert len(figure.rows) == len(found.months) > uptake_sums.MOST_MONTHS
        assert len(found.latest().months) == uptake_sums.MOST_MONTHS
        assert found.latest().rows[Stage.TOLD].stock == (1,) * uptake_sums.MOST_MONTHS

    def test_a_fleet_without_events_has_this_month(self, staff):
        found = uptake_sums.uptake(staff, TODAY)
        assert found.months == (date(2026, 10, 1),)
        assert found.rows[Stage.TOLD].stock == (0,)


class TestConversion:
    @pytest.mark.parametrize("seed", [1, 2, 3])
    def test_curve_of_the_database_equals_lifelines(self, staff, seed):
        made_up_fleet(seed, 40)
        found = conversion.conversion(staff, TODAY).followed
        times = [each.days for each in found]
        happened = [each.converted for each in found]
        assert sum(happened) > 3
        curve = conversion.curve_of(found)
        fitter = KaplanMeierFitter().fit(times, happened)
        for step in curve.steps:
            expected = fitter.survival_function_.loc[step.time].iloc[0]
            assert step.waiting == pytest.approx(expected)
            assert step.at_risk == conversion.still_followed(found, step.time)
        median = np.inf if curve.median is None else curve.median
        assert median == fitter.median_survival_time_

    def test_each_vessel_is_followed_as_its_events_say(self, staff):
        way = make_vessel("Dunlin")
        happen(way, Stage.TOLD, "2026-01-01")
        gone = make_vessel("Petrel", is_fishing=False)
        happen(gone, Stage.TOLD, "2026-01-01")
        happen(gone, Stage.TRAINING, "2026-02-01")
        there = make_vessel("Eider")
        happen(there, Stage.TOLD, "2026-01-01")
        happen(there, Stage.CONVERTED, "2026-03-02")
        happen(there, Stage.BACK, "2026-04-01")
        met = make_vessel("Fulmar")
        happen(met, Stage.CONVERTED, "2026-01-01")
        make_vessel("Teal")
        found = conversion.conversion(staff, TODAY)
        assert sorted((each.days, each.converted) for each in found.followed) == [
            (31, False),
            (60, True),
            ((TODAY - date(2026, 1, 1)).days, False),
        ]
        assert found.met_converted == 1

    def test_nobody_followed(self, staff, as_staff):
        assert conversion.curve_of([]) is None
        page = as_staff.get(reverse("register:waiting"))
        assert "No vessel has been followed" in page.content.decode()
        address = reverse("register:waiting_csv", args=["conversion"])
        assert as_staff.get(address).status_code == 404


class TestPages:
    ADDRESSES = [
        ("uptake", []),
        ("uptake_csv", ["uptake-stock"]),
        ("uptake_png", ["uptake-flow"]),
        ("waiting", []),
        ("waiting_csv", ["conversion"]),
        ("waiting_csv", ["compared"]),
        ("waiting_png", ["conversion-1"]),
    ]

    @pytest.fixture(params=ADDRESSES, ids=lambda each: "-".join([each[0], *each[1]]))
    def address(self, request, fleet):
        name, args = request.param
        return reverse(f"register:{name}", args=args)

    def test_staff_alone_may_see_them(self, address, as_staff, as_user, as_officer, client):
        assert as_staff.get(address).status_code == 200
        assert as_user.get(address).status_code == 403
        assert as_officer.get(address).status_code == 403
        assert client.get(address).url.startswith(reverse("people:sign_in"))
        assert as_staff.post(address).status_code == 405

    def test_the_headline_is_the_recount(self, fleet, as_staff):
        page = as_staff.get(reverse("register:uptake")).content.decode()
        vessels = Vessel.objects.filter(is_fishing=True)
        converted = sum(stage_on(vessel, date.max) == Stage.CONVERTED for vessel in vessels)
        assert f"{converted} of the {len(vessels)} vessels on the register fish" in page

    def test_narrowed_down_by_harbor_and_size(self, fleet, as_staff):
        asked = {"harbor": "Eastlight", "size": "large", "stage": "told"}
        page = as_staff.get(reverse("register:uptake"), asked).content.decode()
        assert "of Eastlight, over 60 ft," in page
        assert "Vessels entering and leaving: talked to" in page
        address = reverse("register:uptake_csv", args=["uptake-by-harbor"])
        rows = table(as_staff.get(address, asked))
        assert [row[0] for row in rows] == ["harbor", "Eastlight"]

    def test_what_is_not_understood_is_left_out(self, fleet, as_staff):
        page = as_staff.get(reverse("register:uptake"), {"harbor": "Atlantis", "size": "huge"})
        assert page.status_code == 200

    def test_each_keeps_to_the_harbors_of_who_looks(self, fleet, staff, as_staff):
        Reach.objects.create(user=staff, harbor="Eastlight")
        page = as_staff.get(reverse("register:uptake")).content.decode()
        assert "Kettle Harbor" not in page
        assert "Eastlight" in page
        assert "Kettle Harbor" not in as_staff.get(reverse("register:waiting")).content.decode()
        asked = {"harbor": "Kettle Harbor"}
        address = reverse("register:uptake_csv", args=["uptake-by-harbor"])
        assert [row[0] for row in table(as_staff.get(address, asked))] == ["harbor", "Eastlight"]
        found = uptake_sums.uptake(staff, TODAY, "Kettle Harbor")
        assert not any(any(row.entered) for row in found.rows.values())

    def test_the_table_downloads_what_the_chart_shows(self, fleet, staff, as_staff):
        header, *rows = table(as_staff.get(reverse("register:uptake_csv", args=["uptake-stock"])))
        assert header[1] == "1 talked to"
        assert header == ["month", *(f"{n} {w}" for n, w in enumerate(stage_words().values(), 1))]
        assert (
            sum(map(int, rows[-1][1:])) == AdoptionEvent.objects.values("vessel").distinct().count()
        )

    def test_a_picture_is_one(self, fleet, as_staff):
        response = as_staff.get(reverse("register:uptake_png", args=["uptake-stock"]))
        assert response["Content-Type"] == "image/png"
        assert response.content.startswith(b"\x89PNG")

    def test_a_picture_says_what_of_whom_of_when_and_that_it_is_invented(
        self, fleet, staff, as_staff, monkeypatch
    ):
        drawn = []
        monkeypatch.setattr(figures.png, "render", lambda scene: drawn.append(scene) or b"")
        asked = {"harbor": "Eastlight", "size": "small"}
        keys = ("uptake-stock", "uptake-flow", "uptake-by-size")
        day = long_day(timezone.localdate())
        for is_demo in (False, True):
            drawn.clear()
            Vessel.objects.update(is_demo=is_demo)
            for key in keys:
                as_staff.get(reverse("register:uptake_png", args=[key]), asked)
            as_staff.get(reverse("register:waiting_png", args=["conversion-1"]))
            for scene in drawn:
                words = " ".join(text.text for text in scene.texts)
                assert scene.title.split(",")[0] in words
                assert f"As of {day}." in words
                assert ("Demo data" in words) == is_demo
            told = [scene.description for scene in drawn]
            assert all("Eastlight, up to 45 ft" in each for each in told[:3])
            assert "The whole fleet" in told[3]
        page = as_staff.get(reverse("register:uptake")).content.decode()
        assert page.count(f"As of {day}.") == 4

    def test_no_such_chart(self, fleet, as_staff):
        assert as_staff.get(reverse("register:uptake_csv", args=["pie"])).status_code == 404

    def test_made_up_vessels_are_marked(self, as_staff):
        make_vessel(is_demo=True)
        assert "demo data" in as_staff.get(reverse("register:uptake")).content.decode()

    @pytest.mark.parametrize("name", ["uptake", "waiting"])
    def test_queries_do_not_grow_with_the_fleet(
        self, name, as_staff, django_assert_max_num_queries
    ):
        most = 12
        for seed, vessels in ((1, 3), (2, 40)):
            rng = random.Random(seed)
            for number in range(vessels):
                vessel = make_vessel(f"{seed} {number}", HARBOURS[number % 3], rng.randint(30, 90))
                happen(vessel, Stage.TOLD, FIRST + timedelta(days=number))
                happen(vessel, Stage.CONVERTED, FIRST + timedelta(days=9 * number + 40))
            with django_assert_max_num_queries(most) as seen:
                assert as_staff.get(reverse(f"register:{name}")).status_code == 200
            most = len(seen)


class TestWords:
    @pytest.mark.parametrize(
        ("count", "vessels", "words"),
        [
            (0, 0, "There are no vessels on the register that still fish."),
            (0, 1, "The one vessel on the register does not fish without a sweep."),
            (1, 1, "The one vessel on the register fishes without a sweep."),
            (0, 40, "None of the 40 vessels on the register fishes without a sweep yet."),
            (1, 40, "1 of the 40 vessels on the register fishes without a sweep."),
            (12, 40, "12 of the 40 vessels on the register fish without a sweep."),
            (40, 40, "All 40 vessels on the register fish without a sweep."),
            (1200, 4000, "1,200 of the 4,000 vessels on the register fish without a sweep."),
        ],
    )
    def test_the_headline_for_none_one_and_many(self, count, vessels, words):
        assert without_a_sweep(count, vessels) == words

    def test_counts_and_months(self):
        assert [counted(n, "vessel") for n in (0, 1, 2)] == ["no vessel", "1 vessel", "2 vessels"]
        assert [months(days) for days in (0, 1, 20, 31, 100)] == [
            "less than a day",
            "1 day",
            "20 days",
            "1 month",
            "3 months",
        ]
