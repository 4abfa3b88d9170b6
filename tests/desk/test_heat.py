"""The table of missed rules by group, and where people stop."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone
from hypothesis import given
from hypothesis import strategies as st

from rigs.statistics.interval import clopper_pearson
from training.deck.suppression import SMALLEST
from training.desk.calls.numbers import QUIET_DAYS
from training.desk.heat import SHADES, HeatCell, lines, overall
from training.desk.models import GroupRuleTally, PersonRuleTally, PersonTally
from training.desk.stops import stops
from training.desk.trainees import people
from training.desk.way import CERTIFIED, EARNED, way_of
from training.people.models import Group, Membership, Reach, Role, User

RULE = "dropper_at_corners"
OTHER = "dropper_spacing"


@pytest.fixture
def groups(db):
    return [Group.objects.create(name=f"Crews {n}", harbor=f"Harbor {n}") for n in range(3)]


def count(group, rule, asked, missed, asked_people, missed_people):
    GroupRuleTally.objects.create(
        group=group,
        rule=rule,
        asked=asked,
        missed=missed,
        people=asked_people,
        people_missed=missed_people,
    )


class TestCell:
    def test_of_one_try_each_the_interval_is_that_of_the_share(self):
        assert HeatCell(20, 5, 20, 5).interval == clopper_pearson(5, 20)

    def test_more_tries_of_the_same_people_do_not_make_it_surer(self):
        assert HeatCell(200, 50, 20, 9).interval == clopper_pearson(5, 20)

    @given(st.data())
    def test_the_interval_holds_the_share(self, data):
        number = data.draw(st.integers(1, 60))
        asked = data.draw(st.integers(number, 600))
        cell = HeatCell(asked, data.draw(st.integers(0, asked)), number, 0)
        low, high = cell.interval
        assert low <= cell.share <= high
        plain = clopper_pearson(cell.missed, cell.asked)
        assert high - low >= plain.high - plain.low - 1e-9

    @pytest.mark.parametrize(("number", "fair"), [(SMALLEST - 1, False), (SMALLEST, True)])
    def test_few_people_say_nothing_of_a_group(self, number, fair):
        assert HeatCell(100, 50, number, 1).is_fair is fair

    def test_shades_begin_where_they_say(self):
        assert [HeatCell(1000, round(1000 * share), 9, 9).shade for share in SHADES] == [*range(5)]
        assert [HeatCell(1000, round(1000 * share) - 1, 9, 9).shade for share in SHADES[1:]] == [
            0,
            1,
            2,
            3,
        ]


class TestTable:
    @pytest.fixture(autouse=True)
    def counted(self, groups):
        count(groups[0], RULE, 40, 10, 10, 6)
        count(groups[1], RULE, 8, 8, 2, 2)
        count(groups[0], OTHER, 40, 30, 10, 10)

    def test_most_missed_first(self, groups):
        found = lines(Group.objects.all(), groups)
        assert [line.requirement.key for line in found] == [OTHER, RULE]
        assert found[1].overall == (48, 18, 12, 8)
        assert found[0].cells[1] == (groups[1], None)

    def test_the_page_leaves_out_what_is_unfair(self, as_staff):
        content = as_staff.get(reverse("desk:rules")).content.decode()
        assert "25%" in content
        assert "100%" not in content
        assert "too few" in content
        assert "not asked" in content

    def test_intervals_on_demand(self, as_staff):
        text = HeatCell(40, 10, 10, 6).interval_text
        assert text not in as_staff.get(reverse("desk:rules")).content.decode()
        shown = as_staff.get(reverse("desk:rules"), {"intervals": "yes"}).content.decode()
        assert text in shown

    def test_reach_leaves_out_other_harbors(self, as_staff, staff, groups):
        Reach.objects.create(user=staff, harbor=groups[1].harbor)
        response = as_staff.get(reverse("desk:rules"))
        assert response.context["groups"] == [groups[1]]
        assert [line.overall for line in response.context["lines"]] == [(8, 8, 2, 2)]


class TestInTwoGroups:
    def test_nobody_is_counted_twice_over_all(self, groups):
        records = [(4, 3), (2, 0), (5, 1)]
        for number, (asked, missed) in enumerate(records):
            person = User.objects.create_user(f"b{number}@example.com", None, name="Hand")
            PersonRuleTally.objects.create(user=person, rule=RULE, asked=asked, missed=missed)
            # The first is in three groups, the second in two, the third in one.
            for group in groups[number:]:
                Membership.objects.create(group=group, user=person)
        (line,) = lines(Group.objects.all(), groups)
        asked, missed = (sum(each) for each in zip(*records, strict=True))
        assert line.overall == (asked, missed, 3, 2)
        assert [cell.people for __, cell in line.cells] == [1, 2, 3]
        # Of two of the groups, those in these two alone.
        of_two = Group.objects.filter(pk__in=[groups[0].pk, groups[1].pk])
        assert overall(of_two)[RULE] == (6, 3, 2, 1)


class TestWhoMissed:
    @pytest.fixture
    def person(self, groups):
        person = User.objects.create_user("hand@example.com", None, name="Beck Ormsby")
        Membership.objects.create(group=groups[0], user=person)
        PersonRuleTally.objects.create(user=person, rule=RULE, asked=4, missed=3)
        return person

    def address(self, group, rule=RULE):
        return reverse("desk:missed_by", args=[rule, group.pk])

    def test_names_them(self, as_staff, groups, person):
        content = as_staff.get(self.address(groups[0])).content.decode()
        assert "Beck Ormsby" in content
        assert "3 of 4 tries" in content

    def test_of_that_group_alone(self, as_staff, groups, person):
        assert "Beck Ormsby" not in as_staff.get(self.address(groups[1])).content.decode()

    def test_not_beyond_ones_reach(self, as_staff, staff, groups, person):
        Reach.objects.create(user=staff, harbor=groups[1].harbor)
        assert as_staff.get(self.address(groups[0])).status_code == 404

    def test_no_such_rule(self, as_staff, groups):
        assert as_staff.get(self.address(groups[0], "no-such-rule")).status_code == 404


class TestStops:
    def person(self, number, step, days, role=Role.TRAINEE, until=None):
        person = User.objects.create_user(f"h{number}@example.com", None, name="H", role=role)
        last = timezone.now() - timedelta(days=days)
        until = until and timezone.now() + timedelta(days=until)
        PersonTally.objects.create(user=person, step=step, last=last, certified_until=until)
        return person

    def test_counts_who_came_so_far_and_who_stopped(self, db):
        second, third = (step.key for step in way_of(Role.TRAINEE)[1:3])
        for number, (step, days) in enumerate([(second, 1), (second, QUIET_DAYS + 1), (third, 1)]):
            self.person(number, step, days)
        self.person(7, EARNED, QUIET_DAYS + 1, until=1)
        self.person(8, EARNED, QUIET_DAYS + 1, until=-1)
        self.person(9, second, 1, role=Role.OFFICER)
        found = {stop.step.key: stop[1:] for stop in stops(people(), Role.TRAINEE)}
        assert found[""] == (5, 0, 0)
        assert found[second] == (5, 2, 1)
        assert found[third] == (3, 1, 0)
        # One whose certificate ran out came so far, and is not certified.
        assert found[EARNED] == (2, 1, 1)
        assert found[CERTIFIED] == (1, 1, 0)

    def test_whoever_signed_up_and_did_nothing_stopped_too(self, user):
        User.objects.filter(pk=user.pk).update(
            joined=timezone.now() - timedelta(days=QUIET_DAYS + 1)
        )
        assert stops(people(), Role.TRAINEE)[0][1:] == (1, 1, 1)

    def test_a_step_of_a_lesson_that_is_gone_counts_as_signed_up(self, db):
        self.person(1, "read:long-gone", 1)
        assert stops(people(), Role.TRAINEE)[0].here == 1

    def test_the_page(self, as_staff, user, group):
        for query in ({}, {"role": Role.OFFICER}, {"group": group.pk}, {"role": "x"}):
            assert as_staff.get(reverse("desk:way"), query).status_code == 200
        assert as_staff.get(reverse("desk:way")).context["people"] == 1
        assert as_staff.get(reverse("desk:way"), {"role": Role.OFFICER}).context["people"] == 0
