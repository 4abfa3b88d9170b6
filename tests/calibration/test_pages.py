"""The pages of rounds: who may see what, and what a second tap does."""

import csv
import io
import uuid

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.utils import timezone
from django.utils.html import escape

from tests.calibration.round_factory import (
    FAILS,
    PASSES,
    UNSURE,
    judge_all,
    judge_at_once,
    make_officers,
    make_round,
    truth,
)
from training.calibration import practice, turns
from training.calibration.holding import Count
from training.calibration.models import Call, PracticeRig, Round, Turn
from training.people.models import Role

HOME = "/calibration/"


def page(client, path, status=200):
    response = client.get(path)
    assert response.status_code == status, path
    return response.getvalue().decode()


def entry(turn, place=1):
    return turns.entries(turn)[place - 1]


def careless(rig):
    return truth(rig, miss=["float_diameter"], claim=["legs_equal"])


@pytest.fixture
def own(turn):
    return f"{HOME}turn/{turn.pk}/"


@pytest.fixture
def handed_in(turn):
    return judge_all(turn, careless)


class TestWhoMaySee:
    def staff_paths(self, round_):
        base = f"{HOME}{round_.pk}/"
        return [
            f"{HOME}new/",
            base,
            f"{base}change/",
            f"{base}report/",
            f"{base}judgements.csv",
            f"{base}figures.csv",
        ]

    def test_staff_pages(self, round_, as_staff, as_officer, as_user, client):
        for path in self.staff_paths(round_):
            page(as_staff, path)
            page(as_officer, path, 403)
            page(as_user, path, 403)
            assert client.get(path).status_code == 302
        close = f"{HOME}{round_.pk}/close/"
        assert as_officer.post(close, {"closed": "yes"}).status_code == 403
        assert as_staff.get(close).status_code == 405
        assert Round.objects.get().closed is None

    def test_trainees_and_visitors_see_nothing_of_it(self, own, as_user, client):
        for path in (HOME, own, f"{own}rig/1/", f"{own}result/", f"{own}practice/"):
            page(as_user, path, 403)
            assert client.get(path).status_code == 302
        assert HOME not in page(as_user, "/")

    def test_an_officer_sees_only_his_own(self, round_, others, own, as_officer, handed_in):
        for path in (own, f"{own}result/", f"{own}rig/1/", f"{own}practice/"):
            as_officer.get(path)
        other = Client()
        other.force_login(others[0])
        for path in (own, f"{own}result/", f"{own}rig/1/", f"{own}practice/"):
            page(other, path, 404)
        for path in (f"{own}rig/1/", f"{own}hand-in/", f"{own}practice/"):
            assert other.post(path, {"revision": "0"}).status_code == 404

    def test_staff_see_a_turn_once_it_is_handed_in(self, turn, own, as_staff):
        for path in (f"{own}rig/1/", f"{own}result/"):
            page(as_staff, path, 404)
        judge_all(turn, careless)
        assert "Piper Lund differs" in page(as_staff, f"{own}result/")
        assert "number" in page(as_staff, f"{own}rig/1/")
        page(as_staff, f"{own}practice/", 404)

    def test_an_officer_in_no_round_is_told(self, as_officer):
        assert "No round for you yet" in page(as_officer, HOME)


class TestJudging:
    def post(self, client, own, place=1, verdict=PASSES, failing=(), revision=0):
        said = {"verdict": verdict, "failing": list(failing), "revision": revision}
        return client.post(f"{own}rig/{place}/", said)

    def test_saves_and_leads_to_the_next(self, as_officer, turn, own):
        assert self.post(as_officer, own).url == f"{own}rig/2/"
        call = Call.objects.get()
        assert (call.number, call.verdict) == (entry(turn).shown.number, PASSES)
        assert "1 of 20 rigs judged" in page(as_officer, HOME)
        assert "19 of 20 rigs to go." in page(as_officer, own)
        assert "Continue with rig 2" in page(as_officer, own)

    def test_a_double_tap_saves_once(self, as_officer, own):
        for _ in range(2):
            assert self.post(as_officer, own).url == f"{own}rig/2/"
        assert Call.objects.get().revision == 1

    def test_what_was_saved_is_shown_again(self, as_officer, own):
        self.post(as_officer, own, verdict=FAILS, failing=["legs_equal"])
        found = page(as_officer, f"{own}rig/1/")
        assert found.count("checked") == 2
        assert 'name="revision" value="1"' in found

    def test_another_device_is_not_wiped_out(self, as_officer, own):
        self.post(as_officer, own)
        self.post(as_officer, own, verdict=FAILS, failing=["legs_equal"], revision=1)
        response = self.post(as_officer, own, verdict=UNSURE, revision=1)
        assert "Not saved. This rig was judged from another place" in response.content.decode()
        assert Call.objects.get().failing == ["legs_equal"]

    @pytest.mark.parametrize(
        ("said", "told"),
        [
            ({}, "Say whether it meets the rules, or that you cannot tell."),
            ({"verdict": PASSES, "failing": ["legs_equal"]}, "One broken rule is enough for a no."),
            ({"verdict": FAILS}, "Check every rule that it breaks"),
            # A custom of the trade is no rule that a rig could fail.
            (
                {"verdict": FAILS, "failing": ["dropper_length"]},
                "is not one of the available choices",
            ),
            ({"verdict": UNSURE, "failing": ["legs_equal"]}, "so you can tell"),
            ({"verdict": FAILS, "failing": ["moonshine"]}, "is not one of the available choices"),
        ],
    )
    def test_what_contradicts_itself_is_not_saved(self, as_officer, own, said, told):
        response = as_officer.post(f"{own}rig/1/", {"revision": 0, **said})
        assert told in response.content.decode()
        assert not Call.objects.exists()

    def test_nothing_is_given_away_before_handing_in(self, as_officer, turn, own):
        for place in range(1, turn.round.count + 1):
            found = page(as_officer, f"{own}rig/{place}/")
            for finding in entry(turn, place).shown.verdict.failed:
                assert finding.remedy not in found
                assert finding.margin_text == "" or finding.margin_text not in found
            assert "Fault 1" not in found
        assert as_officer.get(f"{own}result/").url == own

    def test_places_out_of_the_round_are_not_there(self, as_officer, own):
        page(as_officer, f"{own}rig/21/", 404)
        page(as_officer, f"{own}rig/0/", 404)
        assert as_officer.post(f"{own}rig/1/", {"verdict": PASSES}).status_code == 404

    def test_a_closed_round_says_so(self, as_officer, own, round_):
        Round.objects.update(closed=timezone.now())
        assert self.post(as_officer, own).url == own
        assert not Call.objects.exists()
        found = page(as_officer, own)
        assert "has been closed" in found
        assert "was closed before you turned it in" in found
        assert as_officer.get(f"{own}rig/1/").url == own
        assert "Closed before you turned it in" in page(as_officer, HOME)


class TestHandingIn:
    def test_too_early_is_told(self, as_officer, own):
        assert as_officer.post(f"{own}hand-in/").url == own
        assert "20 rigs are not judged yet" in page(as_officer, own)

    def test_twice_is_once(self, as_officer, own, turn):
        judge_all(turn, hand_in=False)
        assert "Turn in the round" in page(as_officer, own)
        for _ in range(2):
            assert as_officer.post(f"{own}hand-in/").url == f"{own}result/"
        assert Turn.objects.filter(handed_in__isnull=False).count() == 1
        assert as_officer.get(own).url == f"{own}result/"

    def test_afterwards_nothing_can_be_changed(self, as_officer, own, handed_in):
        before = list(Call.objects.values())
        as_officer.post(f"{own}rig/1/", {"verdict": UNSURE, "revision": 1})
        assert list(Call.objects.values()) == before


class TestResult:
    def test_tells_what_is_so_of_every_wrong_call(self, as_officer, own, handed_in):
        found = page(as_officer, f"{own}result/")
        for each in turns.entries(handed_in):
            wrong = practice.departures(handed_in).get(each.shown.number, {})
            assert (f"See the whole rig {each.place}<" in found) is bool(wrong)
            for key in wrong:
                finding = each.shown.verdict.finding(key)
                assert finding.title in found
                assert finding.clause in found
                assert escape(finding.sentence) in found

    def test_a_rig_shows_what_fails_on_it(self, as_officer, own, handed_in):
        place = next(e.place for e in turns.entries(handed_in) if e.shown.verdict.failed)
        found = page(as_officer, f"{own}rig/{place}/")
        for finding in entry(handed_in, place).shown.verdict.failed:
            assert finding.remedy in found.replace("&#x27;", "'")
        assert "Fault 1" in found

    def test_names_nobody_else(self, as_officer, own, round_, others, handed_in):
        assert "Too few have turned in" in page(as_officer, f"{own}result/")
        for turn in round_.turns.exclude(pk=handed_in.pk):
            judge_all(turn)
        found = page(as_officer, f"{own}result/")
        assert "3 turned in. Each had 100 percent of verdicts right" in found
        assert not any(person.name in found for person in others)

    def test_of_who_is_right_throughout(self, as_officer, own, turn):
        judge_all(turn)
        found = page(as_officer, f"{own}result/")
        assert "Nothing to practice." in found
        assert "1.00, no range: full agreement" in found
        assert as_officer.get(f"{own}practice/").url == f"{own}result/"

    def test_of_who_could_tell_nothing(self, as_officer, own, turn):
        judge_all(turn, lambda rig: (UNSURE, []))
        found = page(as_officer, f"{own}result/")
        assert "0 of 20" in found
        assert "nothing to compare" in found
        assert "This is what the rules say of it" in page(as_officer, f"{own}rig/1/")


class TestPractice:
    def answer(self, rig):
        failed = sorted(practice.task_of(rig).verdict.failed_keys)
        return {"rig": rig.pk, "verdict": "not legal" if failed else "legal", "failing": failed}

    def test_goes_from_rig_to_rig_until_the_rules_are_held(self, as_officer, own, handed_in):
        for _ in range(2 * Count().whole):
            page(as_officer, f"{own}practice/")
            rig = PracticeRig.objects.get(handed_in=None)
            response = as_officer.post(f"{own}practice/", self.answer(rig))
            assert response.url == f"{HOME}practice/{rig.pk}/"
            assert "You called that right." in page(as_officer, response.url)
        assert "You have every rule on your list right." in page(as_officer, response.url)
        assert as_officer.get(f"{own}practice/").url == f"{own}result/"
        assert "You have every rule on the list right." in page(as_officer, f"{own}result/")
        assert "No rule is left to practice." in page(as_officer, HOME)

    def test_a_double_tap_hands_in_once(self, as_officer, own, handed_in):
        page(as_officer, f"{own}practice/")
        rig = PracticeRig.objects.get()
        for said in (self.answer(rig), {"rig": rig.pk, "verdict": "legal"}):
            response = as_officer.post(f"{own}practice/", said)
            assert response.url == f"{HOME}practice/{rig.pk}/"
        rig.refresh_from_db()
        assert all(rig.calls.values())

    def test_what_is_missing_is_told(self, as_officer, own, handed_in):
        page(as_officer, f"{own}practice/")
        rig = PracticeRig.objects.get()
        response = as_officer.post(f"{own}practice/", {"rig": rig.pk})
        assert "Choose yes or no." in response.content.decode()
        assert PracticeRig.objects.get().handed_in is None
        assert as_officer.post(f"{own}practice/", {}).status_code == 404
        page(as_officer, f"{HOME}practice/{rig.pk}/", 404)

    def test_which_rule_a_rig_is_made_for_is_told_afterwards(self, as_officer, own, handed_in):
        assert "This rig tests" not in page(as_officer, f"{own}practice/")
        rig = PracticeRig.objects.get()
        response = as_officer.post(f"{own}practice/", self.answer(rig))
        assert "This rig tests" in page(as_officer, response.url)

    def test_nobody_practices_before_handing_in(self, as_officer, own):
        page(as_officer, f"{own}practice/", 404)


class TestSettingUp:
    def fields(self, people, **changes):
        return {
            "title": "Spring round",
            "rulebook_name": "grate",
            "count": 24,
            "drawn_percent": 25,
            "due": "2027-03-01",
            "seed": "",
            "officers": [person.pk for person in people],
            "key": str(uuid.uuid4()),
        } | changes

    def test_makes_one_however_often_it_is_sent(self, as_staff, officer, others):
        fields = self.fields([officer, *others])
        for _ in range(2):
            response = as_staff.post(f"{HOME}new/", fields)
            round_ = Round.objects.get()
            assert response.url == f"{HOME}{round_.pk}/"
        assert (round_.rulebook.name, round_.count, round_.drawn_percent) == ("grate", 24, 25)
        assert round_.turns.count() == 4
        assert round_.seed >= 0
        assert "0 of 4 turned in" in page(as_staff, response.url)
        assert "Spring round" in page(as_staff, HOME)

    @pytest.mark.parametrize(
        ("changes", "told"),
        [
            ({"count": 19}, "greater than or equal to 20"),
            ({"count": 41}, "less than or equal to 40"),
            ({"drawn_percent": 101}, "less than or equal to 100"),
            ({"officers": []}, "Choose at least one officer."),
            ({"seed": "-1"}, "greater than or equal to 0"),
            ({"title": ""}, "This field is required."),
        ],
    )
    def test_what_cannot_be_is_told(self, as_staff, officer, changes, told):
        response = as_staff.post(f"{HOME}new/", self.fields([officer], **changes))
        assert response.status_code == 422
        assert told in response.content.decode()
        assert not Round.objects.exists()

    def test_trainees_cannot_be_chosen(self, as_staff, officer, user):
        assert user.role == Role.TRAINEE
        response = as_staff.post(f"{HOME}new/", self.fields([officer, user]))
        assert response.status_code == 422

    def test_title_day_and_officers_can_be_changed_and_rigs_cannot(self, as_staff, round_, turn):
        late = make_officers(1, start=9)[0]
        path = f"{HOME}{round_.pk}/change/"
        fields = {"title": "Renamed", "due": "", "officers": [late.pk], "seed": 1, "count": 40}
        for _ in range(2):
            before = (round_.seed, round_.count, round_.rulebook_version)
            as_staff.post(path, fields)
        round_.refresh_from_db()
        assert round_.title == "Renamed"
        assert (round_.seed, round_.count, round_.rulebook_version) == before
        assert round_.turns.count() == 5
        # With every officer in it there is nobody left to add.
        assert "Add officers" not in page(as_staff, path)

    def test_close_and_open_again(self, as_staff, round_):
        path = f"{HOME}{round_.pk}/close/"
        as_staff.post(path, {"closed": "yes"})
        first = Round.objects.get().closed
        as_staff.post(path, {"closed": "yes"})
        assert first is not None
        assert Round.objects.get().closed == first
        assert "Open the round again" in page(as_staff, f"{HOME}{round_.pk}/")
        as_staff.post(path, {"closed": "no"})
        assert Round.objects.get().closed is None


class TestReport:
    def test_before_anybody_handed_in(self, as_staff, round_):
        assert "Nobody has turned in yet." in page(as_staff, f"{HOME}{round_.pk}/report/")

    def test_of_one_officer(self, as_staff, round_, handed_in):
        found = page(as_staff, f"{HOME}{round_.pk}/report/")
        assert "there is only one officer" in found
        assert "there are no two to compare" in found
        assert "One officer cannot tell how others would do." in found

    def test_of_all_who_are_right_does_not_say_that_they_always_are(self, as_staff, round_):
        for turn in round_.turns.all():
            judge_all(turn)
        found = page(as_staff, f"{HOME}{round_.pk}/report/")
        assert found.count("1.00, no range: full agreement") > 2
        assert "80 of 80: 100%, no range: all were right" in found
        # Wilson's upper end of none in 20 is 16.1 percent.
        assert "on up to 16 percent of other rigs like these, one of them may be wrong" in found
        assert "for other officers like these, on other rigs like these" in found

    def test_of_those_who_said_the_same_throughout(self, as_staff, round_):
        for turn in round_.turns.all():
            judge_all(turn, lambda rig: (PASSES, []))
        found = page(as_staff, f"{HOME}{round_.pk}/report/")
        assert "the officers gave the same verdict on every rig" in found

    def test_names_officers_to_staff(self, as_staff, round_, handed_in, others):
        judge_all(round_.turns.get(officer=others[0]))
        found = page(as_staff, f"{HOME}{round_.pk}/report/")
        assert "Piper Lund" in found
        assert others[0].name in found
        assert others[1].name not in found
        assert "2 officers are too few to tell how others would do." in found

    def test_asks_the_database_no_more_for_more_rigs_and_officers(self, as_staff):
        counts = []
        for start, officers, rigs in ((1, 2, 20), (11, 30, 40)):
            round_ = make_round(make_officers(officers, start), count=rigs)
            judge_at_once(round_, careless)
            with CaptureQueriesContext(connection) as queries:
                page(as_staff, f"{HOME}{round_.pk}/report/")
            counts.append(len(queries))
        assert counts[0] == counts[1] <= 10


class TestDownloads:
    def rows(self, client, path):
        text = client.get(path).getvalue().decode("utf-8-sig")
        return list(csv.DictReader(io.StringIO(text)))

    def test_every_judgement(self, as_staff, round_, handed_in):
        rows = self.rows(as_staff, f"{HOME}{round_.pk}/judgements.csv")
        assert len(rows) == round_.count
        departures = practice.departures(handed_in)
        for number, row in enumerate(rows, 1):
            assert row["officer"] == "Piper Lund"
            assert int(row["rig"]) == number
            wrong = row["false alarms"] + row["missed faults"]
            assert bool(wrong) is (number in departures)

    def test_the_figures(self, as_staff, round_, handed_in, others):
        judge_all(round_.turns.get(officer=others[0]))
        rows = self.rows(as_staff, f"{HOME}{round_.pk}/figures.csv")
        of = [row["of"] for row in rows]
        assert of.count("an officer's verdicts") == 2
        assert of.count("two officers' verdicts") == 1
        assert {row["ranges are for"] for row in rows} == {"the same officers on other rigs"}
        right = next(row for row in rows if row["name"] == others[0].name)
        assert (right["share right"], right["kappa"], right["kappa from"]) == ("1.0", "1.0", "")

    def test_names_are_never_run_as_formulas(self, as_staff, round_, handed_in, officer):
        officer.name = "=1+1"
        officer.save()
        rows = self.rows(as_staff, f"{HOME}{round_.pk}/judgements.csv")
        assert rows[0]["officer"] == "'=1+1"
