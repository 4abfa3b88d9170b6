"""What goes into the fleet's sums of paired tows, and what anybody can work out of them."""

import csv
import io
from datetime import date

import numpy as np
import pytest
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from rigs.statistics.interval import Interval
from rigs.statistics.paired import ENOUGH_PAIRS, Pair, compare
from tests.evidence.tows_factory import make_fisherman, make_fleet, make_pair
from training.deck.suppression import SMALLEST
from training.evidence import figures, pooled, words
from training.evidence.models import PairedCatch
from training.evidence.pooled import Catch, evidence, usable
from training.people.models import Reach
from training.people.sharing import Level, What, choose

DAY = date(2026, 7, 1)
EVIDENCE = reverse("evidence:evidence")

# An owner (some share one boat), whether staff see his pairs, how many he made, his catches.
owners = st.lists(
    st.tuples(
        st.integers(0, 9), st.booleans(), st.integers(1, 4), st.sampled_from([(0.0, 0.0), (1, 5)])
    ),
    min_size=0,
    max_size=16,
)


def catches_of(fleet, group="flatfish"):
    return [
        Catch(group, *caught, 100 * owner + i, ("vessel", boat), owner, DAY, listed, False)
        for owner, (boat, listed, pairs, caught) in enumerate(fleet)
        for i in range(pairs)
    ]


@given(owners)
def test_nobody_can_work_out_a_few(fleet):
    # Pairs in which nothing was caught hide nobody: only others count.
    going_in = usable(catches_of(fleet))
    assert all(each.with_sweep for each in going_in)
    if not going_in:
        return
    for who in ("owner", "boat"):
        # Anyone in the sum who takes his own out is left with this many others.
        assert len({getattr(each, who) for each in going_in}) - 1 >= SMALLEST
    # Staff who take out all that they see are left with none, or with this many.
    unseen = [each for each in going_in if not each.is_listed]
    if unseen:
        assert len({each.owner for each in unseen}) >= SMALLEST
        assert len({each.boat for each in unseen}) >= SMALLEST


@given(owners)
def test_what_could_go_in_does(fleet):
    catches = catches_of(fleet)
    telling = [each for each in catches if each.with_sweep]
    going_in = usable(catches)
    if len({each.boat for each in telling}) > SMALLEST and all(each.is_listed for each in telling):
        assert going_in == telling
    shown = evidence(catches)
    assert shown.enough == (len(going_in) >= ENOUGH_PAIRS)
    if shown.enough:
        # What is said to be in it is what is in it.
        assert shown.groups["flatfish"].pairs == shown.pairs == len(going_in)
        assert shown.groups["flatfish"].vessels == shown.vessels
        assert shown.groups["flatfish"].enough


@pytest.mark.django_db
class TestSharing:
    @pytest.mark.parametrize(
        ("level", "in_sums", "is_listed"),
        [(None, False, False), (Level.OWN, False, False), (Level.SUMS, True, False)]
        + [(Level.STAFF, True, True)],
    )
    def test_each_level_goes_as_far_as_was_chosen(self, as_staff, level, in_sums, is_listed):
        make_fleet(level)
        page = as_staff.get(EVIDENCE)
        assert page.context["evidence"].enough == in_sums
        assert bool(page.context["pairs"]) == is_listed
        assert ("Hand 3" in page.content.decode()) == is_listed
        rows = as_staff.get(reverse("evidence:pairs_csv")).getvalue().decode("utf-8-sig")
        assert ("Hand 3" in rows) == is_listed
        assert as_staff.get(reverse("evidence:evidence_csv")).status_code == (
            200 if in_sums else 404
        )

    def test_taking_back_takes_the_pairs_out_at_once(self):
        people = make_fleet(Level.SUMS)
        assert evidence().pairs == 16
        choose(people[0], What.CATCHES, Level.OWN)
        assert evidence().pairs == 14
        choose(people[1], What.CATCHES, Level.STAFF)
        assert evidence().pairs == 14

    def test_deleted_pairs_are_in_no_sum(self):
        people = make_fleet(Level.STAFF)
        people[0].paired_tows.update(deleted="2026-08-01T00:00Z")
        assert evidence().pairs == 14

    def test_a_few_among_shown_pairs_are_left_out(self):
        make_fleet(Level.STAFF)
        make_fleet(Level.SUMS, owners=2, first=20)
        # Those two owners' catches would be the sum less what staff see.
        assert evidence().vessels == 8
        make_fleet(Level.SUMS, owners=SMALLEST - 2, first=30)
        assert evidence().vessels == 8 + SMALLEST

    def test_too_few_owners_show_nothing(self, as_staff, as_user):
        make_fleet(Level.SUMS, owners=SMALLEST, pairs=4)
        found = evidence()
        assert not found.enough
        assert set(found.few) == {"hake", "flatfish"}
        assert "not enough shared pairs" in as_staff.get(EVIDENCE).content.decode()
        assert "not enough shared pairs" in as_user.get(reverse("evidence:pairs")).content.decode()

    def test_counted_pairs_that_can_be_opened_are_told(self, as_staff, staff):
        make_fleet(Level.STAFF, owners=8)
        make_fleet(Level.SUMS, owners=6, first=20)
        # Shown to staff, but nothing of a group that has sums: not among those counted.
        make_pair(make_fisherman(50, Level.STAFF), date(2026, 7, 9), lobster=(1.0, 2.0))
        page = as_staff.get(EVIDENCE)
        told = [(each.key, each.pairs, each.opened) for each in page.context["counted"]]
        assert told[0] == ("all", 28, 16)
        assert set(told[1:]) == {("flatfish", 28, 16), ("hake", 28, 16)}
        assert page.context["page"].paginator.count == 17
        opened = as_staff.get(EVIDENCE, {"counted": "all"})
        assert opened.context["page"].paginator.count == 16
        assert as_staff.get(EVIDENCE, {"counted": "x"}).status_code == 404
        # Held to a harbor where none of them lives: nothing to open, the sums as before.
        Reach.objects.create(user=staff, harbor="Elsewhere")
        page = as_staff.get(EVIDENCE)
        assert [(each.pairs, each.opened) for each in page.context["counted"]] == [(28, 0)] * 3
        assert "counted=all" not in page.content.decode()
        assert "are of other harbors, or their owners" in page.content.decode()

    def test_sums_are_the_same_whoever_looks(self, as_staff, staff, as_user):
        make_fleet(Level.STAFF)
        everybody = as_staff.get(EVIDENCE).context["evidence"]
        Reach.objects.create(user=staff, harbor="Eastlight")
        page = as_staff.get(EVIDENCE)
        assert page.context["evidence"] == everybody
        # The single pairs, though, are those of the harbor alone: here none.
        assert page.context["pairs"] == []
        assert as_user.get(reverse("evidence:pairs")).context["evidence"] == everybody


def table_of(as_staff):
    """Return the table that staff download, by group."""
    text = as_staff.get(reverse("evidence:evidence_csv")).getvalue().decode("utf-8-sig")
    return {row["group of species"]: row for row in csv.DictReader(io.StringIO(text))}


@pytest.mark.django_db
class TestNumbers:
    def test_the_table_is_the_ratio_of_all_catches_in_the_database(self, as_staff):
        make_fleet(Level.SUMS)
        table = table_of(as_staff)
        assert list(table) == ["Whiting and other hakes", "Flatfish"]
        told, rows = table["Flatfish"], PairedCatch.objects.filter(group="flatfish")
        without, with_sweep = np.array(rows.values_list("without_sweep", "with_sweep")).T
        ratio = without.sum() / with_sweep.sum()
        # By another way: the vessels here are all of one size, so the ratio is a mean of shares.
        boats = np.array(rows.values_list("pair__vessel", flat=True))
        sums = np.array([without[boats == boat].sum() for boat in np.unique(boats)])
        sizes = np.array([with_sweep[boats == boat].sum() for boat in np.unique(boats)])
        assert np.ptp(sizes) == 0
        error = stats.sem(sums) / sums.mean()
        reach = stats.t.ppf(0.975, 7) * error
        assert told["pairs that caught some"] == "16"
        assert told["vessels"] == "8"
        for name, value in (
            ("all catches without the sweep, % of those with it", ratio),
            ("low end, %", ratio * np.exp(-reach)),
            ("high end, %", ratio * np.exp(reach)),
        ):
            assert float(told[name]) == pytest.approx(100 * value, rel=5e-3)
        p = 2 * stats.t.sf(-np.log(ratio) / error, 7)
        assert float(told["P"]) == pytest.approx(p, rel=5e-3)

    def test_ten_pairs_with_eight_zeros_are_told_as_sixteen_percent(self, as_staff, as_user):
        for number in range(10):
            make_pair(make_fisherman(number, Level.SUMS), flatfish=(8.0 * (number < 2), 10.0))
        told = (
            "Flatfish: without the sweep the nets took 16 percent of the weight they took with it "
            "(likely between 4 and 72 percent)."
        )
        for page in (
            as_staff.get(EVIDENCE),
            as_user.get(reverse("evidence:pairs")),
            as_user.get(reverse("lessons:detail", args=["what-a-sweep-costs"])),
        ):
            said = page.content.decode()
            assert told in said
            assert "2 in 100 times: a clear difference." in said
        row = table_of(as_staff)["Flatfish"]
        assert row["all catches without the sweep, % of those with it"] == "16.0"
        assert row["of these, none without the sweep"] == "8"
        assert row["of these, none with the sweep"] == "0"

    def test_groups_in_which_nothing_was_caught_are_told_in_words(self, as_staff):
        for number in range(8):
            person = make_fisherman(number, Level.SUMS)
            for _ in range(2):
                make_pair(
                    person,
                    lobster=(0.0, 3.0),
                    squid=(2.0, 0.0),
                    skate=(0.0, 0.0),
                    cod=(float(number == 1), 0.0),
                )
        page = as_staff.get(EVIDENCE).content.decode()
        assert "all 8 vessels took some with the sweep and none without it, in 16 pairs" in page
        assert "all 8 vessels took some without the sweep and none with it, in 16 pairs" in page
        # Eight vessels of one sign: 2 in 256.
        told = "Chance alone gives a gap this big 8 in 1,000 times: a clear difference"
        assert page.count(f"</strong> {told}, even with 2 groups tested.") == 2
        # Nothing caught tells nothing, and one vessel's catch is nobody's business.
        assert "yet to show: skates and rays, cod, haddock and the like." in page
        row = table_of(as_staff)["Lobsters"]
        assert (row["low end, %"], row["no range because"]) == ("", "none without the sweep")
        assert as_staff.get(reverse("evidence:evidence_png")).content.startswith(b"\x89PNG")

    def test_groups_looked_at_together_are_told_as_such(self, as_staff):
        rng = np.random.default_rng(3)
        groups = ("hake", "flatfish", "lobster", "skate", "squid")
        for number in range(10):
            # One group a little lower, and four of no difference.
            caught = {group: (float(rng.gamma(20)), float(rng.gamma(20))) for group in groups}
            caught["lobster"] = (caught["lobster"][0] * 0.8, caught["lobster"][1])
            make_pair(make_fisherman(number, Level.SUMS), **caught)
        found = evidence()
        assert found.groups["lobster"].p < 0.05 < found.adjusted["lobster"]
        page = as_staff.get(EVIDENCE).content.decode()
        assert "5 groups are looked at together" in page
        assert "No clear difference, as 5 groups were tested" in page
        assert "a clear difference, even" not in page

    def test_the_same_pairs_are_reckoned_once(self):
        make_fleet(Level.SUMS)
        pooled._compared.cache_clear()
        assert evidence() == evidence()
        assert pooled._compared.cache_info().misses == 2

    def test_queries_do_not_grow_with_the_pairs(self, as_staff, django_assert_max_num_queries):
        most = 14
        for first in (0, 100):
            make_fleet(Level.STAFF, first=first, owners=10)
            with django_assert_max_num_queries(most) as seen:
                as_staff.get(EVIDENCE)
            most = len(seen)


class TestWords:
    @pytest.mark.parametrize(
        ("p", "said"),
        [
            (None, "nothing can be tested"),
            (0.0002, "less than 1 in 1,000 times: a clear difference."),
            (0.004, "4 in 1,000 times: a clear difference."),
            (0.03, "3 in 100 times: a clear difference."),
            (0.4, "No clear difference: chance alone gives a gap this big 40 in 100 times"),
        ],
    )
    def test_chance(self, p, said):
        assert said in words.chance(p)

    def test_chance_with_other_groups_counted_in(self):
        clear = words.chance(0.002, 0.008, 4)
        assert "2 in 1,000 times: a clear difference, even with 4 groups tested." in clear
        unclear = words.chance(0.02, 0.08, 4)
        assert "No clear difference, as 4 groups were tested" in unclear
        assert "2 in 100 times, and it has 4 tries." in unclear

    @pytest.mark.parametrize(
        ("ends", "said"),
        [
            ((0.0354, 0.723), "likely between 4 and 72 percent"),
            ((0.001, 0.5), "likely at most 50 percent"),
            ((0.5, 400), "likely at least 50 percent"),
            ((0, float("inf")), "the range is too wide to say anything"),
        ],
    )
    def test_a_range_has_only_ends_that_tell_something(self, ends, said):
        assert words.likely(Interval(*ends)) == said

    @pytest.mark.parametrize(
        ("ratio", "said"),
        [(0, "0"), (0.001, "less than 1"), (0.005, "1"), (0.165, "17"), (1, "100"), (12, "1,200")],
    )
    def test_percent(self, ratio, said):
        assert words.percent_words(ratio) == said

    def test_ends_that_tell_nothing_are_not_in_the_table_either(self):
        catches = [
            Catch(
                "skate",
                5.0 * (owner == 1),
                900.0 if owner == 0 else 0.1,
                owner,
                ("vessel", owner),
                owner,
                DAY,
                False,
                False,
            )
            for owner in range(10)
        ]
        found = evidence(catches)
        assert "the range is too wide to say anything" in figures.told(found)[0][1]
        (row,) = figures.ratios(found).rows
        assert row[5:9] == (0.555, None, None, "the range is too wide to say anything")

    def test_vessels_that_tell_no_range_are_told_so(self):
        one = compare([Pair(1, 2, 0)] + [Pair(1, 0, i) for i in range(1, 12)])
        assert "600 percent" in words.sentence("skate", one)
        assert "Only one vessel caught any with the sweep, so there is no" in words.sentence(
            "skate", one
        )
        alike = words.sentence("skate", compare([Pair(1, 2, i) for i in range(12)]))
        assert "50 percent of the weight" in alike
        assert "likely" not in alike

    @pytest.mark.django_db
    def test_what_it_rests_on(self):
        assert (
            words.basis(evidence()) == "No paired tows that could be shown are shared for sums yet."
        )
        make_fleet(Level.SUMS)
        said = words.basis(evidence())
        assert said == "16 pairs of tows by 8 vessels, July 1, 2026 to July 2, 2026."
