"""One card for each: why, how to reach them, what was said, when to call again, who does it."""

import csv
import io
import re
import uuid
from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from tests.desk.test_calls import active, ago, reasons_for, sit
from tests.desk.test_calls import requirements as requirements
from tests.register.events_factory import happen, make_vessel
from tests.rigs.papers import Recorder, assert_apart, assert_within
from training.deck import story
from training.desk.calls import numbers, printed
from training.desk.calls.cards import cards, urgent
from training.desk.calls.listing import on_list
from training.desk.models import CallGiven, CallNote, CallReason
from training.people.models import Group, Membership, Reach, Role, User
from training.register.models import Crew
from training.register.stages import Stage

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def stopped(user):
    """The trainee has stopped, which is a reason to call."""
    active(user, numbers.QUIET_DAYS)


def note(client, called, of="person", reasons=("stopped",), **told):
    address = reverse("desk:called", args=[of, called.pk])
    told = {"key": uuid.uuid4(), "outcome": "spoke", "note": "", "again": "", **told}
    return client.post(address, told | {"reasons": reasons})


def names(client, **asked):
    return [card.name for card in client.get(reverse("desk:calls"), asked).context["cards"]]


def crowd(group, number):
    for each in range(number):
        person = User.objects.create_user(f"h{each}@example.com", None, name=f"Hand {each:02}")
        Membership.objects.create(group=group, user=person)
        active(person, numbers.QUIET_DAYS + each)


class TestMoreThanADatabaseTakesAtOnce:
    """A thousand groups or crew in the calls that are read together for a table."""

    MANY = 1100

    def test_of_people(self, staff, user):
        groups = Group.objects.bulk_create(
            Group(name=f"Crews {each}", code=f"MANY{each:05}") for each in range(self.MANY)
        )
        Membership.objects.bulk_create(Membership(group=each, user=user) for each in groups)
        Group.objects.filter(pk=groups[-1].pk).update(harbor="Eastlight")
        (card,) = cards([("person", user.pk)], staff)
        assert card.harbors == "Marrow Point, Eastlight"

    def test_of_vessels(self, staff):
        vessel = make_vessel("Teal")
        crew = User.objects.bulk_create(
            User(email=f"many{each}@example.com", name=f"Hand {each:04}")
            for each in range(self.MANY)
        )
        Crew.objects.bulk_create(Crew(vessel=vessel, user=each) for each in crew)
        (card,) = cards([("vessel", vessel.pk)], staff)
        assert {each.name for each in card.contacts} == {each.name for each in crew}
        assert len(card.contacts) == self.MANY


class TestCards:
    def test_one_card_has_all_reasons(self, as_staff, staff, user, requirements):
        sit(user, requirements, 40)
        active(user, numbers.QUIET_DAYS)
        content = as_staff.get(reverse("desk:calls")).content.decode()
        assert content.count('<li class="card') == 1
        assert "May take it again" in content
        assert "not certified yet" in content
        (card,) = urgent(staff)
        assert [why.reason.key for why in card.whys] == ["exam-missed", "stopped"]
        # Counted by a second way: each reason's own list.
        assert {why.reason.key for why in card.whys} == reasons_for(user, staff)
        assert (card.name, card.harbors) == (user.name, "Marrow Point")

    def test_the_most_urgent_come_first_people_and_vessels_alike(self, staff, user, group):
        back, told = make_vessel("Skua"), make_vessel("Teal")
        happen(back, Stage.CONVERTED, ago(90))
        happen(back, Stage.BACK, ago(5))
        happen(told, Stage.TOLD, ago(numbers.TOLD_DAYS))
        crowd(group, 2)
        order = [card.name for card in urgent(staff)]
        assert order[0] == "Skua"
        assert order[-1] == "Teal"
        assert [card.name for card in urgent(staff, most=2)] == order[:2]

    def test_nobody_to_call(self, as_staff, staff):
        User.objects.filter(role=Role.TRAINEE).update(is_active=False)
        assert urgent(staff) == []
        assert "Nobody to call right now." in as_staff.get(reverse("desk:calls")).content.decode()
        assert "No call is given to you" in (
            as_staff.get(reverse("desk:calls"), {"whose": "mine"}).content.decode()
        )

    def test_a_page_is_short_and_tells_the_total(self, as_staff, group):
        crowd(group, numbers.CARDS_A_PAGE + 1)
        response = as_staff.get(reverse("desk:calls"))
        assert len(response.context["cards"]) == numbers.CARDS_A_PAGE
        assert f"{numbers.CARDS_A_PAGE + 2} calls to make" in response.content.decode()
        assert len(names(as_staff, page=2)) == 2

    def test_reach(self, as_staff, staff, user):
        Reach.objects.create(user=staff, harbor="Gannet Cove")
        assert names(as_staff) == []
        assert note(as_staff, user).status_code == 404
        assert as_staff.get(reverse("desk:call", args=["person", user.pk])).status_code == 404
        assert as_staff.get(reverse("desk:call", args=["nobody", user.pk])).status_code == 404
        call = CallNote.objects.create(key=uuid.uuid4(), person=user)
        assert as_staff.post(reverse("desk:call_undo", args=[call.pk])).status_code == 404
        number = reverse("desk:call_number", args=[user.pk])
        assert as_staff.post(number, {"phone": "508-555-0142"}).status_code == 404

    def test_no_such_reason(self, as_staff):
        assert as_staff.get(reverse("desk:calls_for", args=["x"])).status_code == 404


class TestReaching:
    def test_the_best_way_comes_first(self, as_staff, staff, user):
        User.objects.filter(pk=user.pk).update(phone="508-555-0142", reach_by="text")
        (contact,) = urgent(staff)[0].contacts
        assert [way.href for way in contact.ways] == [
            "sms:5085550142",
            "tel:5085550142",
            f"mailto:{user.email}",
        ]
        content = as_staff.get(reverse("desk:calls")).content.decode()
        assert "Best reached by a text message." in content
        assert "Add a phone number" not in content

    def test_without_a_number_it_says_so_and_where_to_add_one(self, as_staff, user):
        assert "Add a phone number" in as_staff.get(reverse("desk:calls")).content.decode()
        address = reverse("desk:call_number", args=[user.pk])
        assert "does not look like" in as_staff.post(address, {"phone": "12"}).content.decode()
        as_staff.post(address, {"phone": "508-555-0142"})
        user.refresh_from_db()
        assert user.phone == "508-555-0142"
        assert 'href="tel:5085550142"' in as_staff.get(reverse("desk:calls")).content.decode()

    def test_a_vessel_is_reached_through_its_crew_captain_first(self, staff, user, group):
        vessel = make_vessel(harbor="Kettle Harbor", captain="By the register")
        happen(vessel, Stage.TOLD, ago(numbers.TOLD_DAYS))
        crowd(group, 3)
        hands = list(User.objects.filter(name__startswith="Hand").order_by("name"))
        parts = (Crew.Part.CREW, Crew.Part.CAPTAIN, Crew.Part.OWNER)
        for hand, part in zip(hands, parts, strict=True):
            Crew.objects.create(vessel=vessel, user=hand, part=part)
        Crew.objects.create(vessel=vessel, user=user, part=Crew.Part.CAPTAIN, until=ago(1))
        (card,) = cards([("vessel", vessel.pk)], staff)
        assert [(each.name, each.part) for each in card.contacts] == [
            *(("Hand 01", "captain"), ("Hand 02", "owner"), ("Hand 00", "crew"))
        ]
        User.objects.filter(pk=hands[1].pk).update(is_active=False)
        (card,) = cards([("vessel", vessel.pk)], staff)
        assert [each.name for each in card.contacts] == ["Hand 02", "Hand 00"]

    def test_a_vessel_without_any_says_what_the_register_says(self, as_staff):
        vessel = make_vessel(captain="Cal Varley")
        happen(vessel, Stage.TOLD, ago(numbers.TOLD_DAYS))
        content = as_staff.get(reverse("desk:calls")).content.decode()
        assert "Nobody of its crew has an account here. Captain Cal Varley." in content


class TestNoting:
    def test_a_call_hides_what_it_was_about_for_some_weeks(self, as_staff, user, staff):
        response = note(as_staff, user, note="At sea till Friday", back=reverse("desk:calls"))
        assert response["Location"] == reverse("desk:calls")
        call = CallNote.objects.get()
        assert (call.person, call.by, call.note) == (user, staff, "At sea till Friday")
        assert reasons_for(user, staff) == set()
        assert "Nobody to call" in as_staff.get(reverse("desk:calls")).content.decode()
        earlier = timezone.now() - timedelta(weeks=numbers.SILENCE_WEEKS, minutes=1)
        CallNote.objects.update(made=earlier)
        assert reasons_for(user, staff) == {"stopped"}
        assert "At sea till Friday" in as_staff.get(reverse("desk:calls")).content.decode()

    def test_what_came_up_since_is_not_hidden(self, as_staff, user, staff, requirements):
        sit(user, requirements, 40)
        active(user, numbers.QUIET_DAYS)
        note(as_staff, user, reasons=["stopped"])
        assert reasons_for(user, staff) == {"exam-missed"}

    def test_a_double_tap_notes_one_call(self, as_staff, user):
        key = uuid.uuid4()
        for __ in range(2):
            note(as_staff, user, key=key)
        assert (CallNote.objects.count(), CallReason.objects.count()) == (1, 1)

    @pytest.mark.parametrize("wrong", [{"key": "x"}, {"outcome": ""}, {"reasons": ["no such"]}])
    def test_what_no_form_sends_is_not_kept(self, as_staff, user, wrong):
        assert note(as_staff, user, **wrong).status_code == 200
        assert not CallNote.objects.exists()

    def test_no_answer_hides_it_for_today(self, as_staff, user, staff):
        response = note(as_staff, user, outcome="no-answer", back="https://elsewhere.example/")
        assert response["Location"] == reverse("desk:call", args=["person", user.pk])
        assert reasons_for(user, staff) == set()
        CallNote.objects.update(made=timezone.now() - timedelta(days=1))
        assert reasons_for(user, staff) == {"stopped"}
        content = as_staff.get(reverse("desk:calls")).content.decode()
        assert f"by {staff.name}: no answer." in content

    @pytest.mark.parametrize("days", [0, -1, numbers.AGAIN_WITHIN + 1])
    def test_a_day_that_makes_no_sense_keeps_what_was_typed(self, as_staff, user, days):
        day = f"{ago(-days):%Y-%m-%d}"
        content = note(as_staff, user, again=day, note="Ask for Ida").content.decode()
        assert "Choose a day" in content
        assert "Ask for Ida" in content
        assert f'value="{day}"' in content
        assert not CallNote.objects.exists()

    def test_only_what_is_saved_is_said(self, as_staff, user):
        def said(**told):
            note(as_staff, user, **told)
            (message,) = as_staff.get(reverse("desk:calls")).context["messages"]
            return str(message)

        assert said().endswith("was called. This reason is hidden for 4 weeks.")
        assert said(reasons=[]).endswith("was called.")
        assert said(outcome="no-answer").endswith("On the list again tomorrow.")
        assert said(outcome="no-answer", reasons=[]).endswith(f"from {user.name}.")

    def test_a_vessel_and_a_person_at_once_are_refused(self, user):
        for model, more in ((CallNote, {}), (CallGiven, {"to": user})):
            with pytest.raises(IntegrityError), transaction.atomic():
                model.objects.create(key=uuid.uuid4(), person=user, vessel=make_vessel(), **more)


class TestCallingAgain:
    def on(self, day):
        CallNote.objects.update(again=day)

    def test_on_the_day_and_not_before(self, as_staff, user, staff):
        note(as_staff, user, again=f"{ago(-3):%Y-%m-%d}")
        assert reasons_for(user, staff) == set()
        self.on(ago(0))
        assert reasons_for(user, staff) == {"call-again-person", "stopped"}
        assert [why.words.startswith("To be called again on ") for why in urgent(staff)[0].whys][0]

    def test_even_where_there_is_no_other_reason(self, as_staff, user, staff):
        active(user, 1)
        note(as_staff, user, reasons=[], again=f"{ago(-3):%Y-%m-%d}")
        self.on(ago(2))
        assert reasons_for(user, staff) == {"call-again-person"}

    def test_later_than_the_reasons_would_come_back(self, as_staff, user, staff):
        note(as_staff, user, again=f"{ago(-60):%Y-%m-%d}")
        CallNote.objects.update(made=timezone.now() - timedelta(weeks=numbers.SILENCE_WEEKS + 1))
        assert reasons_for(user, staff) == set()

    def test_no_answer_then_does_not_forget_it(self, as_staff, user, staff):
        note(as_staff, user, again=f"{ago(-3):%Y-%m-%d}")
        self.on(ago(0))
        both = ["call-again-person", "stopped"]
        note(as_staff, user, outcome="no-answer", reasons=both)
        assert reasons_for(user, staff) == set()
        CallNote.objects.filter(outcome="no-answer").update(made=timezone.now() - timedelta(days=1))
        CallNote.objects.filter(outcome="spoke").update(made=timezone.now() - timedelta(days=9))
        assert reasons_for(user, staff) == set(both)
        note(as_staff, user, reasons=both)
        assert reasons_for(user, staff) == set()

    def test_a_vessel_too(self, as_staff, staff):
        vessel = make_vessel()
        note(as_staff, vessel, "vessel", reasons=[], again=f"{ago(-3):%Y-%m-%d}")
        self.on(ago(0))
        assert reasons_for(vessel, staff) == {"call-again-vessel"}

    def test_what_was_agreed_is_said_where_something_else_came_up(
        self, as_staff, user, staff, requirements
    ):
        note(as_staff, user, again=f"{ago(-3):%Y-%m-%d}")
        sit(user, requirements, 40)
        active(user, numbers.QUIET_DAYS)
        assert "Agreed: call again on " in as_staff.get(reverse("desk:calls")).content.decode()
        (card,) = urgent(staff)
        assert card.agreed == ago(-3)


class TestUndoing:
    def test_what_was_undone_does_not_count_and_can_be_put_back(self, as_staff, user, staff):
        note(as_staff, user, note="Wrong person")
        call = CallNote.objects.get()
        page = as_staff.get(reverse("desk:calls")).content.decode()
        assert reverse("desk:call_undo", args=[call.pk]) in page
        for __ in range(2):
            as_staff.post(reverse("desk:call_undo", args=[call.pk]))
        assert reasons_for(user, staff) == {"stopped"}
        page = as_staff.get(reverse("desk:call", args=["person", user.pk])).content.decode()
        assert "Wrong person" in page
        assert re.search(rf"Undone on .* by {staff.name}: it does not count", page)
        assert urgent(staff)[0].last is None
        as_staff.post(reverse("desk:call_put_back", args=[call.pk]))
        assert reasons_for(user, staff) == set()

    def test_the_call_before_decides_again(self, as_staff, user, staff):
        note(as_staff, user, again=f"{ago(-3):%Y-%m-%d}")
        CallNote.objects.update(again=ago(0), made=timezone.now() - timedelta(days=2))
        note(as_staff, user, reasons=["stopped", "call-again-person"])
        assert reasons_for(user, staff) == set()
        as_staff.post(reverse("desk:call_undo", args=[CallNote.objects.first().pk]))
        assert reasons_for(user, staff) == {"stopped", "call-again-person"}


class TestGiving:
    @pytest.fixture
    def other(self):
        return User.objects.create_user(
            "ada@example.com", None, name="Ada", role=Role.STAFF, whole_fleet=True
        )

    def give(self, client, called, to, of="person"):
        address = reverse("desk:call_give", args=[of, called.pk])
        return client.post(address, {"key": uuid.uuid4(), "to": to.pk})

    def test_to_one_and_then_to_another(self, as_staff, user, staff, other):
        assert names(as_staff, whose="nobodys") == [user.name]
        self.give(as_staff, user, staff)
        assert names(as_staff, whose="mine") == [user.name]
        assert names(as_staff, whose="nobodys") == []
        self.give(as_staff, user, other)
        assert names(as_staff, whose="mine") == []
        assert f"Given to {other.name} on " in as_staff.get(reverse("desk:calls")).content.decode()
        as_staff.post(reverse("desk:call_take_back", args=["person", user.pk]))
        assert names(as_staff, whose="nobodys") == [user.name]
        assert CallGiven.objects.count() == 2

    def test_who_has_left_has_no_calls(self, as_staff, user, other):
        self.give(as_staff, user, other)
        User.objects.filter(pk=other.pk).update(is_active=False)
        assert names(as_staff, whose="nobodys") == [user.name]

    def test_a_call_ends_it_unless_there_will_be_another(self, as_staff, user, staff):
        self.give(as_staff, user, staff)
        note(as_staff, user, outcome="no-answer")
        note(as_staff, user, again=f"{ago(-3):%Y-%m-%d}")
        assert CallGiven.objects.standing().exists()
        note(as_staff, user)
        assert not CallGiven.objects.standing().exists()
        call = CallNote.objects.first()
        as_staff.post(reverse("desk:call_undo", args=[call.pk]))
        assert CallGiven.objects.standing().get().to == staff
        as_staff.post(reverse("desk:call_put_back", args=[call.pk]))
        assert not CallGiven.objects.standing().exists()

    def test_only_to_staff_who_look_after_them(self, as_staff, user, staff, other, officer):
        vessel = make_vessel(harbor="Gannet Cove")
        Reach.objects.create(user=other, harbor="Gannet Cove")
        for called, of, to in ((user, "person", other), (user, "person", officer)):
            self.give(as_staff, called, to, of)
        assert not CallGiven.objects.exists()
        self.give(as_staff, vessel, other, "vessel")
        assert CallGiven.objects.get().to == other


class TestTakingAlong:
    def test_as_a_table_a_row_for_each_card(self, as_staff, user):
        vessel = make_vessel(captain="=1+1")
        happen(vessel, Stage.TOLD, ago(numbers.TOLD_DAYS))
        User.objects.filter(pk=user.pk).update(phone="508-555-0142", reach_by="call")
        text = b"".join(as_staff.get(reverse("desk:calls_csv"))).decode("utf-8-sig")
        rows = list(csv.DictReader(io.StringIO(text)))
        assert [row["name"] for row in rows] == [user.name, vessel.name]
        assert (rows[0]["phone"], rows[0]["best way"]) == ("508-555-0142", "a call")
        assert (rows[1]["phone"], rows[1]["captain"]) == ("", "'=1+1")

    def printed(self, user):
        paper, found = Recorder(), on_list(user)
        shown = cards(list(found)[: printed.MOST_PRINTED], user)
        printed.set_on(paper, shown, len(found), ago(0))
        return paper

    @pytest.mark.parametrize("number", [1, 80])
    def test_on_two_pages_at_most_that_say_what_is_left_out(self, staff, group, number):
        crowd(group, number)
        User.objects.filter(name__startswith="Hand").update(phone="508-555-0142")
        paper = self.printed(staff)
        assert_within(paper)
        assert_apart(paper)
        words = [*paper.on(1), *paper.on(2)]
        assert paper.page == (1 if number == 1 else 2)
        rows = sum(each.startswith(("Hand", "Wren")) for each in words)
        left = [each for each in words if "on the site" in each]
        assert rows + (int(left[0].split()[0]) if left else 0) == number + 1
        assert bool(left) == (number == 80)
        assert any(f"{number + 1} calls to make" in each for each in words)
        assert sum("508-555-0142" in each for each in words) == rows - 1

    def test_an_address_where_that_is_better_and_the_register_where_there_is_nobody(
        self, staff, user
    ):
        vessel = make_vessel(captain="Cal Varley")
        happen(vessel, Stage.TOLD, ago(numbers.TOLD_DAYS))
        User.objects.filter(pk=user.pk).update(phone="508-555-0142", reach_by="email")
        person, ship = cards([("person", user.pk), ("vessel", vessel.pk)], staff)
        assert printed.reached(person) == f"{user.email}, 508-555-0142 (best: an email)"
        assert (
            printed.reached(ship) == "Nobody of its crew has an account here. Captain Cal Varley."
        )
        User.objects.filter(pk=user.pk).update(phone="", reach_by="")
        Crew.objects.create(vessel=vessel, user=user, part=Crew.Part.OWNER)
        person, ship = cards([("person", user.pk), ("vessel", vessel.pk)], staff)
        assert printed.reached(person) == user.email
        assert printed.reached(ship) == f"{user.name}, owner: {user.email}"

    def test_the_longest_rows_stay_on_two_pages(self, staff, group):
        crowd(group, 30)
        User.objects.update(name="Wilhelmina " * 9, reach_by="text", phone="508-555-0142 x12")
        paper = self.printed(staff)
        assert paper.page == 2
        assert_within(paper)
        assert_apart(paper)
        assert any("more calls are on the site" in each for each in paper.on(2))

    def test_nobody_to_print(self, as_staff, staff, user):
        User.objects.filter(pk=user.pk).update(is_active=False)
        assert any("Nobody to call" in each for each in self.printed(staff).on(1))
        assert as_staff.get(reverse("desk:calls_print")).content.startswith(b"%PDF")


def test_each_call_is_in_the_story_of_whom_it_was_to(as_staff, user, staff):
    note(as_staff, user, note="At sea till Friday", again=f"{ago(-3):%Y-%m-%d}")
    vessel = make_vessel()
    note(as_staff, vessel, "vessel", reasons=[], outcome="no-answer")
    as_staff.post(reverse("desk:call_undo", args=[CallNote.objects.first().pk]))
    of_calls = [each for each in story.PERSON.told(user, staff) if each.kind == story.Kind.CALL]
    (told,) = of_calls
    assert (told.note, told.is_void) == ("At sea till Friday", False)
    assert f"{staff.name} called" in told.text
    (told,) = (each for each in story.VESSEL.told(vessel, staff) if each.kind == story.Kind.CALL)
    assert told.is_void
    assert "no answer" in told.text


def test_of_a_group_and_its_demo_mark(as_staff, user, settings):
    settings.SITE_DEMO = False
    assert "demo data" not in as_staff.get(reverse("desk:calls")).content.decode()
    Group.objects.update(is_demo=True)
    assert "demo data" in as_staff.get(reverse("desk:calls")).content.decode()
    assert Client().get(reverse("desk:calls")).status_code == 302
