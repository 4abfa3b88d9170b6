"""What fails is told by a number, in the log and by mail; nothing personal is in either."""

import json
import logging
import threading
from io import StringIO

import psycopg
import pytest
from django.contrib.auth.models import AnonymousUser
from django.core import mail
from django.db import IntegrityError, transaction
from django.test import Client, RequestFactory
from django.urls import get_resolver, reverse

from tests.people.doors import views
from tests.people.test_doors import NOWHERE, SPELLED
from tests.site import PASSWORD
from training.certification.models import Requirements
from training.deck.logs import ceiling, failure
from training.deck.logs.line import JsonLine
from training.deck.logs.mail import OfficeMail
from training.people.models import Group, User

# Each stands for one sort of thing that people are known by or type.
NAME, EMAIL, PHONE, CODE, TYPED = (
    "Wrenmarked",
    "marked@tern.example",
    "2075550143",
    "MARKED99",
    "typedmark",
)
MARKS = (NAME, "marked@", PHONE, CODE, TYPED, PASSWORD)


class Lines(logging.Handler):
    """Keeps the lines that the site would write."""

    def __init__(self):
        super().__init__()
        self.out = StringIO()
        self.setFormatter(JsonLine())

    def emit(self, record):
        self.out.write(self.format(record) + "\n")

    @property
    def text(self):
        return self.out.getvalue()

    @property
    def all(self):
        return [json.loads(line) for line in self.text.splitlines()]

    def of(self, logger):
        return [each for each in self.all if each["logger"] == logger]


@pytest.fixture
def lines(settings):
    """The log as a site in use would write it."""
    settings.LOG_REQUESTS = True
    root, handler = logging.getLogger(), Lines()
    root.addHandler(handler)
    yield handler
    root.removeHandler(handler)


@pytest.fixture
def office(settings, tmp_path):
    """Mail to the office; the handler counts in a file of this test's own."""
    settings.ERROR_MAIL, settings.ERROR_MAILS_AN_HOUR = ["office@tern.example"], 2
    handler = next(each for each in logging.getLogger().handlers if isinstance(each, OfficeMail))
    handler.ceiling = ceiling.Ceiling(2, tmp_path / "mails")
    yield
    handler.ceiling = None


def sent():
    """Return the mails, once those on their way are out."""
    for thread in threading.enumerate():
        if thread.name == "office mail":
            thread.join()
    return mail.outbox


def break_page(monkeypatch, error):
    """Have the page of lessons fail with ``error``."""

    def view(request, *args, **kwargs):
        raise error

    monkeypatch.setattr("training.course.lesson_views.render", view)


def quiet():
    client = Client()
    client.raise_request_exception = False
    return client


def test_a_failure_is_in_the_log_by_the_number_that_its_person_is_given(lines, db, monkeypatch):
    break_page(monkeypatch, ValueError(f"no length: {TYPED}"))
    answer = quiet().get(reverse("lessons:list"))
    assert answer.status_code == 500
    number = answer["Request-Number"]
    assert number in answer.content.decode()
    (told,) = lines.of("django.request")
    assert (told["request"], told["level"], told["route"]) == (number, "error", "/lessons/")
    assert told["failure"]["kind"] == "ValueError"
    assert "raise error" in told["failure"]["places"][-1]
    assert any(each.startswith("training/course/") for each in told["failure"]["places"])
    (line,) = lines.of("training.requests")
    assert (line["request"], line["status"], line["method"]) == (number, 500, "GET")
    assert TYPED not in lines.text


def test_each_request_has_a_number_of_its_own_and_none_that_its_caller_chose(lines, db):
    answers = [Client(headers={"request-number": "0000-0000"}).get("/") for _ in range(2)]
    numbers = [each["Request-Number"] for each in answers]
    assert len({*numbers, "0000-0000"}) == 3
    assert [each["request"] for each in lines.of("training.requests")] == numbers


def test_an_answer_of_failure_that_a_view_gives_has_the_number_too(lines, db, monkeypatch):
    monkeypatch.setattr("training.deck.readiness.may_serve", lambda found: False)
    number = Client().get("/ready/")["Request-Number"]
    (told,) = lines.of("django.request")
    assert (told["request"], told["message"]) == (number, "Service Unavailable")


def test_slow_pages_are_named(lines, db, settings):
    settings.LOG_REQUESTS = False
    Client().get("/")
    assert lines.all == []
    settings.SLOW_PAGE_MS = 0
    Client().get("/lessons/")
    (line,) = lines.all
    assert (line["message"], line["level"], line["route"]) == ("slow page", "warning", "/lessons/")
    assert line["ms"] >= 0


def mark(user, group):
    """Have ``user`` and ``group`` be known by the marks alone."""
    user.name, user.email, user.phone = NAME, EMAIL, PHONE
    user.save()
    group.name, group.code = NAME, CODE
    group.save()


def address(name):
    """Return an address of the view ``name`` that has a mark wherever a text can stand."""
    *spaces, last = name.split(":")
    resolver = get_resolver()
    for space in spaces:
        resolver = resolver.namespace_dict[space][1]
    ((_, _, _, converters), *_) = resolver.reverse_dict.getlist(last)
    told = NOWHERE | {"StringConverter": CODE, "SlugConverter": TYPED}
    found = {key: told[type(each).__name__] for key, each in converters.items()}
    return reverse(name, kwargs=SPELLED.get(name, found))


def test_no_page_leaves_anything_personal_in_the_log(lines, user, group, staff, settings):
    settings.SLOW_PAGE_MS = 0
    mark(user, group)
    typed = {"username": EMAIL, "email": EMAIL, "name": NAME, "phone": PHONE, "code": CODE}
    typed |= {"password": PASSWORD, "note": TYPED, "text": TYPED, "day": TYPED, "q": NAME}
    guest, own, desk = quiet(), quiet(), quiet()
    for client in (guest, own, desk):
        client.raise_request_exception = False
    own.force_login(user)
    desk.force_login(staff)
    for name in dict(views()):
        path = address(name)
        for client in (guest, own, desk):
            client.get(path, {"q": NAME, "code": CODE, "next": f"/{TYPED}"})
        guest.post(path, typed)
        desk.post(path, f'{{"day": "{TYPED}"', content_type="application/json")
    strict = Client(enforce_csrf_checks=True)
    strict.post(reverse("people:sign_in"), typed)
    for _ in range(12):
        guest.post(reverse("people:sign_in"), typed)
    guest.get("/", headers={"host": f"{TYPED}.example"})
    guest.get(f"/{TYPED}/")
    assert len(lines.of("training.requests")) > 500
    assert [mark for mark in MARKS if mark in lines.text] == []


def test_what_libraries_and_databases_quote_is_left_out(lines):
    log = logging.getLogger("library.of.others")
    log.warning("Login by %s from %s failed %d times.", EMAIL, NAME, 3)
    log.warning(f"Login by {EMAIL}")
    log.warning("{'a': %(a)s}", {"a": TYPED})
    log.error("Good", extra={"person": NAME})
    logging.getLogger("training.here").error("was sent", extra={"to": f"x {EMAIL} y", "count": 2})
    assert lines.all[0]["message"] == "Login by … from … failed 3 times."
    bad = logging.makeLogRecord({"name": "library", "msg": "Bad %d", "args": (TYPED,)})
    lines.emit(bad)
    assert (lines.all[-2]["to"], lines.all[-2]["count"]) == ("x … y", 2)
    assert len(lines.all) == 6
    assert [mark for mark in MARKS if mark in lines.text] == []


def test_a_row_that_the_database_refuses_is_told_by_its_column_alone(user):
    mark(user, Group.objects.get())
    with pytest.raises(IntegrityError) as found, transaction.atomic():
        User.objects.create_user(EMAIL, name=NAME)
    record = failure.as_record(found.value)
    told = json.dumps(record)
    assert "email" in record["from"]["says"]
    assert [each for each in MARKS if each in told] == []


def raised(error):
    try:
        raise error
    except Exception as caught:
        return failure.as_record(caught)


def test_what_is_said_of_an_exception_is_of_the_code_alone():
    with pytest.raises(AttributeError) as found:
        AnonymousUser().harbor  # noqa: B018
    assert failure.as_record(found.value)["says"] == "no harbor on a AnonymousUser"
    assert raised(OSError(28, TYPED))["says"] == "No space left on device"
    assert raised(psycopg.errors.UniqueViolation(TYPED))["says"] == "23505"
    for error in (KeyError(TYPED), ValueError(TYPED), TypeError(TYPED), OSError(TYPED)):
        assert TYPED not in json.dumps(raised(error))
    assert raised(Requirements.DoesNotExist(TYPED))["kind"].endswith("Requirements.DoesNotExist")


def test_the_office_is_mailed_what_failed_and_nothing_of_whom(
    office, as_user, user, group, monkeypatch
):
    mark(user, group)
    break_page(monkeypatch, ValueError(TYPED))
    as_user.raise_request_exception = False
    number = as_user.get(reverse("lessons:list"), {"q": TYPED})["Request-Number"]
    (told,) = sent()
    assert told.to == ["office@tern.example"]
    assert number in told.body
    assert "/lessons/" in told.subject
    assert "ValueError" in told.body
    assert "training/course/lesson_views.py" in told.body
    assert [each for each in MARKS if each in told.subject + told.body] == []


def test_mails_have_a_ceiling_and_one_failure_is_mailed_once(office):
    log = logging.getLogger("training.here")
    for message in ("one", "one", "two", "three", "four"):
        log.error(message)
    log.warning("no failure")
    logging.getLogger("django.security.DisallowedHost").error("no failure of ours")
    first, second = sorted(sent(), key=lambda each: "two" in each.body)
    assert "last mail of this hour" not in first.body
    assert "last mail of this hour" in second.body
    assert "no mail was sent about: 1." in second.body


def test_the_ceiling_is_one_for_all_processes_and_new_each_hour(tmp_path):
    here, there = (ceiling.Ceiling(2, tmp_path / "mails") for _ in range(2))
    assert here.ask("a", 0) == (0, False)
    assert there.ask("a", 1) is None
    assert there.ask("b", 2) == (1, True)
    assert here.ask("c", 3599) is None
    assert there.ask("c", 3600) == (1, False)
    nowhere = ceiling.Ceiling(1, tmp_path / "none" / "mails")
    assert nowhere.ask("a", 0) == (0, True)
    assert nowhere.ask("b", 0) is None


def test_a_mail_server_that_is_down_takes_nothing_with_it(office, lines, settings):
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", 9
    logging.getLogger("training.here").error("broken")
    assert sent() == []
    assert lines.of("training.deck.logs")[0]["message"] == "a mail about a failure was not sent"


def test_a_record_that_cannot_be_written_still_has_its_line():
    class Wordless:
        def __str__(self):
            raise RuntimeError(TYPED)

    record = logging.makeLogRecord({"name": "training.here", "msg": Wordless(), "args": ()})
    assert json.loads(JsonLine().format(record)) == {
        "logger": "training.here",
        "message": "RuntimeError",
    }


def test_gunicorn_writes_the_same_lines(capsys):
    from gunicorn.config import Config

    from training.deck.logs.server import Lines as ServerLines

    log = ServerLines(Config())
    log.error("Invalid request from ip=%s: %s", "192.0.2.7", TYPED)
    log.error("Booting worker with pid: %s", 42)
    first, second = (json.loads(line) for line in capsys.readouterr().err.splitlines())
    assert first["message"] == "Invalid request from ip=…: …"
    assert second["message"] == "Booting worker with pid: 42"


def test_a_page_of_failure_that_fails_loses_neither_failure(lines, db, monkeypatch):
    break_page(monkeypatch, ValueError(TYPED))
    monkeypatch.setattr("training.deck.errors.render_to_string", lambda *args: 1 / 0)
    answer = quiet().get(reverse("lessons:list"))
    assert answer.status_code == 500
    assert answer["Request-Number"] in answer.content.decode()
    kinds = [each["failure"]["kind"] for each in lines.all if "failure" in each]
    assert sorted(kinds) == ["ValueError", "ZeroDivisionError"]
    assert {each["request"] for each in lines.all} == {answer["Request-Number"]}


def test_the_page_of_a_failure_needs_no_request_number():
    from training.deck.errors import broken

    assert "number" not in broken(RequestFactory().get("/")).content.decode()
