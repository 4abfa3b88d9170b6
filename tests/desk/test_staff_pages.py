"""What staff see of those who train, and that nobody else sees it."""

import csv
import io
import random

import pytest
from django.urls import reverse
from django.utils import timezone

from rigs.rules import rulebook
from training.deck.spreadsheet import safe_cell
from training.exercises.handing import hand_in
from training.exercises.models import Assignment, Attempt
from training.lessons.loader import all_lessons
from training.lessons.models import LessonRead
from training.people.models import Group, Membership, Role, User
from training.register.models import Vessel

pytestmark = pytest.mark.django_db


def assign(person, kind="space-droppers", seed=7):
    book = rulebook.load("no-sweep", "1")
    return Assignment.objects.create(
        user=person,
        kind=kind,
        seed=seed,
        difficulty=1,
        rulebook_name=book.name,
        rulebook_version=book.version,
    )


def miss_the_corners(person, seed=7):
    """Hand in an answer with a dropper at the center and nowhere else."""
    return hand_in(assign(person, seed=seed), {"port": "", "center": True, "starboard": ""})


def crowd(group, number):
    """Put ``number`` trainees with a lesson read and an attempt each into ``group``."""
    rng = random.Random(number)
    slug = all_lessons()[0].slug
    for index in range(number):
        person = User.objects.create(email=f"hand{index}@example.com", name=f"Hand {index:02}")
        Membership.objects.create(group=group, user=person)
        LessonRead.objects.note(person, slug)
        miss_the_corners(person, seed=rng.randrange(1000))


def table(response):
    text = b"".join(response).decode("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text)))


class TestWhoMaySee:
    @pytest.fixture(
        params=["trainees", "trainees_csv", "trainee", "attempts_csv", "groups", "group"]
    )
    def address(self, request, user, group):
        pks = {"trainee": [user.pk], "attempts_csv": [user.pk], "group": [group.pk]}
        return reverse(f"desk:{request.param}", args=pks.get(request.param, []))

    def test_staff(self, as_staff, address):
        assert as_staff.get(address).status_code == 200

    def test_not_trainees(self, as_user, address):
        assert as_user.get(address).status_code == 403

    def test_not_officers(self, as_officer, address):
        assert as_officer.get(address).status_code == 403

    def test_others_are_sent_to_sign_in(self, client, address):
        response = client.get(address)
        assert response.status_code == 302
        assert response.url.startswith(reverse("people:sign_in"))

    def test_nothing_is_posted_here(self, as_staff, address):
        assert as_staff.post(address).status_code == 405


class TestList:
    def test_says_how_far_each_has_come(self, as_staff, user):
        miss_the_corners(user)
        content = as_staff.get(reverse("desk:trainees")).content.decode()
        total = sum(lesson.is_for(user.role) for lesson in all_lessons())
        assert user.name in content
        assert f"0 of {total}" in content
        assert "0 of 1" in content
        assert "none yet" not in content
        assert "Marrow Point crews" in content

    def test_says_when_nothing_was_handed_in(self, as_staff, user):
        content = as_staff.get(reverse("desk:trainees")).content.decode()
        assert "none yet" in content
        assert "never" in content

    def test_holds_officers_but_not_staff(self, as_staff, staff, officer, user):
        rows = as_staff.get(reverse("desk:trainees")).context["rows"]
        assert {row.person for row in rows} == {officer, user}

    def test_can_be_narrowed_to_a_group(self, as_staff, user, officer, group):
        response = as_staff.get(reverse("desk:trainees"), {"group": group.pk})
        assert [row.person for row in response.context["rows"]] == [user]

    @pytest.mark.parametrize("text", ["tolliver", "WREN", "toll wren", "wren@example"])
    def test_can_be_searched(self, as_staff, user, officer, text):
        response = as_staff.get(reverse("desk:trainees"), {"name": text})
        assert [row.person for row in response.context["rows"]] == [user]

    def test_says_when_nobody_fits(self, as_staff, user):
        response = as_staff.get(reverse("desk:trainees"), {"name": "cormorant"})
        assert "No match" in response.content.decode()
        assert 'value="cormorant"' in response.content.decode()

    def test_a_group_that_is_not_there_is_said_beside_the_field(self, as_staff, user):
        response = as_staff.get(reverse("desk:trainees"), {"group": "999", "name": "wren"})
        assert "no such group" in response.content.decode()
        assert [row.person for row in response.context["rows"]] == [user]

    def test_a_person_in_two_groups_stands_once(self, as_staff, user):
        other = Group.objects.create(name="Eastlight crews", harbor="Eastlight")
        Membership.objects.create(group=other, user=user)
        miss_the_corners(user)
        (row,) = as_staff.get(reverse("desk:trainees")).context["rows"]
        assert len(row.groups) == 2
        assert row.tally.attempts == 1

    def test_is_split_into_pages_that_keep_the_search(self, as_staff, group):
        for index in range(51):
            User.objects.create(email=f"h{index}@example.com", name=f"Hand {index:02}")
        response = as_staff.get(reverse("desk:trainees"), {"name": "hand"})
        assert len(response.context["rows"]) == 50
        assert "?name=hand&amp;page=2" in response.content.decode()
        response = as_staff.get(reverse("desk:trainees"), {"name": "hand", "page": "2"})
        assert [row.person.name for row in response.context["rows"]] == ["Hand 50"]

    @pytest.mark.parametrize("number", [3, 60])
    def test_asks_the_database_little(self, as_staff, group, number, django_assert_max_num_queries):
        crowd(group, number)
        with django_assert_max_num_queries(10):
            as_staff.get(reverse("desk:trainees"))

    def test_marks_demo_data(self, as_staff, user, group, settings):
        settings.SITE_DEMO = False  # a demo site says so on every page anyway
        address = reverse("desk:trainees")
        assert "demo data" not in as_staff.get(address).content.decode()
        Group.objects.update(is_demo=True)
        assert "demo data" in as_staff.get(address).content.decode()

    def test_a_demo_site_says_so_once(self, as_staff, user, group, settings):
        settings.SITE_DEMO = True
        Group.objects.update(is_demo=True)
        for name in ("desk:trainees", "register:vessels", "desk:calls"):
            assert as_staff.get(reverse(name)).content.decode().count("demo data") == 1


class TestRecord:
    def test_tells_what_was_read_and_handed_in(self, as_staff, user):
        slug = all_lessons()[0].slug
        LessonRead.objects.note(user, slug)
        attempt = miss_the_corners(user)
        response = as_staff.get(reverse("desk:trainee_record", args=[user.pk]))
        content = response.content.decode()
        lessons = {each.state.lesson.slug: each for each in response.context["lessons"]}
        assert lessons[slug].read_at is not None
        assert f"{attempt.marks} of {attempt.out_of} points" in content
        assert "Not passed" in content
        assert "version 1" in content
        assert reverse("exercises:marked", args=[attempt.pk]) in content

    def test_names_the_rules_missed_most(self, as_staff, user):
        miss_the_corners(user, seed=1)
        miss_the_corners(user, seed=2)
        missed = as_staff.get(reverse("desk:trainee_record", args=[user.pk])).context["missed"]
        told = {rule.requirement.key: (rule.missed, rule.asked) for rule in missed}
        # Both corners were bare in both attempts: that is two, not four.
        assert told["dropper_at_corners"] == (2, 2)
        assert "dropper_at_centre" not in told

    def test_shows_the_answer_without_running_it(self, as_staff, user):
        attempt = miss_the_corners(user)
        attempt.answer["port"] = "<script>6 ft"
        attempt.save()
        content = as_staff.get(reverse("desk:trainee_record", args=[user.pk])).content.decode()
        assert "&lt;script&gt;6 ft" in content
        assert "<script>6 ft" not in content

    def test_an_attempt_at_a_kind_that_is_gone_is_still_shown(self, as_staff, user):
        attempt = miss_the_corners(user)
        Assignment.objects.filter(pk=attempt.assignment_id).update(kind="splice-the-wire")
        content = as_staff.get(reverse("desk:trainee_record", args=[user.pk])).content.decode()
        assert "splice-the-wire" in content

    @pytest.mark.parametrize("name", ["desk:trainee", "desk:trainee_record"])
    def test_staff_have_no_record(self, as_staff, staff, name):
        assert as_staff.get(reverse(name, args=[staff.pk])).status_code == 404

    @pytest.mark.parametrize("number", [1, 30])
    def test_asks_the_database_little(self, as_staff, user, number, django_assert_max_num_queries):
        for seed in range(number):
            miss_the_corners(user, seed)
        with django_assert_max_num_queries(15):
            as_staff.get(reverse("desk:trainee_record", args=[user.pk]))


class TestTables:
    def test_the_list_holds_everyone_found(self, as_staff, user, officer, group):
        miss_the_corners(user)
        (row,) = table(as_staff.get(reverse("desk:trainees_csv"), {"group": group.pk}))
        assert row["name"] == user.name
        assert row["groups"] == group.name
        assert (row["attempts"], row["attempts passed"]) == ("1", "0")
        assert row["last active"].startswith(f"{timezone.localdate():%Y-%m-%d}")
        assert row["demo data"] == "no"

    def test_the_list_is_not_cut_at_a_page(self, as_staff, group):
        for index in range(51):
            User.objects.create(email=f"h{index}@example.com", name=f"Hand {index:02}")
        assert len(table(as_staff.get(reverse("desk:trainees_csv")))) == 51

    def test_attempts_can_be_marked_again_from_their_row(self, as_staff, user):
        attempt = miss_the_corners(user, seed=12)
        (row,) = table(as_staff.get(reverse("desk:attempts_csv", args=[user.pk])))
        assert (row["rule set"], row["version"], row["seed"]) == ("no-sweep", "1", "12")
        assert (row["points"], row["out of"]) == (str(attempt.marks), str(attempt.out_of))
        assert row["passed"] == "no"
        assert rulebook.load("no-sweep", "1").requirement("dropper_at_corners").title in (
            row["rules missed"].split("; ")
        )

    def test_a_name_is_never_run_as_a_formula(self, as_staff, user):
        User.objects.filter(pk=user.pk).update(name='=HYPERLINK("http://example.com")')
        (row,) = table(as_staff.get(reverse("desk:trainees_csv")))
        assert row["name"] == '\'=HYPERLINK("http://example.com")'

    @pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "\n", "＝", " ="])
    def test_cells_that_look_like_formulas_are_text(self, start):
        assert safe_cell(f"{start}1+1") == f"'{start}1+1"

    def test_other_cells_stay_as_they_are(self):
        cells = [safe_cell(value) for value in ("Wren", -3, 1.5, None, True, False)]
        assert cells == ["Wren", -3, 1.5, "", "yes", "no"]

    @pytest.mark.parametrize("number", [3, 60])
    def test_asks_the_database_little(self, as_staff, group, number, django_assert_max_num_queries):
        crowd(group, number)
        with django_assert_max_num_queries(10):
            as_staff.get(reverse("desk:trainees_csv"))


class TestGroups:
    def test_a_group_shows_its_code_and_a_link_that_fills_it_in(self, as_staff, client, group):
        response = as_staff.get(reverse("desk:group", args=[group.pk]))
        assert group.code in response.content.decode()
        link = response.context["link"]
        assert link.startswith("http://testserver/")
        assert f'value="{group.code}"' in client.get(link).content.decode()

    def test_a_closed_group_shows_no_code(self, as_staff, group):
        Group.objects.update(is_open=False)
        for name, args in (("desk:group", [group.pk]), ("desk:groups", [])):
            content = as_staff.get(reverse(name, args=args)).content.decode()
            assert group.code not in content
            assert "to new members" in content

    def test_a_group_tells_how_it_is_doing(self, as_staff, user, group, officer):
        miss_the_corners(user)
        miss_the_corners(officer)
        context = as_staff.get(reverse("desk:group", args=[group.pk])).context
        assert context["size"] == (1, 0)
        told = {rule.requirement.key: rule.asked for rule in context["missed"]}
        assert told["dropper_at_corners"] == 1

    def test_a_group_shows_its_harbors_vessels(self, as_staff, group):
        Vessel.objects.create(name="Dovekie", harbor=group.harbor, length=15.24)
        Vessel.objects.create(name="Phalarope", harbor="Eastlight", length=15.24)
        content = as_staff.get(reverse("desk:group", args=[group.pk])).content.decode()
        assert "Dovekie, 50 ft" in content
        assert "Phalarope" not in content

    def test_the_list_counts_members(self, as_staff, user, group):
        (found,) = as_staff.get(reverse("desk:groups")).context["groups"]
        assert found.members == 1

    @pytest.mark.parametrize("number", [3, 60])
    def test_asks_the_database_little(self, as_staff, group, number, django_assert_max_num_queries):
        crowd(group, number)
        with django_assert_max_num_queries(10):
            as_staff.get(reverse("desk:group", args=[group.pk]))


def test_nothing_is_counted_of_an_open_assignment(as_staff, user):
    assign(user)
    (row,) = as_staff.get(reverse("desk:trainees")).context["rows"]
    assert row.tally.attempts == 0
    assert row.person.role == Role.TRAINEE
    assert not Attempt.objects.exists()
