"""What the first page of the staff says of the day, and the cases in which it would mislead."""

import uuid
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from tests.home.test_find import person
from tests.register.events_factory import happen, make_vessel
from training.certification.change_models import Change
from training.certification.models import Certificate, Exam, Requirements, Revocation
from training.home import news, waiting
from training.home.models import LastLook
from training.home.today import uptake_line
from training.people.models import Group, Reach, Role, User
from training.register import events
from training.register.stages import Stage
from training.rulesets.models import Version

pytestmark = pytest.mark.django_db
NOW = timezone.now()
AGO = NOW - timedelta(days=2)


@pytest.fixture
def held():
    """One of the staff who is held to Gannet Cove."""
    user = person("Ines Held", "ines@tern.example", role=Role.STAFF, whole_fleet=True)
    Reach.objects.create(user=user, harbor="Gannet Cove")
    return user


def group(harbor):
    return Group.objects.create(name=f"{harbor} crews", harbor=harbor)


def told(user, since=AGO):
    return {str(each.words): [one.name for one in each.named] for each in news.since(user, since)}


# When one was last here.


def look(user, hours):
    return LastLook.objects.look(user, NOW + timedelta(hours=hours))


def test_the_first_visit_looks_back_a_week_and_stays_the_first_while_it_lasts(staff):
    for hours in (0, 0.5, 1.4):
        found = look(staff, hours)
        assert found.is_first
        assert found.since == NOW - timedelta(days=7)


def test_a_visit_after_a_pause_asks_what_came_since_the_last_look(staff):
    look(staff, 0)
    look(staff, 0.75)
    found = look(staff, 20)
    assert not found.is_first
    assert found.since == NOW + timedelta(hours=0.75)
    # Looking again in the same visit does not lose what is new.
    assert look(staff, 20.5).since == found.since


# What changed.


def test_people_who_signed_up_are_news_and_staff_are_not(staff):
    User.objects.update(joined=AGO - timedelta(days=9))
    person("Ada Ruddock", "ada@tern.example", group("Gannet Cove"))
    person("New Colleague", "new@tern.example", role=Role.STAFF, whole_fleet=True)
    assert told(staff) == {"Signed up": ["Ada Ruddock"]}


def certificate(user, code):
    requirements, _ = Requirements.objects.get_or_create(
        slug="skipper", title="Skipper", track="trainee", pass_percent=80, months_valid=12
    )
    exam = Exam.objects.create(
        requirements=requirements, user=user, key=uuid.uuid4(), seed=1, pass_percent=80
    )
    return Certificate.objects.create(
        exam=exam, code=code, holder_name=user.name, expires=NOW + timedelta(days=90)
    )


def test_a_certificate_taken_back_is_news_of_its_own_and_not_one_earned(staff):
    ada = person("Ada Ruddock", "ada@tern.example")
    bo = person("Bo Wyk", "bo@tern.example")
    User.objects.update(joined=AGO - timedelta(days=9))
    certificate(ada, "AAAA22222222")
    gone = certificate(bo, "BBBB22222222")
    Revocation.objects.create(certificate=gone, reason="It was another's.", by=staff)
    assert told(staff) == {
        "Earned a certificate": ["Ada Ruddock"],
        "Had a certificate taken back": ["Bo Wyk"],
    }


def test_a_vessel_is_news_once_and_what_was_withdrawn_is_none(staff):
    tern, dove = make_vessel("Tern", "Gannet Cove"), make_vessel("Dovekie", "Gannet Cove")
    today = timezone.localdate()
    happen(tern, Stage.TOLD, today - timedelta(days=5))
    happen(tern, Stage.CONVERTED, today - timedelta(days=1))
    wrong = happen(dove, Stage.CONVERTED, today)
    events.withdraw(wrong, by=staff, key=str(uuid.uuid4()))
    (found,) = news.since(staff, AGO)
    assert (found.count, [one.name for one in found.named]) == (1, ["Tern"])
    assert "fishing without a sweep" in found.named[0].about


def test_more_than_a_few_are_counted_and_not_named(staff):
    User.objects.update(joined=AGO - timedelta(days=9))
    for number in range(news.NAMED + 3):
        person(f"Hand {number}", f"hand{number}@tern.example")
    (found,) = news.since(staff, AGO)
    assert (found.count, len(found.named), found.others) == (8, 5, 3)


def test_staff_held_to_a_harbor_hear_nothing_of_another(held):
    User.objects.update(joined=AGO - timedelta(days=9))
    happen(make_vessel("Dovekie", "Eastlight"), Stage.TOLD, timezone.localdate())
    bo = person("Bo Wyk", "bo@tern.example", group("Eastlight"))
    certificate(bo, "BBBB22222222")
    assert told(held) == {}


# What waits.


def waits(user):
    return [each.words for each in waiting.for_staff(user)]


def version(by, submitted=None):
    return Version.objects.create(
        key=uuid.uuid4(),
        name="gear",
        version=uuid.uuid4().hex[:8],
        text="",
        effective_from=timezone.localdate(),
        drafted_by=by,
        submitted_at=submitted,
    )


def test_a_draft_waits_for_who_began_it_until_it_is_sent_and_then_for_the_others(staff):
    other = person("Colleague", "new@tern.example", role=Role.STAFF, whole_fleet=True, joined=AGO)
    draft = version(staff)
    assert len(waits(staff)) == 1
    assert "Your draft" in waits(staff)[0]
    assert waits(other) == []
    draft.submitted_at = NOW
    draft.save()
    assert waits(staff) == []
    assert "approve it" in waits(other)[0]


def test_changed_requirements_wait_for_a_second_person_alone(staff):
    other = person("New Colleague", "new@tern.example", role=Role.STAFF, whole_fleet=True)
    requirements = Requirements.objects.create(
        slug="skipper", title="Skipper", track="trainee", pass_percent=80, months_valid=12
    )
    change = Change.objects.create(
        requirements=requirements, key=uuid.uuid4(), terms={}, reason="Longer.", by=staff
    )
    assert waits(staff) == []
    assert waits(other) == [
        "New requirements of “Skipper” wait for you or another to approve them."
    ]
    change.outcome, change.decided_by, change.decided = Change.Outcome.APPROVED, other, NOW
    change.save()
    assert waits(other) == []


# How far the fleet has come.


def test_the_line_on_uptake_says_whose_vessels_it_counts(staff, held):
    assert uptake_line(held) == "There are no vessels of Gannet Cove that still fish."
    today = timezone.localdate()
    happen(make_vessel("Dovekie", "Eastlight"), Stage.CONVERTED, today)
    make_vessel("Tern", "Gannet Cove")
    assert uptake_line(held) == "The one vessel of Gannet Cove does not fish without a sweep."
    assert uptake_line(staff) == "1 of the 2 vessels on the register fishes without a sweep."


def test_an_empty_site_says_so_and_shows_no_heading_without_anything_under_it(as_staff):
    html = as_staff.get(reverse("home")).content.decode()
    assert "Nothing waits for you" in html
    assert "Nothing new" in html or "Signed up" in html
