"""Lists that staff sort and narrow down: each order recounted from the rows in plain Python."""

import uuid
from datetime import date, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from tests.certification.candidates import make_requirements
from tests.checks.conftest import make_check
from tests.register.events_factory import happen, make_vessel
from training.certification.models import Certificate, Exam
from training.people.models import Role, User
from training.register.models import Vessel
from training.register.stages import Stage

pytestmark = pytest.mark.django_db


def shown(client, name, **asked):
    response = client.get(reverse(name), asked)
    assert response.status_code == 200
    return response.context


class TestVessels:
    @pytest.fixture(autouse=True)
    def fleet(self):
        happen(make_vessel("Teal", "Eastlight", 44), Stage.CONVERTED, "2026-07-01")
        happen(make_vessel("Dunlin", "Kettle Harbor", 61), Stage.TOLD, "2026-08-01")
        back = make_vessel("Skua", "Eastlight", 52)
        happen(back, Stage.CONVERTED, "2026-07-01")
        happen(back, Stage.BACK, "2026-09-01")
        make_vessel("Gannet", "Marrow Point", 40)

    @pytest.mark.parametrize(
        ("sort", "names"),
        [
            ("", ["Skua", "Teal", "Dunlin", "Gannet"]),
            ("name", ["Dunlin", "Gannet", "Skua", "Teal"]),
            ("length", ["Dunlin", "Skua", "Teal", "Gannet"]),
            ("stage", ["Teal", "Dunlin", "Skua", "Gannet"]),
            ("since", ["Skua", "Dunlin", "Teal", "Gannet"]),
            ("nonsense", ["Skua", "Teal", "Dunlin", "Gannet"]),
        ],
    )
    def test_in_every_order(self, as_staff, sort, names):
        context = shown(as_staff, "register:vessels", sort=sort)
        assert [vessel.name for vessel, *__ in context["rows"]] == names
        assert not context["narrowed"]

    def test_the_download_is_in_the_same_order(self, as_staff):
        table = as_staff.get(reverse("register:vessels_csv"), {"sort": "length"})
        lines = table.getvalue().decode("utf-8-sig").splitlines()[1:]
        assert [line.split(",")[0] for line in lines] == ["Dunlin", "Skua", "Teal", "Gannet"]

    def test_a_page_says_where_one_is(self, as_staff):
        Vessel.objects.bulk_create(
            Vessel(name=f"Vessel {number}", harbor="Eastlight", length=12) for number in range(60)
        )
        content = as_staff.get(reverse("register:vessels"), {"page": 2, "sort": "name"})
        assert "51 to 64 of 64, page 2 of 2" in content.content.decode()
        # The other page is in the same order.
        assert "?page=1&amp;sort=name" in content.content.decode()


class TestPeople:
    def test_in_every_order(self, as_staff):
        now = timezone.now()
        for name, days in (("Ida", 3), ("Ada", 1), ("Zoe", 2)):
            person = User.objects.create_user(f"{name}@example.com", name=name, role=Role.TRAINEE)
            User.objects.filter(pk=person.pk).update(joined=now - timedelta(days=days))
        orders = {"": "Ada Ida Zoe", "joined": "Ada Zoe Ida", "quiet": "Ada Ida Zoe"}
        for sort, names in orders.items():
            people = shown(as_staff, "desk:trainees", sort=sort)["page"]
            assert [person.name for person in people] == names.split()


class TestSheets:
    def test_are_narrowed_down_and_sorted(self, as_staff, officer):
        first = make_check(officer, True, typed={}, day=date(2026, 7, 1))
        second = make_check(officer, False, typed={}, day=date(2026, 8, 1))
        type(first).objects.filter(pk=first.pk).update(vessel_name="Zeta")

        def listed(**asked):
            return [sheet.pk for sheet in shown(as_staff, "checks:checks", **asked)["page"]]

        assert listed() == [second.pk, first.pk]
        assert listed(sort="oldest") == [first.pk, second.pk]
        assert listed(state="turned-in") == [first.pk]
        assert listed(state="open") == [second.pk]
        assert listed(text="zeta") == [first.pk]
        assert listed(text="zeta", state="open") == []


class TestCertificates:
    @pytest.mark.parametrize("asked", [{}, {"sort": "expires"}, {"until": "ran-out"}])
    def test_none_at_all(self, as_staff, asked):
        assert not Certificate.objects.exists()
        context = shown(as_staff, "certificates:issued", **asked)
        assert context["entries"] == []
        assert context["form"].narrows is ("until" in asked)

    def test_are_narrowed_down_and_sorted(self, as_staff):
        requirements = make_requirements(slug="skipper", title="Skipper")
        other = make_requirements(slug="deck", title="Deckhand")
        now = timezone.now()
        for name, days, held in (("Ida", 90, requirements), ("Bo", -3, other), ("Cy", 9, other)):
            person = User.objects.create_user(f"{name}@example.com", name=name)
            exam = Exam.objects.create(
                requirements=held, user=person, key=uuid.uuid4(), seed=1, pass_percent=80
            )
            Certificate.objects.create(
                exam=exam,
                code=f"{name.upper():A<12}",
                holder_name=name,
                issued=now - timedelta(days=len(name)),
                expires=now + timedelta(days=days),
            )

        def listed(**asked):
            entries = shown(as_staff, "certificates:issued", **asked)["entries"]
            return [entry["certificate"].holder_name for entry in entries]

        assert listed(sort="name") == ["Bo", "Cy", "Ida"]
        assert listed(sort="expires") == ["Bo", "Cy", "Ida"]
        assert listed()[-1] == "Ida"
        assert listed(until="runs", sort="name") == ["Cy", "Ida"]
        assert listed(until="ran-out") == ["Bo"]
        assert listed(text="ida") == ["Ida"]
        assert listed(text="CYAA AAAA AAAA") == ["Cy"]
        assert listed(requirements=requirements.pk) == ["Ida"]
