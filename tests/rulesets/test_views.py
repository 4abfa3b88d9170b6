"""The pages for rule sets: who may see them, what they keep, what they refuse."""

import re
import uuid
from dataclasses import replace
from datetime import date, timedelta

import pytest
from django.test import Client
from django.urls import reverse
from django.utils.html import escape

from rigs.rules import rulebook
from rigs.rules.cases import turned
from rigs.rules.text import write
from rigs.words.units import FOOT, POUND
from tests.rulesets.conftest import altered, count, make_draft
from tests.work.conftest import work_off
from training.home.waiting import for_staff
from training.rulesets import counting, drafting, impact, report
from training.rulesets.forms import RuleForm, WholeForm
from training.rulesets.models import SentBack, Version
from training.work import asking
from training.work.models import Job

pytestmark = pytest.mark.django_db

TIGHT = {"dropper_spacing": 7 * FOOT}


@pytest.fixture
def draft(staff):
    return make_draft(staff, limits=TIGHT)


@pytest.fixture
def as_second(second):
    client = Client()
    client.force_login(second)
    return client


def posted(book, reason="The rule was changed.", **changes):
    """Return what a browser posts for ``book``, changed as told."""
    entries = {"keys": [rule.key for rule in book.requirements]}
    entries |= {
        name: value
        for name, value in WholeForm.typed(book, reason).items()
        if name in WholeForm.base_fields
    }
    for rule in book.requirements:
        entries |= {f"{rule.key}-{name}": value for name, value in RuleForm.typed(rule).items()}
    return entries | changes


def ended(last):
    """Return the text of a version of the rules without a sweep that has a ``last`` day."""
    book = rulebook.load("no-sweep")
    first = book.effective_from + timedelta(days=1)
    return write(replace(book, version="1b", effective_from=first, effective_to=last))


def act(client, version, what, **entries):
    return client.post(reverse("rulesets:act", args=[version.pk, what]), entries)


def act_and_see(client, version, what):
    act(client, version, what)
    return client.get(version.get_absolute_url()).content.decode()


class TestWhoMay:
    def pages(self, draft):
        yield "get", reverse("rulesets:shelf")
        yield "get", draft.get_absolute_url()
        yield "get", reverse("rulesets:edit", args=[draft.pk])
        yield "post", reverse("rulesets:edit", args=[draft.pk])
        yield "post", reverse("rulesets:start", args=["grate"])
        yield "post", reverse("rulesets:count", args=[draft.pk])
        for what in (
            "submit",
            "send-back",
            "approve",
            "withdraw",
            "agree-to-withdraw",
            "throw-away",
        ):
            yield "post", reverse("rulesets:act", args=[draft.pk, what])

    def test_only_staff(self, draft, client, as_user, as_officer):
        for how, url in self.pages(draft):
            assert getattr(as_user, how)(url).status_code == 403
            assert getattr(as_officer, how)(url).status_code == 403
            response = getattr(client, how)(url)
            assert response.status_code == 302
            assert reverse("people:sign_in") in response.url
        assert Version.objects.get() == draft

    def test_staff_are_led_there(self, as_staff, as_user):
        assert reverse("rulesets:shelf") in as_staff.get("/").content.decode()
        assert reverse("rulesets:shelf") not in as_user.get("/").content.decode()

    def test_what_is_done_is_posted(self, as_staff, draft):
        for how, url in self.pages(draft):
            if how == "post" and "edit" not in url:
                assert as_staff.get(url).status_code == 405

    def test_nothing_else_can_be_done(self, as_staff, draft):
        assert act(as_staff, draft, "burn").status_code == 404


class TestShelf:
    def test_every_rule_set_is_there_with_its_versions(self, as_staff, draft):
        page = as_staff.get(reverse("rulesets:shelf")).content.decode()
        for name in rulebook.names():
            assert rulebook.load(name).title in page
        assert page.count('data-label="Status">in force</td>') == len(rulebook.names())
        assert draft.get_absolute_url() in page
        assert "waits" not in page

    def test_a_double_tap_begins_one_draft(self, as_staff):
        key = str(uuid.uuid4())
        for _ in range(2):
            response = as_staff.post(reverse("rulesets:start", args=["grate"]), {"key": key})
        assert response.url == reverse("rulesets:edit", args=[Version.objects.get().pk])

    @pytest.mark.parametrize(("name", "key"), [("nothing", None), ("grate", "no key")])
    def test_what_cannot_be_begun(self, as_staff, name, key):
        entries = {"key": key or str(uuid.uuid4())}
        response = as_staff.post(reverse("rulesets:start", args=[name]), entries)
        assert response.status_code == 404


class TestTurnedCases:
    def test_each_says_what_came_of_it_and_what_would(self, as_staff, staff):
        draft = make_draft(staff, limits={"dropper_spacing": 9 * FOOT})
        page = as_staff.get(draft.get_absolute_url()).content.decode()
        told = page.partition('id="cases"')[2].partition('id="impact"')[0]
        book = draft.book
        turned = report.turned_cases(report.differences(draft))
        assert f"<strong>{turned.count} of {turned.of}</strong> cases would" in told
        assert "One step of 8 ft 1 in" in told
        assert "one has to hang every 8 ft: 1 in too wide." in told
        assert "<strong>broken</strong>" in told
        assert "<strong>met</strong>" in told
        assert "Floats of 7 in" not in told
        assert book.requirement("float_spacing").allowed_text not in told

    def test_those_that_turn_alike_are_told_once(self, as_staff, staff):
        draft = make_draft(staff, limits=TIGHT)
        page = as_staff.get(draft.get_absolute_url()).content.decode()
        told = page.partition('id="cases"')[2].partition('id="impact"')[0]
        groups = report.turned_cases(report.differences(draft)).alike
        assert max(len(each.cases) for each in groups) > 9
        assert told.count("<h3") == len(groups) < 20
        # Every case is named all the same.
        for group in groups:
            for each in group.cases:
                assert escape(each.case.title) in told

    def test_where_none_turns_or_none_is_written(self, as_staff, staff, monkeypatch):
        draft = make_draft(staff, title="Another title")
        page = as_staff.get(draft.get_absolute_url()).content.decode()
        assert re.search(r"None of the \d+ cases would come out otherwise", page)
        monkeypatch.setattr(turned, "everything", lambda: ())
        page = as_staff.get(draft.get_absolute_url()).content.decode()
        assert "No case is written for these rules yet." in page


class TestEditor:
    @pytest.mark.parametrize("name", rulebook.names())
    def test_saved_as_it_stands_nothing_differs(self, as_staff, staff, name):
        draft = make_draft(staff, name)
        url = reverse("rulesets:edit", args=[draft.pk])
        assert as_staff.get(url).status_code == 200
        assert as_staff.post(url, posted(draft.book)).status_code == 302
        draft.refresh_from_db()
        assert draft.book == altered(
            rulebook.load(name), version="2", effective_from=draft.effective_from
        )

    def test_a_limit_is_changed_as_typed(self, as_staff, draft):
        url = reverse("rulesets:edit", args=[draft.pk])
        entries = posted(draft.book, **{"dropper_spacing-limit": "6 ft 6 in"})
        assert as_staff.post(url, entries).url == draft.get_absolute_url()
        draft.refresh_from_db()
        assert draft.book.requirement("dropper_spacing").limit == pytest.approx(6.5 * FOOT)
        page = as_staff.get(draft.get_absolute_url()).content.decode()
        assert "one every 8 ft" in page
        assert "one every 78 in" in page

    def test_hake_by_mesh_and_what_is_said_with_it_are_changed_as_typed(self, as_staff, staff):
        draft = make_draft(staff, "whiting")
        typed = "under 2 1/2 in: 2,000 lb; 907 kg\nother: 2,000 lb; 907 kg; in the north"
        entries = posted(
            draft.book,
            **{"hake_by_mesh-limit": typed, "hake_by_mesh-caution": "A notice is in force."},
        )
        assert as_staff.post(reverse("rulesets:edit", args=[draft.pk]), entries).status_code == 302
        draft.refresh_from_db()
        rule = draft.book.requirement("hake_by_mesh")
        assert [row.metric for row in rule.limit] == [907, 907]
        assert [row.most for row in rule.limit] == [pytest.approx(2000 * POUND)] * 2
        assert [row.where for row in rule.limit] == ["", "in the north"]
        assert rule.caution == "A notice is in force."
        assert draft.book.follows == rulebook.load("whiting").follows
        page = as_staff.get(draft.get_absolute_url()).content.decode()
        assert "2,000 lb with mesh under 2 1/2 in" in page

    @pytest.mark.parametrize(
        ("name", "field", "typed", "told"),
        [
            ("no-sweep", "dropper_spacing-limit", "seven feet", "wrong unit"),
            ("no-sweep", "dropper_spacing-limit", "0 ft", "more than nothing"),
            ("no-sweep", "dropper_spacing-limit", "", "required"),
            ("no-sweep", "dropper_spacing-clause", "", "name the clause"),
            ("no-sweep", "dropper_spacing-remedy", "Hang {this}.", "braces"),
            ("no-sweep", "dropper_spacing-known", "hearsay", "valid choice"),
            ("no-sweep", "dropper_spacing-from", "soon", "not a date"),
            ("no-sweep", "no_sweep-to", "2027-13-01", "not a date"),
            ("no-sweep", "no_sweep-clause", "x" * 201, "at most 200"),
            ("whiting", "mesh_count_long-vessel", "some", "either"),
            ("whiting", "mesh_count_long-vessel", "over six", "wrong unit"),
            ("whiting", "season-limit", "in autumn", "missing"),
            ("whiting", "season-limit", "", "required"),
            ("no-sweep", "dropper_stock-limit", "0 in", "sets no limit"),
            ("whiting", "area-limit", "a\nA, 42, 70\nB, 43, 69\nC, 43, 70\nD, 42, 69", "cross"),
            ("whiting", "area-limit", "a\nA, 42, 70\nB, 43, 69\nA, 43, 70", "here twice"),
            ("whiting", "area-limit", "a\nA, 42, 270\nB, 43, 69\nC, 43, 70", "180 degrees west"),
            ("whiting", "area-limit", "a place\nRF1, 42 14\nRF2, 42, 70\nRF3, 42, 71", "corner"),
            ("whiting", "area-limit", "a place\nRF1, 42, 70", "three corners"),
            ("whiting", "hake_by_mesh-limit", "under 3 in: 100 lb", "no mesh is left out"),
            ("whiting", "hake_by_mesh-limit", "under 3 in: 100\nother: 9 lb", "wrong unit"),
            ("whiting", "hake_by_mesh-limit", "other: 9 lb\nother: 9 lb", "only the last row"),
            (
                *("whiting", "hake_by_mesh-limit"),
                *("under 3 in: 9 lb\nunder 2 in: 9 lb\nother: 9 lb", "begins where"),
            ),
            ("whiting", "hake_by_mesh-limit", "under 3 in: 0 lb\nother: 9 lb", "more than nothing"),
            ("whiting", "letter_day-limit", "soon", "wrong unit"),
        ],
    )
    def test_what_is_refused_is_told_beside_its_field(
        self, as_staff, staff, name, field, typed, told
    ):
        draft = make_draft(staff, name)
        before = draft.text
        url = reverse("rulesets:edit", args=[draft.pk])
        response = as_staff.post(url, posted(draft.book, **{field: typed}))
        assert response.status_code == 422
        key, _, part = field.partition("-")
        rule = next(each for each in response.context["editor"].rules if each.key == key)
        assert told in " ".join(rule.errors[part]).lower()
        assert rule[part].value() == typed
        draft.refresh_from_db()
        assert draft.text == before

    @pytest.mark.parametrize(
        ("field", "typed", "told"),
        [
            ("citation", "", "required"),
            ("effective_from", "next year", "not a date"),
            ("effective_from", "13/31/2030", "not a date"),
            ("effective_to", "1/1/2020", "comes before the first"),
            ("allowance_length", "a bit", "Wrong unit"),
        ],
    )
    def test_of_the_head_too(self, as_staff, draft, field, typed, told):
        url = reverse("rulesets:edit", args=[draft.pk])
        response = as_staff.post(url, posted(draft.book, **{field: typed}))
        assert response.status_code == 422
        assert told in " ".join(response.context["editor"].head.errors[field])

    @pytest.mark.parametrize("typed", ["1/31/2031", "January 31, 2031", "2031-01-31"])
    def test_days_are_typed_as_people_write_them(self, as_staff, draft, typed):
        url = reverse("rulesets:edit", args=[draft.pk])
        entries = posted(draft.book, effective_from=typed, effective_to="2/28/2031")
        assert as_staff.post(url, entries).url == draft.get_absolute_url()
        draft.refresh_from_db()
        assert draft.effective_from == date(2031, 1, 31)
        assert draft.book.effective_to == date(2031, 2, 28)
        page = as_staff.get(url).content.decode()
        assert 'value="1/31/2031"' in page
        assert 'value="2/28/2031"' in page

    @pytest.mark.parametrize(
        "typed", ["November 15 to February 28", "Nov 15 to Feb. 28", "11/15 to 2/28"]
    )
    def test_a_season_is_typed_in_words_and_may_run_over_new_year(self, as_staff, staff, typed):
        draft = make_draft(staff, "whiting")
        url = reverse("rulesets:edit", args=[draft.pk])
        assert as_staff.post(url, posted(draft.book, **{"season-limit": typed})).status_code == 302
        draft.refresh_from_db()
        (season,) = draft.book.requirement("season").limit
        assert (season.first, season.last) == ((11, 15), (2, 28))
        assert "November 15 to February 28" in as_staff.get(url).content.decode()

    def test_a_gap_after_the_version_before_is_told_beside_the_first_day(self, as_staff, staff):
        draft = make_draft(staff, limits=TIGHT)
        with rulebook.trying("no-sweep-2.yaml", ended(draft.effective_from - timedelta(days=9))):
            url = reverse("rulesets:edit", args=[draft.pk])
            response = as_staff.post(url, posted(draft.book))
            told = " ".join(response.context["editor"].head.errors["effective_from"])
        assert "leaves a gap after version 1b in no-sweep-2.yaml" in told

    def test_all_that_is_wrong_is_told_at_once(self, as_staff, draft):
        wrong = {"dropper_spacing-limit": "7", "float_spacing-limit": "4 lb", "citation": ""}
        url = reverse("rulesets:edit", args=[draft.pk])
        editor = as_staff.post(url, posted(draft.book, **wrong)).context["editor"]
        assert "citation" in editor.head.errors
        told = {rule.key for rule in editor.rules if rule.errors}
        assert told == {"dropper_spacing", "float_spacing"}

    def test_a_rule_is_taken_out(self, as_staff, draft):
        url = reverse("rulesets:edit", args=[draft.pk])
        # What else is typed into a card that goes does not matter.
        entries = {"legs_equal-remove": "on", "legs_equal-limit": "?"}
        assert as_staff.post(url, posted(draft.book, **entries)).status_code == 302
        draft.refresh_from_db()
        assert not draft.book.has("legs_equal")

    def test_a_rule_set_cannot_be_left_empty(self, as_staff, draft):
        entries = {f"{rule.key}-remove": "on" for rule in draft.book.requirements}
        url = reverse("rulesets:edit", args=[draft.pk])
        response = as_staff.post(url, posted(draft.book, **entries))
        assert "Keep at least one rule." in response.content.decode()

    def test_a_rule_is_added(self, as_staff, draft):
        url = reverse("rulesets:edit", args=[draft.pk])
        entries = posted(draft.book, add="1", measure="mesh_size", citation="typed, not saved")
        response = as_staff.post(url, entries)
        page = response.content.decode()
        assert response.status_code == 200
        assert "typed, not saved" in page
        new = response.context["editor"].rules[-1]
        assert new.key == "mesh_size"
        # The words come from another rule set; where it stands has to be looked up.
        assert new["title"].value() == rulebook.load("whiting").requirement("mesh_size").title
        assert not new["limit"].value()
        assert not new["clause"].value()
        book = draft.book
        rule = rulebook.load("whiting").requirement("mesh_size")
        entries = posted(altered(book)) | {
            "keys": [*(each.key for each in book.requirements), "mesh_size"],
            **{f"mesh_size-{name}": value for name, value in RuleForm.typed(rule).items()},
        }
        assert as_staff.post(url, entries).status_code == 302
        draft.refresh_from_db()
        assert draft.book.requirement("mesh_size") == rule

    def test_only_its_drafter_gets_there_and_only_while_it_is_a_draft(
        self, as_second, as_staff, draft, staff
    ):
        url = reverse("rulesets:edit", args=[draft.pk])
        assert as_second.post(url, posted(draft.book, citation="Mine")).url
        drafting.submit(draft, staff)
        assert as_staff.post(url, posted(draft.book, citation="Mine")).status_code == 302
        draft.refresh_from_db()
        assert draft.book.citation != "Mine"


class TestApproving:
    @pytest.fixture
    def waiting(self, draft, staff):
        count(draft)
        return drafting.submit(draft, staff)

    def test_the_drafter_cannot(self, as_staff, waiting):
        assert "approve/" not in as_staff.get(waiting.get_absolute_url()).content.decode()
        page = act(as_staff, waiting, "approve").url
        assert "a second person has to approve it" in as_staff.get(page).content.decode()
        waiting.refresh_from_db()
        assert not waiting.is_approved

    def test_a_second_person_does(self, as_second, waiting, second):
        assert "approve/" in as_second.get(waiting.get_absolute_url()).content.decode()
        act(as_second, waiting, "approve")
        waiting.refresh_from_db()
        assert waiting.approved_by == second
        page = as_second.get(reverse("rulesets:shelf")).content.decode()
        assert f"approved by {second}" in page

    def test_or_sends_it_back(self, as_second, as_staff, waiting):
        act(as_second, waiting, "send-back", reason="")
        assert not SentBack.objects.exists()
        act(as_second, waiting, "send-back", reason="Wrong clause.")
        waiting.refresh_from_db()
        assert waiting.is_draft
        assert "Wrong clause." in as_staff.get(waiting.get_absolute_url()).content.decode()

    def test_it_is_withdrawn_by_two_with_a_reason(
        self, as_second, as_staff, waiting, staff, second
    ):
        act(as_second, waiting, "approve")
        act(as_staff, waiting, "withdraw", reason="Not adopted.")
        page = as_staff.get(waiting.get_absolute_url()).content.decode()
        assert "Nobody is graded by it" not in page
        assert "You asked for this yourself" in page
        assert "These people can agree: Perrin Holt." in page
        assert "manage.py withdraw_version no-sweep 2" in page
        assert "Agree to withdraw it" not in page
        (line,) = (each for each in for_staff(second) if "to withdraw" in each.words)
        assert not any("to withdraw" in each.words for each in for_staff(staff))
        page = as_second.get(line.url).content.decode()
        assert "Not adopted." in page
        assert "Agree to withdraw it" in page
        act(as_second, waiting, "agree-to-withdraw")
        page = as_staff.get(waiting.get_absolute_url()).content.decode()
        assert "Nobody is graded by it. Perrin Holt agreed." in " ".join(page.split())
        assert "Not adopted." in page

    def test_it_is_left_approved(self, as_second, as_staff, waiting):
        act(as_second, waiting, "approve")
        assert "any more" in act_and_see(as_staff, waiting, "leave-approved")
        act(as_staff, waiting, "withdraw", reason="Not adopted.")
        page = act_and_see(as_second, waiting, "leave-approved")
        assert "by Perrin Holt." in page
        assert "Ask to withdraw this version" in page

    def test_who_cannot_approve_sees_who_can(self, as_staff, as_second, waiting, second):
        page = as_staff.get(waiting.get_absolute_url()).content.decode()
        assert "These people can agree: Perrin Holt." in page
        page = as_second.get(waiting.get_absolute_url()).content.decode()
        assert "These people can agree" not in page

    def test_the_draft_is_submitted_or_thrown_away(self, as_staff, draft):
        act(as_staff, draft, "submit")
        draft.refresh_from_db()
        assert draft.waits
        assert act(as_staff, draft, "throw-away").url == draft.get_absolute_url()
        other = drafting.start("grate", uuid.uuid4(), draft.drafted_by)
        assert act(as_staff, other, "throw-away").url == reverse("rulesets:shelf")
        assert Version.objects.get() == draft


class TestCounting:
    def test_a_worker_counts_it_and_goes_on_after_a_stop(self, as_staff, draft, monkeypatch):
        monkeypatch.setattr(counting.ImpactWork, "at_once", 0)
        monkeypatch.setattr(counting, "A_STEP", 0)
        url = reverse("rulesets:count", args=[draft.pk])
        answer = as_staff.post(url)
        as_staff.post(url)
        job = Job.objects.get()
        assert answer.url == job.get_absolute_url()
        carry_on, calls = impact.carry_on, []

        def stopped(*args):
            calls.append(args)
            if len(calls) == 2:
                asking.stop(job.pk)
            return carry_on(*args)

        monkeypatch.setattr(impact, "carry_on", stopped)
        work_off()
        assert draft.impacts.get().done == 2
        page = as_staff.get(draft.get_absolute_url()).content.decode()
        assert "looked at so far" in page
        asking.go_on(job.pk)
        work_off()
        assert draft.impacts.get().finished
        page = as_staff.get(draft.get_absolute_url()).content.decode()
        assert "Counted on" in page
        as_staff.post(url, {"anew": "1"})
        assert draft.impacts.count() == 2

    def test_a_text_changed_since_has_to_be_counted_again(self, as_staff, staff, draft):
        count(draft)
        book = altered(draft.book, limits={"dropper_spacing": 6 * FOOT})
        drafting.change(draft, book, "Tighter.", staff)
        page = as_staff.get(draft.get_absolute_url()).content.decode()
        assert "Count it again" in page

    def test_a_first_day_before_all_rules_is_told(self, as_staff, staff, draft):
        long_ago = rulebook.load("no-sweep").effective_from - timedelta(days=9)
        drafting.change(draft, altered(draft.book, effective_from=long_ago), "Old.", staff)
        page = as_staff.get(draft.get_absolute_url()).content.decode()
        assert "have no version for" in page
        as_staff.post(reverse("rulesets:count", args=[draft.pk]))
        assert not draft.impacts.exists()
