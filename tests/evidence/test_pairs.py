"""One's own paired tows: entered once, kept as typed and in kg, nobody else's to touch."""

import uuid

import pytest
from django.contrib.messages import get_messages
from django.urls import reverse

from rigs.words.units import POUND
from tests.evidence.tows_factory import entries, make_fisherman, make_pair
from training.evidence.models import PairedTows
from training.evidence.species import SPECIES
from training.people.models import Reach, Role, User

pytestmark = pytest.mark.django_db

NEW = reverse("evidence:pair_new")
MINE = reverse("evidence:pairs")


def errors_of(response):
    assert response.status_code == 200
    return response.context["form"].errors


class TestEntering:
    def test_weights_are_kept_in_kilograms_and_as_typed(self, as_user, user):
        assert as_user.post(NEW, entries(note="Mud, 40 fm")).url == MINE
        pair = PairedTows.objects.get()
        assert (pair.owner, pair.vessel, pair.note) == (user, None, "Mud, 40 fm")
        hake, flatfish = pair.catches.order_by("group")[1], pair.catches.get(group="flatfish")
        assert hake.with_sweep == pytest.approx(900 * POUND)
        assert hake.without_sweep == 400
        assert hake.typed == {"without": "400 kg", "with": "900 lb"}
        assert (flatfish.with_sweep, flatfish.without_sweep) == (pytest.approx(80 * POUND), 0)
        assert pair.catches.count() == 2

    def test_the_same_form_sent_twice_makes_one_pair(self, as_user):
        told = entries()
        assert as_user.post(NEW, told).status_code == as_user.post(NEW, told).status_code == 302
        assert PairedTows.objects.get().catches.count() == 2

    def test_a_key_that_another_used_is_refused(self, as_user):
        other = make_pair(make_fisherman(1))
        assert "key" in errors_of(as_user.post(NEW, entries(key=str(other.key))))
        assert PairedTows.objects.get() == other

    @pytest.mark.parametrize(
        ("changes", "field", "words"),
        [
            ({"hake_with": "9 stone"}, "hake_with", "not a unit known here"),
            ({"hake_with": "-4"}, "hake_with", "below zero"),
            ({"hake_with": "900000 kg"}, "hake_with", "more than one tow can hold"),
            ({"hake_without": ""}, "hake_without", "Write 0 if it caught none"),
            ({"flatfish_with": ""}, "flatfish_with", "Write 0 if it caught none"),
            ({"day": "2999-01-01"}, "day", "in the future"),
            ({"day": ""}, "day", "required"),
        ],
    )
    def test_errors_stand_beside_the_field_and_the_typed_is_kept(
        self, as_user, changes, field, words
    ):
        response = as_user.post(NEW, entries(**changes))
        assert words in str(errors_of(response)[field])
        assert response.context["form"]["flatfish_without"].value() == "0"
        assert not PairedTows.objects.exists()

    def test_something_must_have_been_weighed(self, as_user):
        empty = dict.fromkeys(
            ("hake_with", "hake_without", "flatfish_with", "flatfish_without"), ""
        )
        assert "at least one group" in str(errors_of(as_user.post(NEW, entries(**empty))))

    def test_only_ones_own_vessels_can_be_chosen(self, client):
        mine, other = make_fisherman(1), make_fisherman(2)
        client.force_login(mine)
        vessel = other.berths.get().vessel
        assert "vessel" in errors_of(client.post(NEW, entries(vessel=vessel.pk)))
        own = mine.berths.get().vessel
        assert client.get(NEW).context["form"]["vessel"].initial == own
        client.post(NEW, entries(vessel=own.pk))
        assert PairedTows.objects.get().vessel == own

    def test_every_group_is_on_the_form(self, as_user):
        page = as_user.get(NEW).content.decode()
        for species in SPECIES:
            assert species.name in page


class TestKeeping:
    @pytest.fixture
    def pair(self, as_user):
        as_user.post(NEW, entries())
        return PairedTows.objects.get()

    def test_changing_starts_from_what_was_typed(self, as_user, pair):
        address = reverse("evidence:pair_edit", args=[pair.pk])
        form = as_user.get(address).context["form"]
        assert form["hake_with"].value() == "900 lb"
        assert form["lobster_with"].value() is None
        as_user.post(address, entries(key=str(pair.key), hake_with="1000", day="2026-07-02"))
        pair.refresh_from_db()
        assert f"{pair.day}" == "2026-07-02"
        assert pair.catches.get(group="hake").with_sweep == pytest.approx(1000 * POUND)
        assert PairedTows.objects.count() == 1

    def test_deleted_can_be_put_back(self, as_user, pair):
        as_user.post(reverse("evidence:pair_delete", args=[pair.pk]))
        page = as_user.get(MINE)
        assert page.context["pairs"] == []
        assert "Restore" in page.content.decode()
        assert as_user.get(reverse("evidence:pair_edit", args=[pair.pk])).status_code == 404
        as_user.post(reverse("evidence:pair_restore", args=[pair.pk]))
        assert [each.pair for each in as_user.get(MINE).context["pairs"]] == [pair]

    def test_others_pairs_are_not_to_be_found(self, client, pair):
        client.force_login(make_fisherman(1))
        for name in ("pair_edit", "pair_delete", "pair_restore"):
            assert client.post(reverse(f"evidence:{name}", args=[pair.pk])).status_code == 404
        assert client.get(MINE).context["pairs"] == []

    def test_nothing_without_signing_in(self, client, pair):
        for address in (MINE, NEW, reverse("evidence:pair_edit", args=[pair.pk])):
            assert client.get(address).url.startswith(reverse("people:sign_in"))

    def test_nothing_is_deleted_by_a_link(self, as_user, pair):
        assert as_user.get(reverse("evidence:pair_delete", args=[pair.pk])).status_code == 405

    def test_the_page_shows_the_share(self, as_user, user):
        make_pair(user, hake=(30, 40), flatfish=(0, 5), lobster=(2, 0))
        page = as_user.get(MINE).content.decode()
        assert "75%" in page
        assert ">0%<" in page
        assert "no share" in page

    def test_queries_do_not_grow_with_the_pairs(self, as_user, user, django_assert_max_num_queries):
        most = 12
        for _ in range(2):
            for _ in range(5):
                make_pair(user, hake=(30, 40), flatfish=(1, 5))
            with django_assert_max_num_queries(most) as seen:
                as_user.get(MINE)
            most = len(seen)


class TestForSomebodyElse:
    def test_the_pair_is_his_who_asked(self, as_staff, client):
        owner = make_fisherman(1)
        asked = as_staff.post(reverse("evidence:pair_owner"), {"email": "HAND1@example.com"})
        address = reverse("evidence:pair_for", args=[owner.pk])
        assert asked.url == address
        assert "asked you to" in as_staff.get(address).content.decode()
        response = as_staff.post(address, entries(vessel=owner.berths.get().vessel.pk))
        assert response.url == reverse("evidence:evidence")
        (message,) = get_messages(response.wsgi_request)
        assert owner.name in str(message)
        pair = PairedTows.objects.get()
        assert pair.owner == owner
        # He chose nothing: staff who entered it do not see it either.
        assert as_staff.get(reverse("evidence:evidence")).context["pairs"] == []
        assert as_staff.get(reverse("evidence:pair_edit", args=[pair.pk])).status_code == 404

    def test_only_for_people_within_reach(self, as_staff, staff):
        owner = make_fisherman(1, harbor="Eastlight")
        Reach.objects.create(user=staff, harbor="Kettle Harbor")
        asked = as_staff.post(reverse("evidence:pair_owner"), {"email": owner.email})
        assert "None of your people has this email" in str(errors_of(asked))
        assert as_staff.get(reverse("evidence:pair_for", args=[owner.pk])).status_code == 404

    def test_staff_alone(self, as_user, as_officer, user):
        for address in (
            reverse("evidence:pair_owner"),
            reverse("evidence:pair_for", args=[user.pk]),
            reverse("evidence:evidence"),
            reverse("evidence:evidence_csv"),
            reverse("evidence:evidence_png"),
            reverse("evidence:pairs_csv"),
        ):
            assert as_user.get(address).status_code == 403
            assert as_officer.get(address).status_code == 403

    def test_an_unknown_address_is_said(self, as_staff):
        User.objects.create_user("gone@example.com", name="G", is_active=False, role=Role.TRAINEE)
        for email in ("gone@example.com", "nobody@example.com", f"{uuid.uuid4()}@example.com"):
            asked = as_staff.post(reverse("evidence:pair_owner"), {"email": email})
            assert "email" in errors_of(asked)
