"""A captain who does not fit is pointed out, and one who does is not."""

from datetime import date

import pytest
from django.urls import reverse

from tests.register.events_factory import make_vessel
from training.people.models import User
from training.register.models import Crew
from training.register.pointing import alike, of_person, of_vessel

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("name", "other", "same"),
    [
        ("Ida Fenwright", "ida  fenwright", True),
        ("Fenwright, Ida", "Ida Fenwright", True),
        ("I. Fenwright", "Ida Fenwright", True),
        ("Ida M. Fenwright", "Ida Fenwright", True),
        ("Ida Fenwright", "Ivo Fenwright", False),
        ("I. F.", "Ida Fenwright", False),
        ("Ida Fenwright", "Ida Ormsby", False),
        ("", "Ida Fenwright", False),
    ],
)
def test_names_are_alike_if_they_may_be_one_persons(name, other, same):
    assert alike(name, other) == same
    assert alike(other, name) == same


def aboard(vessel, **parts):
    """Put people aboard, by first name, and return the berths of now."""
    for name, part in parts.items():
        person = User.objects.create_user(f"{name}@example.com", name=f"{name.title()} Fenwright")
        Crew.objects.create(vessel=vessel, user=person, part=part)
    return list(vessel.crew.filter(until=None).select_related("user"))


@pytest.mark.parametrize(
    ("captain", "crew", "said"),
    [
        ("", {}, []),
        ("Ida Fenwright", {}, []),
        ("Ida Fenwright", {"ida": "captain"}, []),
        ("", {"ida": "captain"}, []),
        ("Ida Fenwright", {"ida": "owner", "ivo": "crew"}, []),
        ("", {"ida": "captain", "ivo": "captain"}, ["Ida Fenwright and Ivo Fenwright"]),
        ("Ida Fenwright", {"ivo": "captain"}, ["the crew list Ivo Fenwright"]),
        ("Ida Fenwright", {"ivo": "crew"}, ["does not have them"]),
        ("Ida Fenwright", {"ida": "crew"}, ["names them as crew"]),
        ("Ole Ormsby", {"ida": "captain", "ivo": "captain"}, ["More than one", "Ole Ormsby"]),
    ],
)
def test_what_does_not_fit_is_pointed_out(as_staff, captain, crew, said):
    vessel = make_vessel(captain=captain)
    found = of_vessel(vessel, aboard(vessel, **crew))
    assert len(found) == len(said)
    page = as_staff.get(reverse("register:vessel", args=[vessel.pk])).content.decode()
    assert ("Does this fit?" in page) == bool(said)
    for words, point in zip(said, found, strict=True):
        assert words in point.text
        assert point.text in page


def test_a_captain_who_left_is_no_second_one():
    vessel = make_vessel()
    ida, __ = aboard(vessel, ida="captain", ivo="captain")
    ida.until = date(2026, 7, 1)
    ida.save()
    assert of_vessel(vessel, list(vessel.crew.filter(until=None))) == []


def test_captain_of_two_vessels_is_pointed_out_on_all_three_pages(as_staff, user):
    vessels = [make_vessel("Teal"), make_vessel("Tern")]
    for vessel in vessels:
        Crew.objects.create(vessel=vessel, user=user, part="captain")
    for address in (
        reverse("desk:trainee", args=[user.pk]),
        *(reverse("register:vessel", args=[vessel.pk]) for vessel in vessels),
    ):
        assert "Does this fit?" in as_staff.get(address).content.decode()


def test_a_captain_by_name_alone_may_be_somebody_else(user, staff):
    vessel = make_vessel(captain=user.name.upper())
    (point,) = of_person(user, [], staff)
    assert f"names a {user.name} as captain of Sanderling" in point.text
    berth = Crew.objects.create(vessel=vessel, user=user)
    assert of_person(user, [berth], staff) == []
    staff.reaches.create(harbor="Eastlight")
    assert of_person(user, [], User.objects.get(pk=staff.pk)) == []
