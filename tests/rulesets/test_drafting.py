"""A version's way from draft to approval, and the guards along it."""

import uuid
from datetime import date, timedelta
from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.db import IntegrityError, models, transaction
from django.utils import timezone

from rigs.rules import rulebook
from rigs.rules.rulebook import RulebookError
from rigs.words.units import FOOT
from tests.rulesets.conftest import NEW_YEAR, altered, count, local, make_draft
from training.people import second as people
from training.people.models import AccountDeed
from training.people.second import Beside
from training.rulesets import drafting, shelf, withdrawing
from training.rulesets.drafting import DraftError
from training.rulesets.models import (
    ApprovedStandsError,
    Impact,
    SentBack,
    Version,
    Withdrawal,
    earliest_day,
)

pytestmark = pytest.mark.django_db

TIGHT = {"dropper_spacing": 7 * FOOT}


@pytest.fixture
def draft(staff):
    return make_draft(staff, limits=TIGHT)


@pytest.fixture
def waiting(draft, staff):
    """A draft that is counted and submitted."""
    count(draft)
    return drafting.submit(draft, staff)


class TestDrafting:
    @pytest.mark.parametrize("name", rulebook.names())
    def test_it_starts_as_the_version_it_will_take_over_from(self, staff, name):
        draft = drafting.start(name, uuid.uuid4(), staff)
        old = rulebook.load(name)
        assert draft.version == "2"
        assert draft.effective_from > timezone.localdate()
        assert draft.book == altered(old, version="2", effective_from=draft.effective_from)
        # What it shares with others is written out, so that it stays as it is.
        assert draft.text.count("- key: ") == len(old.requirements)

    def test_one_with_a_last_day_to_come_is_followed_on_the_day_after(self, staff, approve):
        last = timezone.localdate() + timedelta(days=60)
        approve(make_draft(staff, limits=TIGHT, effective_to=last))
        later = drafting.start("no-sweep", uuid.uuid4(), staff)
        assert later.effective_from == last + timedelta(days=1)
        assert not later.book.resumes
        moved = altered(later.book, effective_from=last + timedelta(days=3))
        later = drafting.change(later, moved, "Too late.", staff)
        with pytest.raises(DraftError, match="leaves a gap after version 2"):
            drafting.submit(later, staff)

    def test_one_that_has_ended_is_resumed(self, staff, approve, on_day):
        last = timezone.localdate() + timedelta(days=60)
        approve(make_draft(staff, limits=TIGHT, effective_to=last))
        on_day(last + timedelta(days=30))
        assert rulebook.find_in_force("no-sweep", timezone.localdate()) is None
        later = drafting.start("no-sweep", uuid.uuid4(), staff)
        assert later.book.resumes
        # The rules as they were are worth approving again, since there are none now.
        later = drafting.change(later, later.book, "They hold again.", staff)
        approve(later)
        assert rulebook.in_force("no-sweep", later.effective_from).version == later.version
        assert rulebook.find_in_force("no-sweep", later.effective_from - timedelta(days=1)) is None

    def test_the_same_form_sent_twice_begins_one(self, staff):
        key = uuid.uuid4()
        first, again = (drafting.start("grate", key, staff) for _ in range(2))
        assert first == again
        assert Version.objects.count() == 1

    def test_no_version_is_given_out_twice(self, staff):
        versions = [drafting.start("grate", uuid.uuid4(), staff).version for _ in range(3)]
        assert versions == ["2", "3", "4"]

    def test_there_has_to_be_such_a_rule_set(self, staff):
        with pytest.raises(RulebookError):
            drafting.start("nothing", uuid.uuid4(), staff)

    def test_it_starts_from_one_that_is_approved_already(self, draft, staff, approve):
        approve(draft)
        later = drafting.start("no-sweep", uuid.uuid4(), staff)
        assert later.book.requirement("dropper_spacing").limit == 7 * FOOT
        assert later.effective_from > draft.effective_from

    def test_only_its_drafter_changes_it(self, draft, second):
        with pytest.raises(DraftError, match="Only the person who drafted it"):
            drafting.change(draft, draft.book, "", second)
        with pytest.raises(DraftError, match="Only the person who drafted it"):
            drafting.throw_away(draft, second)

    def test_it_keeps_its_name_and_version(self, draft, staff):
        with pytest.raises(DraftError, match="keeps the name"):
            drafting.change(draft, altered(draft.book, version="7"), "", staff)

    def test_it_can_be_thrown_away(self, draft, staff):
        drafting.throw_away(draft, staff)
        assert not Version.objects.exists()
        with pytest.raises(DraftError, match="has been deleted"):
            drafting.submit(draft, staff)


class TestSubmitting:
    def test_its_text_is_fixed_then(self, waiting, staff):
        with pytest.raises(DraftError, match="It is submitted"):
            drafting.change(waiting, waiting.book, "", staff)
        with pytest.raises(DraftError, match="It is submitted"):
            drafting.throw_away(waiting, staff)
        assert drafting.submit(waiting, staff).submitted_at == waiting.submitted_at

    def test_something_must_differ(self, staff):
        draft = make_draft(staff)
        with pytest.raises(DraftError, match="No rule differs"):
            drafting.submit(draft, staff)

    def test_a_reason_is_needed(self, draft, staff):
        draft = drafting.change(draft, draft.book, "", staff)
        with pytest.raises(DraftError, match="Say why the rules are changed"):
            drafting.submit(draft, staff)

    def test_sent_back_it_can_be_changed_again(self, waiting, staff, second):
        with pytest.raises(DraftError, match="Say what"):
            drafting.send_back(waiting, second, "  ")
        back = drafting.send_back(waiting, second, "The clause is of another year.")
        assert back.is_draft
        assert SentBack.objects.get().reason == "The clause is of another year."
        drafting.change(back, back.book, "Looked at again.", staff)
        with pytest.raises(DraftError, match="not waiting"):
            drafting.send_back(back, second, "Once more.")


class TestApproving:
    def test_by_a_second_person(self, waiting, second, staff):
        approved = drafting.approve(waiting, second)
        assert (approved.approved_by, approved.drafted_by) == (second, staff)
        assert approved.is_approved
        assert drafting.approve(approved, second).approved_at == approved.approved_at

    def test_not_by_a_second_account_of_the_drafter(self, waiting, staff, second):
        people.note(second, AccountDeed.What.MADE, staff)
        (why,) = drafting.hindrances(waiting, second)
        assert staff.name in why
        with pytest.raises(DraftError, match=staff.name):
            drafting.approve(waiting, second)
        assert not Version.objects.approved().exists()

    def test_not_by_its_drafter(self, waiting, staff):
        with pytest.raises(DraftError, match="a second person"):
            drafting.approve(waiting, staff)
        waiting.refresh_from_db()
        assert not waiting.is_approved

    def test_not_even_in_the_database(self, waiting, staff, second):
        now = timezone.now()
        for wrong in (
            {"approved_by": staff, "approved_at": now},
            {"approved_by": second, "approved_at": None},
            {"approved_by": None, "approved_at": now},
            {"approved_by": second, "approved_at": now, "submitted_at": None},
        ):
            with pytest.raises(IntegrityError), transaction.atomic():
                Version.objects.filter(pk=waiting.pk).update(**wrong)

    def test_not_before_it_is_submitted(self, draft, second):
        count(draft)
        with pytest.raises(DraftError, match="not been submitted"):
            drafting.approve(draft, second)

    def test_not_before_its_impact_is_counted(self, draft, staff, second):
        waiting = drafting.submit(draft, staff)
        with pytest.raises(DraftError, match="has not been counted"):
            drafting.approve(waiting, second)
        begun = count(waiting)
        Impact.objects.filter(pk=begun.pk).update(finished=None)
        with pytest.raises(DraftError, match="has not been counted"):
            drafting.approve(waiting, second)

    def test_the_impact_has_to_be_of_just_this_text(self, draft, staff, second):
        count(draft)
        changed = altered(draft.book, limits={"dropper_spacing": 6 * FOOT})
        draft = drafting.change(draft, changed, "Tighter still.", staff)
        waiting = drafting.submit(draft, staff)
        with pytest.raises(DraftError, match="has not been counted for this text"):
            drafting.approve(waiting, second)

    def test_not_if_parts_of_the_site_would_stop(self, staff, second):
        draft = make_draft(staff, drop=("dropper_length",))
        assert count(draft).troubles
        waiting = drafting.submit(draft, staff)
        with pytest.raises(DraftError, match="could not work by it"):
            drafting.approve(waiting, second)

    def test_one_must_come_after_the_last(self, draft, staff, second, approve):
        other = make_draft(staff, limits={"dropper_spacing": 6 * FOOT})
        count(other)
        other = drafting.submit(other, staff)
        approve(draft)
        with pytest.raises(DraftError, match="must come later"):
            drafting.approve(other, second)

    def test_what_it_takes_over_from_may_have_changed_since(self, draft, staff, second, approve):
        first = draft.effective_from + timedelta(days=1)
        other = make_draft(staff, first=first, limits={"dropper_spacing": 6 * FOOT})
        count(other)
        other = drafting.submit(other, staff)
        approve(draft)
        # Counted against version 1, and would now take over from version 2.
        with pytest.raises(DraftError, match="has not been counted"):
            drafting.approve(other, second)
        count(other)
        assert drafting.approve(other, second).is_approved

    @pytest.mark.parametrize(
        ("moment", "told"),
        [
            (local(date(2029, 12, 31), 22, 59, 59), ""),
            (local(date(2029, 12, 31), 23, 0, 0), "too soon"),
            (local(NEW_YEAR, 0, 0, 0), "too soon"),
        ],
    )
    def test_an_hour_before_its_first_day_at_the_latest(self, staff, second, moment, told):
        draft = make_draft(staff, first=NEW_YEAR, limits=TIGHT)
        count(draft)
        waiting = drafting.submit(draft, staff)
        found = drafting.hindrances(waiting, second, moment)
        assert bool(found) == bool(told)
        assert told in " ".join(found)
        assert (earliest_day(moment) <= NEW_YEAR) == (not told)


class TestStanding:
    @pytest.fixture
    def approved(self, draft, approve):
        return approve(draft)

    def test_what_is_approved_is_not_changed(self, approved, staff):
        approved.text = approved.text.replace("7 ft", "6 ft")
        with pytest.raises(ApprovedStandsError):
            approved.save()
        with pytest.raises(ApprovedStandsError):
            Version.objects.filter(name="no-sweep").update(text="")
        with pytest.raises(DraftError):
            drafting.change(approved, approved.book, "", staff)

    def test_what_is_approved_is_not_deleted(self, approved, staff):
        with pytest.raises(ApprovedStandsError):
            approved.delete()
        with pytest.raises(ApprovedStandsError):
            Version.objects.all().delete()
        with pytest.raises(DraftError):
            drafting.throw_away(approved, staff)
        with pytest.raises(models.ProtectedError):
            staff.delete()

    def test_two_withdraw_it_before_its_first_day(
        self, approved, staff, second, django_capture_on_commit_callbacks
    ):
        assert rulebook.load("no-sweep").version == "2"
        with pytest.raises(DraftError, match="Say why"):
            withdrawing.ask(approved, staff, " ")
        asked = withdrawing.ask(approved, staff, "The rule was not adopted.")
        # Nor does one alone bring it down, whatever the haste.
        with pytest.raises(DraftError, match="You asked for this yourself"):
            withdrawing.agree(asked, staff)
        shelf.forget()
        assert rulebook.load("no-sweep").version == "2"
        with django_capture_on_commit_callbacks(execute=True):
            withdrawing.agree(asked, second)
        assert rulebook.load("no-sweep").version == "1"
        first = approved.effective_from
        assert rulebook.in_force("no-sweep", first + timedelta(days=9)).version == "1"
        # It stays on record, and its number is not given out again.
        made = Version.objects.get().withdrawal
        assert (made.by, made.agreed_by, made.reason) == (
            staff,
            second,
            "The rule was not adopted.",
        )
        assert drafting.start("no-sweep", uuid.uuid4(), staff).version == "3"

    def test_it_is_asked_once_and_agreed_to_once(self, approved, staff, second):
        asked = withdrawing.ask(approved, staff, "Not adopted.")
        assert withdrawing.ask(approved, second, "For another reason.") == asked
        assert withdrawing.agree(asked, second) == withdrawing.agree(asked, second)
        assert Withdrawal.objects.count() == 1
        with pytest.raises(DraftError, match="decided already"):
            withdrawing.leave(asked, staff)

    def test_left_it_stays_approved_and_can_be_asked_again(self, approved, staff, second):
        asked = withdrawing.ask(approved, staff, "Not adopted.")
        for _ in range(2):
            withdrawing.leave(asked, second)
        with pytest.raises(DraftError, match="decided already"):
            withdrawing.agree(asked, second)
        assert list(withdrawing.came_to_nothing(approved)) == [asked]
        again = withdrawing.ask(approved, second, "Still not adopted.")
        assert withdrawing.agree(again, staff).by == second

    def test_the_server_agrees_where_nobody_can(self, approved, staff):
        with pytest.raises(CommandError, match="Nobody asks"):
            call_command("withdraw_version", approved.name, approved.version)
        withdrawing.ask(approved, staff, "Not adopted.")
        call_command("withdraw_version", approved.name, approved.version, stdout=StringIO())
        made = Version.objects.get().withdrawal
        assert (made.by, made.agreed_by) == (staff, None)

    def test_it_waits_for_those_who_can_agree_until_it_is_too_late(self, approved, staff, second):
        asked = withdrawing.ask(approved, staff, "Not adopted.")
        late = withdrawing.last_moment(approved)
        assert late == local(approved.effective_from, 0) - timedelta(hours=1)
        beside, own = Beside(second), Beside(staff)
        assert withdrawing.to_agree(beside) == [asked]
        assert withdrawing.to_agree(own) == []
        assert withdrawing.to_agree(beside, late + timedelta(minutes=1)) == []
        with pytest.raises(DraftError, match="Draft a newer version"):
            withdrawing.agree(asked, second, late + timedelta(minutes=1))
        assert list(withdrawing.came_to_nothing(approved)) == []
        assert list(withdrawing.came_to_nothing(approved, late + timedelta(minutes=1))) == [asked]

    def test_not_if_the_others_would_not_join_without_it(self, staff, approve):
        last = timezone.localdate() + timedelta(days=40)
        first = approve(make_draft(staff, limits=TIGHT, effective_to=last))
        second = drafting.start("no-sweep", uuid.uuid4(), staff)
        book = altered(
            second.book,
            limits={"dropper_spacing": 6 * FOOT},
            effective_to=second.effective_from + timedelta(days=5),
        )
        second = approve(drafting.change(second, book, "For some days.", staff))
        third = drafting.start("no-sweep", uuid.uuid4(), staff)
        approve(drafting.change(third, third.book, "And on.", staff))
        with pytest.raises(DraftError, match="versions would not join"):
            withdrawing.ask(second, staff, "Not adopted.")
        assert first.effective_from < second.effective_from

    @pytest.mark.parametrize(("hours", "may"), [(-1.1, True), (-0.9, False), (1, False)])
    def test_not_once_its_first_day_is_near(self, approved, staff, hours, may):
        moment = local(approved.effective_from, 0) + timedelta(hours=hours)
        assert withdrawing.may_withdraw(approved, moment) is may
        if not may:
            with pytest.raises(DraftError, match="Draft a newer version"):
                withdrawing.ask(approved, staff, "Too late.", moment)

    def test_a_draft_cannot_be_withdrawn(self, staff):
        with pytest.raises(DraftError, match="Draft a newer version"):
            withdrawing.ask(make_draft(staff, limits=TIGHT), staff, "No.")
