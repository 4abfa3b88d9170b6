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

from rigs.statistics.paired import ENOUGH_PAIRS
from tests.evidence.tows_factory import make_fisherman, make_fleet, make_pair
from training.deck.suppression import SMALLEST
from training.evidence import pooled, words
from training.evidence.models import PairedCatch
from training.evidence.pooled import Catch, evidence, usable
from training.people.models import Reach
from training.people.sharing import Level, What, choose

DAY = date(2026, 7, 1)
EVIDENCE = reverse("evidence:evidence")

# An owner (some share one boat), whether staff see his pairs, how many he made.
owners = st.lists(
    st.tuples(st.integers(0, 9), st.booleans(), st.integers(1, 4)), min_size=0, max_size=16
)


def catches_of(fleet, group="flatfish"):
    return [
        Catch(group, 1.0 + owner, 5.0, 100 * owner + i, ("vessel", boat), owner, DAY, listed, False)
        for owner, (boat, listed, pairs) in enumerate(fleet)
        for i in range(pairs)
    ]


@given(owners)
def test_nobody_can_work_out_a_few(fleet):
    catches = catches_of(fleet)
    going_in = usable(catches)
    if not going_in:
        return
    assert len(going_in) >= ENOUGH_PAIRS
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
    going_in = usable(catches)
    if len({each.boat for each in catches}) > SMALLEST and all(each.is_listed for each in catches):
        assert (len(catches) >= ENOUGH_PAIRS) == (going_in == catches)
    assert set(going_in) <= set(catches)


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
        rows = as_staff.get(reverse("evidence:pairs_csv")).content.decode("utf-8-sig")
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

    def test_sums_are_the_same_whoever_looks(self, as_staff, staff, as_user):
        make_fleet(Level.STAFF)
        everybody = as_staff.get(EVIDENCE).context["evidence"]
        Reach.objects.create(user=staff, harbor="Eastlight")
        page = as_staff.get(EVIDENCE)
        assert page.context["evidence"] == everybody
        # The single pairs, though, are those of the harbor alone: here none.
        assert page.context["pairs"] == []
        assert as_user.get(reverse("evidence:pairs")).context["evidence"] == everybody


@pytest.mark.django_db
class TestNumbers:
    def test_the_table_is_the_paired_test_of_the_database(self, as_staff):
        make_fleet(Level.SUMS)
        text = as_staff.get(reverse("evidence:evidence_csv")).content.decode("utf-8-sig")
        table = {row["group of species"]: row for row in csv.DictReader(io.StringIO(text))}
        assert list(table) == ["Whiting and other hakes", "Flatfish"]
        rows = PairedCatch.objects.filter(group="flatfish").values_list(
            "without_sweep", "with_sweep"
        )
        without, with_sweep = np.array(rows).T
        logs = np.log(without / with_sweep)
        test = stats.ttest_1samp(logs, 0)
        told = table["Flatfish"]
        assert int(told["pairs"]) == len(logs) == 16
        assert int(told["vessels"]) == 8
        assert float(told["middle of the shares"]) == pytest.approx(np.exp(logs.mean()), rel=5e-3)
        low, high = np.exp(list(test.confidence_interval()))
        assert float(told["low end"]) == pytest.approx(low, rel=5e-3)
        assert float(told["high end"]) == pytest.approx(high, rel=5e-3)
        assert float(told["P, paired t test"]) == pytest.approx(test.pvalue, rel=5e-3)
        ratio = without.sum() / with_sweep.sum()
        assert float(told["all catches together"]) == pytest.approx(ratio, rel=5e-3)

    def test_groups_in_which_nothing_was_caught_can_be_drawn(self, as_staff):
        for number in range(8):
            person = make_fisherman(number, Level.SUMS)
            for _ in range(2):
                make_pair(person, lobster=(0.0, 3.0), squid=(2.0, 0.0), skate=(0.0, 0.0))
        page = as_staff.get(EVIDENCE).content.decode()
        assert "took 0.0 percent of the lobsters" in page
        assert "No tow with the sweep caught any squid" in page
        assert as_staff.get(reverse("evidence:evidence_png")).content.startswith(b"\x89PNG")

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
            (None, "nothing to test"),
            (0.0002, "less than once in 1,000 times"),
            (0.0012, "about once in 1,000 times"),
            (0.004, "about 4 times in 1,000"),
            (0.012, "about once in 100 times"),
            (0.03, "about 3 times in 100"),
            (0.4, "No clear difference: chance alone gives a gap this big about 40 times in 100"),
        ],
    )
    def test_chance(self, p, said):
        assert said in words.chance(p)

    @pytest.mark.django_db
    def test_what_it_rests_on(self):
        assert words.basis(evidence()) == "No paired tows are shared for sums yet."
        make_fleet(Level.SUMS)
        said = words.basis(evidence())
        assert said == "16 pairs of tows by 8 vessels, July 1, 2026 to July 2, 2026."
