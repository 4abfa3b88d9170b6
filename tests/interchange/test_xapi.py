"""Learning events as statements, and their way to a record store over real HTTP."""

import json
from datetime import timedelta

import pytest
from django.core.management import CommandError, call_command
from django.urls import reverse
from django.utils import timezone

from tests.certification.certificate_factory import make_exam, make_requirements
from tests.interchange.record_store import PASSWORD, USER, RecordStore, check
from training.certification import certificates
from training.certification.models import Certificate
from training.exercises import handing, kinds
from training.interchange.models import Delivery, Refused
from training.interchange.pushing import BATCH, SETTLED, TRIES, push, waits
from training.interchange.statements import EVENTS, every
from training.interchange.store import NotNow, Shut, Store
from training.lessons.models import LessonRead
from training.people.models import Reach
from training.recall import sets
from training.recall.models import ReadingSet

pytestmark = pytest.mark.django_db

SITE = "https://training.example"


@pytest.fixture
def events(user):
    """One of each sort of event but a certificate taken back, all of them settled."""
    LessonRead.objects.note(user, "why-fish-part")
    kind = kinds.get("pick-chain")
    assignment = handing.open_assignment(user, kind)
    handing.hand_in(assignment, kind.any_answer(handing.task_of(assignment)))
    found = sets.open_set(user, ReadingSet.Purpose.REVIEW, [("no-sweep", "float_spacing")])
    sets.answer(found.readings.get(), {"said": "met"})
    certificates.issue(make_exam(user, make_requirements()))
    return user


@pytest.fixture
def server():
    store = RecordStore()
    yield store
    store.close()


@pytest.fixture
def store(server):
    return Store(server.endpoint, USER, PASSWORD)


def later():
    return timezone.now() + 2 * SETTLED


def send(store, **options):
    """Push everything; return (how many went, the seconds waited)."""
    waited = []
    return push(store, SITE, sleep=waited.append, now=later(), **options), waited


# Statements


def test_every_sort_of_event_makes_a_statement_the_standard_allows(events):
    found = list(every(SITE))
    assert len(found) == len(EVENTS) - 1 == 5
    for each in found:
        check(each)
    lesson, attempt, readings, exam, certificate = found
    assert lesson["verb"]["id"] == "http://adlnet.gov/expapi/verbs/experienced"
    assert lesson["object"]["id"] == f"{SITE}/lessons/why-fish-part/"
    marked = events.assignments.get().attempt
    assert attempt["result"]["score"]["raw"] == marked.marks
    assert attempt["result"]["success"] is marked.passed
    assert attempt["context"]["extensions"][f"{SITE}/xapi/rule-set"]
    assert readings["verb"]["display"]["en-US"] == "completed"
    assert readings["result"]["score"]["max"] == 1
    assert exam["verb"]["display"]["en-US"] == "passed"
    assert certificate["verb"]["id"].startswith(SITE)


def test_one_taken_back_is_said_after_the_one_issued(events, staff):
    certificate = Certificate.objects.get()
    certificates.revoke(certificate, "Somebody else sat for it.", staff)
    *__, issued, back = every(SITE)
    check(back)
    assert back["actor"] == issued["actor"]
    assert back["object"] == issued["object"]
    assert back["timestamp"] > issued["timestamp"]
    assert back["verb"]["id"] == f"{SITE}/xapi/certificate-taken-back"


def test_a_statement_comes_out_the_same_every_time_and_names_nobody(events):
    first, second = list(every(SITE)), list(every(SITE))
    assert first == second
    assert len({each["id"] for each in first}) == len(first)
    text = json.dumps(first)
    assert events.name not in text
    assert events.email not in text


def test_staff_of_the_whole_fleet_download_them(as_staff, as_user, staff, events):
    url = reverse("interchange:download")
    assert as_user.get(url).status_code == 403
    found = json.loads(b"".join(as_staff.get(url).streaming_content))
    assert [each["id"] for each in found] == [each["id"] for each in every("http://testserver")]
    page = as_staff.get(reverse("interchange:overview"))
    assert "attempts" in page.content.decode()
    Reach.objects.create(user=staff, harbor="Eastlight")
    assert as_staff.get(url).status_code == 403


# Sending


def test_everything_arrives_once_and_only_what_is_new_later(events, server, store):
    assert send(store) == (5, [])
    assert list(server.kept.values()) == list(every(SITE))
    assert send(store) == (0, [])
    LessonRead.objects.note(events, "droppers")
    assert send(store)[0] == 1
    assert server.received == 6


def test_what_is_not_settled_waits(events, server, store):
    assert push(store, SITE, now=timezone.now() - timedelta(days=1)) <= 2
    assert not any("lessons" in each["object"]["id"] for each in server.kept.values())
    send(store)
    assert len(server.kept) == 5


def test_many_go_in_batches(user, server, store):
    LessonRead.objects.bulk_create(
        LessonRead(user=user, slug=f"lesson-{number}") for number in range(2 * BATCH + 1)
    )
    assert send(store)[0] == 2 * BATCH + 1
    assert server.requests == 3


@pytest.mark.parametrize("status", [500, 502, 503, 408])
def test_a_store_in_trouble_is_asked_again_after_longer_and_longer(events, server, store, status):
    server.troubles = [status] * 3
    sent, waited = send(store)
    assert sent == 5
    assert waited == waits()[:3] == [1, 2, 4]


def test_a_store_that_asks_for_patience_gets_it(events, server, store):
    server.troubles = [429]
    assert send(store) == (5, [7])


def test_a_batch_whose_answer_was_lost_is_kept_once(events, server, store):
    server.troubles = ["hang up"]
    sent, waited = send(store)
    assert sent == 5
    assert len(waited) == 1
    assert server.received == 6  # one of them twice
    assert list(server.kept.values()) == list(every(SITE))


def test_a_store_that_stays_away_gets_the_rest_later(events, server, store):
    server.troubles = [None] + [503] * TRIES
    with pytest.raises(NotNow):
        send(store)
    assert len(server.kept) == 1
    assert send(store)[0] == 4
    assert len(server.kept) == server.received == 5


def test_a_store_that_is_not_there_is_no_crash(events, server):
    server.close()
    with pytest.raises(NotNow):
        send(Store(server.endpoint, USER, PASSWORD))
    assert not Delivery.objects.exclude(last=0).exists()


def test_one_statement_that_is_refused_does_not_hold_up_the_others(user, server, store):
    LessonRead.objects.bulk_create(
        LessonRead(user=user, slug=f"lesson-{number}") for number in range(20)
    )
    server.refuses = lambda statement: statement["object"]["id"].endswith("lesson-13/")
    assert send(store)[0] == 19
    assert len(server.kept) == 19
    refused = Refused.objects.get()
    assert refused.row == LessonRead.objects.get(slug="lesson-13").pk
    assert "not this one" in refused.answer
    assert send(store)[0] == 0


def test_a_wrong_password_stops_it_at_once(events, server):
    with pytest.raises(Shut):
        send(Store(server.endpoint, USER, "wrong"))
    assert server.requests == 1
    assert not Refused.objects.exists()


def test_a_redirect_is_not_followed(events, server, store):
    server.troubles = [302] * 10
    send(store)
    assert server.requests == 5  # one batch of each sort, and no second address
    assert Refused.objects.count() == 5


def test_the_command_says_what_is_missing_and_how_it_went(events, server, settings, capsys):
    with pytest.raises(CommandError, match="XAPI_ENDPOINT"):
        call_command("xapi_push")
    settings.XAPI_ENDPOINT = server.endpoint
    settings.XAPI_USER, settings.XAPI_PASSWORD = USER, PASSWORD
    with pytest.raises(CommandError, match="SITE_ADDRESS"):
        call_command("xapi_push")
    settings.SITE_ADDRESS = SITE
    LessonRead.objects.update(read_at=timezone.now() - 2 * SETTLED)
    call_command("xapi_push")
    assert "sent." in capsys.readouterr().out
    assert server.kept
    settings.XAPI_PASSWORD = "wrong"
    LessonRead.objects.create(user=events, slug="droppers", read_at=timezone.now() - 2 * SETTLED)
    with pytest.raises(CommandError, match="does not let this site in"):
        call_command("xapi_push")
