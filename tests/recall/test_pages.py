"""The pages of short practice: one reading a page, nothing lost, nothing answered twice."""

import uuid
from datetime import timedelta

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from django.utils.html import escape

from tests.recall.conftest import RULES, answer_all, said
from training.people.models import Reach
from training.recall import course, mails, memory, sets, showing
from training.recall.models import PracticeMail, ReadingSet, RuleMemory

pytestmark = pytest.mark.django_db

START, REVIEW, MINE = (reverse(f"recall:{name}") for name in ("start", "review", "rules"))


def text_of(response):
    return " ".join(response.content.decode().split())


def page_of(found):
    return reverse("recall:set", args=[found.pk])


def post(client, reading, right=True, **changed):
    url = reverse("recall:answer", args=[reading.set_id, reading.number])
    posted = {**said(reading, right), "drawn": reading.drawn, **changed}
    return client.post(url, posted, follow=True)


@pytest.fixture
def missed(user):
    """The person missed RULES days ago, so that they come back."""
    for rule in RULES:
        memory.note(user, *rule, False, timezone.now() - timedelta(days=3))
    return user


def test_a_set_from_the_first_reading_to_the_summary(as_user, open_set):
    found = open_set()
    for number, reading in enumerate(found.readings.all(), 1):
        page = text_of(as_user.get(page_of(found)))
        assert f"Reading {number} of 3" in page
        task = sets.task_of(reading)
        assert all(escape(line) in page for line in task.lines)
        # A yes-or-no rule is met by the very words of what it asks.
        assert task.requirement.limit is True or task.requirement.allowed_text not in page
        page = text_of(post(as_user, reading, right=number > 1))
        reading.refresh_from_db()
        assert reading.findings[0]["sentence"]
        assert ("Not right" in page) == (number == 1)
        assert ("Next reading" in page) == (number < 3)
    response = as_user.get(page_of(found))
    page = text_of(response)
    assert "2 of 3 right" in page
    assert [each.missed for each in response.context["summaries"]] == [1, 0, 0]
    assert page.count("Comes back on") == 3
    assert page.count("Shaky.") == 3


def test_the_answer_says_the_whole_sentence_of_the_finding(as_user, open_set):
    reading = open_set(rules=RULES[:1]).readings.get()
    response = post(as_user, reading, right=False)
    reading.refresh_from_db()
    assert response.context["line"]["sentence"] == reading.findings[0]["sentence"]
    assert "Why it matters on the net" in text_of(response)


def test_a_double_tap_and_the_back_button_answer_once(as_user, open_set):
    first, second, _ = open_set().readings.all()
    post(as_user, first)
    page = text_of(post(as_user, first))
    assert "You answered this one before" not in page
    page = text_of(post(as_user, first, right=False))
    assert "Your first answer counts" in page
    first.refresh_from_db()
    assert first.passed
    assert RuleMemory.objects.get(key=first.focus).asked == 1
    second.refresh_from_db()
    assert second.answered is None


def test_an_answer_without_a_choice_says_what_to_do(as_user, open_set):
    reading = open_set().readings.first()
    assert "Choose an answer" in text_of(post(as_user, reading, said=""))
    reading.refresh_from_db()
    assert reading.answered is None


def test_an_answer_to_a_reading_that_was_drawn_again_is_not_taken(as_user, open_set):
    reading = open_set().readings.first()
    page = text_of(post(as_user, reading, drawn="of another drawing"))
    assert "The rules changed after this page was opened" in page
    reading.refresh_from_db()
    assert reading.answered is None


def test_a_reading_not_answered_yet_shows_no_answer(as_user, open_set):
    found = open_set()
    response = as_user.get(reverse("recall:answer", args=[found.pk, 1]))
    assert response.url == page_of(found)


def test_sets_are_seen_by_their_owner_alone(as_officer, as_staff, client, open_set):
    found = open_set()
    addresses = [page_of(found), reverse("recall:answer", args=[found.pk, 1])]
    for address in addresses:
        assert as_officer.get(address).status_code == 404
        assert as_staff.get(address).status_code == 404
        assert as_officer.post(address, {"said": "met"}).status_code in (404, 405)
        assert client.get(address).url.startswith(reverse("people:sign_in"))


def test_what_comes_back_is_offered_and_opened_once(as_user, missed):
    page = text_of(as_user.get(reverse("home")))
    assert "What comes back today" in page
    assert "3 readings, about 2 minutes" in page
    assert "Your next step" in page
    key = str(uuid.uuid4())
    first = as_user.post(REVIEW, {"key": key})
    second = as_user.post(REVIEW, {"key": key})
    assert first.url == second.url
    found = ReadingSet.objects.get()
    assert found.purpose == ReadingSet.Purpose.REVIEW
    assert "Go on with the readings" in text_of(as_user.get(REVIEW))
    answer_all(found)
    page = text_of(as_user.get(reverse("home")))
    assert "Nothing comes back today" in page
    assert as_user.post(REVIEW, {"key": str(uuid.uuid4())}).url == REVIEW


def test_a_set_of_what_comes_back_is_short(as_user, user, monkeypatch, missed):
    monkeypatch.setattr(sets, "MOST", 2)
    assert "1 more after that" in text_of(as_user.get(REVIEW))
    as_user.post(REVIEW, {"key": str(uuid.uuid4())})
    assert ReadingSet.objects.get().readings.count() == 2


def test_a_form_without_a_key_opens_nothing(as_user, missed):
    assert as_user.post(REVIEW).status_code == 404
    assert as_user.post(REVIEW, {"key": "no key"}).status_code == 404
    assert not ReadingSet.objects.exists()


def test_a_new_person_is_offered_to_see_what_is_known(as_user, user, monkeypatch):
    monkeypatch.setattr(course, "rules_of", lambda *args: RULES)
    page = text_of(as_user.get(reverse("home")))
    assert "See what you know already" in page
    as_user.post(START, {"key": str(uuid.uuid4())})
    found = ReadingSet.objects.get()
    assert found.readings.count() == len(RULES)
    assert {each.difficulty for each in found.readings.all()} == {2}
    answer_all(found)
    page = text_of(as_user.get(MINE))
    assert page.count("Right once. It can be luck.") == len(RULES)
    assert "0 known" in page
    assert f"{len(RULES)} shaky" in page


def test_who_was_asked_some_rules_sees_the_others(user, monkeypatch):
    monkeypatch.setattr(course, "rules_of", lambda *args: RULES)
    memory.note(user, *RULES[0], True)
    assert course.to_see(user) == RULES[1:]
    for rule in RULES[1:]:
        memory.note(user, *rule, True)
    assert course.to_see(user) == RULES


def test_what_comes_back_goes_before_a_first_look_that_was_begun(as_user, user, monkeypatch):
    monkeypatch.setattr(course, "rules_of", lambda *args: RULES)
    found = sets.open_set(user, ReadingSet.Purpose.START, RULES)
    sets.answer(found.readings.first(), said(found.readings.first()))
    assert showing.offer(user).going_on == found
    assert showing.offer(user).readings == 2
    assert "Nothing comes back today" in text_of(as_user.get(REVIEW))
    memory.note(user, "grate", "grate_bar_gap", False, timezone.now() - timedelta(days=3))
    assert showing.offer(user).going_on is None
    assert showing.offer(user).readings == 1
    assert "1 reading, about 1 minute." in text_of(as_user.get(REVIEW))


def test_one_rule_can_be_practiced_alone(as_user, missed):
    url = reverse("recall:one_rule", args=RULES[0])
    assert url in text_of(as_user.get(MINE))
    as_user.post(url, {"key": str(uuid.uuid4())})
    found = ReadingSet.objects.get()
    asked = found.readings.values_list("focus", flat=True)
    assert set(asked) == {RULES[0][1]}
    assert len(asked) > 1
    answer_all(found)
    assert as_user.get(page_of(found)).context["onward"].url == MINE
    for wrong in (("no-sweep", "no_such_rule"), ("no-such-rules", "no_sweep")):
        assert as_user.post(reverse("recall:one_rule", args=wrong)).status_code == 404


def test_the_requirements_is_there_for_everybody(client):
    page = text_of(client.get(reverse("recall:how")))
    for days in (2, 7, 21, 60):
        assert f"in {days} days" in page
    assert "Latimier" in page
    assert "Cepeda" in page


def test_mails_are_asked_for_and_stopped_on_the_account_page(as_user, user):
    account = reverse("people:account")
    assert "Email me when rules come back" in text_of(as_user.get(account))
    page = text_of(as_user.post(reverse("recall:mail"), {"wanted": "yes"}, follow=True))
    assert mails.SAVED[True] in page
    assert "Stop these emails" in page
    as_user.post(reverse("recall:mail"), {"wanted": "no"})
    assert not PracticeMail.objects.get(user=user).wanted


def test_a_rule_that_two_rule_sets_share_is_shown_once(user):
    for name in ("no-sweep", "grate"):
        memory.note(user, name, "float_spacing", False)
    rows = [row for group in showing.rule_groups(user) for row in group.rows]
    assert [row.requirement.key for row in rows].count("float_spacing") == 1


def test_staff_see_the_rules_of_people_in_their_reach_alone(as_staff, as_user, staff, user, missed):
    url = reverse("desk:trainee_rules", args=[user.pk])
    assert url in text_of(as_staff.get(reverse("desk:trainee", args=[user.pk])))
    page = text_of(as_staff.get(url))
    assert "Missed last time." in page
    assert "Practice it" not in page
    assert as_user.get(url).status_code == 403
    Reach.objects.create(user=staff, harbor="Eastlight")
    assert Client().get(url).status_code == 302
    assert as_staff.get(url).status_code == 404


def test_a_reading_on_the_page_does_not_tell_its_seed(as_user, user):
    """Who has the seed and the rule module has the answer."""
    found = sets.open_set(user, ReadingSet.Purpose.START, [RULES[0]])
    reading = found.readings.get()
    page = as_user.get(f"/practice/{found.pk}/").content.decode()
    assert str(reading.seed) not in page
    assert "Met" in page
