"""What staff have at hand of a person, vessel, certificate or group leads there."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from tests.register.events_factory import make_vessel
from training.certification.models import Certificate, Exam, Requirements, Revocation
from training.home.finding import SHOWN, find
from training.people.models import Group, Membership, Reach, Role, User

pytestmark = pytest.mark.django_db


def person(name, email, group=None, **more):
    user = User.objects.create_user(email, None, name=name, **more)
    if group:
        Membership.objects.create(group=group, user=user)
    return user


@pytest.fixture
def fleet(staff):
    """Two harbors with a group, a person, a vessel and a certificate each."""
    requirements = Requirements.objects.create(
        slug="skipper", title="Skipper", track="trainee", pass_percent=80, months_valid=12
    )
    now = timezone.now()
    for harbor, name, vessel, code in (
        ("Gannet Cove", "Ada Ruddock", "Sanderling", "GANNET22GANN"),
        ("Eastlight", "Bo O'Hara Van Wyk", "Dovekie", "EAST33EAST44"),
    ):
        group = Group.objects.create(name=f"{harbor} crews", harbor=harbor)
        user = person(name, f"{name.split()[0].lower()}@tern.example", group)
        found = make_vessel(vessel, harbor)
        found.registration = f"TS {len(name)} {vessel[:2]}"
        found.owner = "Mia Longfin"
        found.save()
        exam = Exam.objects.create(
            requirements=requirements,
            user=user,
            key=f"00000000-0000-4000-8000-0000000000{len(name):02}",
            seed=1,
            pass_percent=80,
            handed_in=now,
            passed=True,
        )
        Certificate.objects.create(
            exam=exam, code=code, holder_name=name, expires=now + timedelta(days=90)
        )
    return staff


def names(text, user):
    return {each.heading: [hit.name for hit in each.hits] for each in find(text, user)}


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("ada", {"People": ["Ada Ruddock"], "Certificates": ["Ada Ruddock"]}),
        ("  RUDDOCK   ad ", {"People": ["Ada Ruddock"], "Certificates": ["Ada Ruddock"]}),
        ("ada@tern", {"People": ["Ada Ruddock"]}),
        ("van wyk", {"People": ["Bo O'Hara Van Wyk"], "Certificates": ["Bo O'Hara Van Wyk"]}),
        ("o'h", {"People": ["Bo O'Hara Van Wyk"], "Certificates": ["Bo O'Hara Van Wyk"]}),
        ("sander", {"Vessels": ["Sanderling"]}),
        ("TS 11", {"Vessels": ["Sanderling"]}),
        ("longfin dov", {"Vessels": ["Dovekie"]}),
        ("east-33ea", {"Certificates": ["Bo O'Hara Van Wyk"]}),
        (
            "gannet",
            {
                "Vessels": ["Sanderling"],
                "Groups": ["Gannet Cove crews"],
                "Certificates": ["Ada Ruddock"],
            },
        ),
        ("uddock", {}),  # letters from within a word find too much
        ("", {}),
        ("%", {}),
        ("_", {}),
    ],
)
def test_what_is_at_hand_finds(fleet, text, expected):
    assert names(text, fleet) == expected


def test_a_group_is_found_by_its_code_as_it_is_read_from_a_wall(fleet):
    group = Group.objects.get(harbor="Eastlight")
    code = f"{group.code[:4].lower()} {group.code[4:]}"
    assert names(code, fleet)["Groups"] == [group.name]


@pytest.mark.parametrize("asked", ["207-555", "2075550", "555 0142", "(207) 555-0142"])
def test_a_person_is_found_by_the_phone_number_however_it_is_written(fleet, asked):
    User.objects.filter(name="Ada Ruddock").update(phone="(207) 555.0142")
    assert names(asked, fleet)["People"] == ["Ada Ruddock"]


def test_a_certificate_that_was_taken_back_says_so(fleet):
    certificate = Certificate.objects.get(holder_name="Ada Ruddock")
    Revocation.objects.create(certificate=certificate, reason="It was another's.", by=fleet)
    (found,) = [each for each in find("ada", fleet) if each.heading == "Certificates"]
    assert "taken back" in found.hits[0].about


def test_staff_held_to_a_harbor_find_nothing_of_another(fleet):
    held = person("Ines Held", "ines@tern.example", role=Role.STAFF, whole_fleet=True)
    Reach.objects.create(user=held, harbor="Gannet Cove")
    for text in ("bo", "dovekie", "EAST33", "eastlight", "longfin dov"):
        assert names(text, held) == {}
    assert set(names("gannet", held)) == {"Vessels", "Groups", "Certificates"}


def test_no_more_than_ten_of_a_kind_are_shown_and_it_is_said(fleet):
    for number in range(SHOWN + 1):
        person(f"Zeb Martin {number:02}", f"zeb{number}@tern.example")
    (found,) = find("zeb", fleet)
    assert len(found.hits) == SHOWN
    assert found.more
    User.objects.get(email="zeb10@tern.example").delete()
    (found,) = find("zeb", fleet)
    assert len(found.hits) == SHOWN
    assert not found.more


def test_a_single_hit_is_gone_to_at_once(as_staff, fleet):
    response = as_staff.get(reverse("find"), {"q": "sanderling"})
    assert response.status_code == 302
    assert "/register/vessels/" in response["Location"]


def test_what_was_asked_stays_in_the_box_and_nothing_found_says_what_to_type(as_staff, fleet):
    html = as_staff.get(reverse("find"), {"q": "<quelque>"}).content.decode()
    assert "Nothing found for “&lt;quelque&gt;”" in html
    assert 'value="&lt;quelque&gt;"' in html
    assert "<quelque>" not in html
    assert as_staff.get(reverse("find"), {"q": "a\0b"}).status_code == 400


def test_finding_asks_once_a_kind_at_any_number(fleet, django_assert_num_queries):
    with django_assert_num_queries(4):  # each of the four kinds
        find("a", fleet)
