"""
A day for which a rule set has no version takes no page down: the page says so and goes on.

Every rule set in turn is ended yesterday. Then all addresses of the site, as its URL
configuration has them, are asked for by a visitor, a fisherman, an officer and staff.
"""

import re
import uuid
from contextlib import contextmanager
from dataclasses import replace
from datetime import timedelta

import pytest
from django.db import transaction
from django.test import Client
from django.urls import URLPattern, get_resolver, reverse
from django.utils import timezone

from rigs import plan
from rigs.plan import printed
from rigs.rules import rulebook
from rigs.rules.text import write
from tests.calibration.round_factory import judge_all, make_round
from tests.certification.candidates import PARTS, begin, make_requirements
from tests.checks.conftest import make_check
from tests.evidence.tows_factory import make_pair
from tests.exercises.conftest import right_answer
from tests.nets.conftest import make_net, make_tow
from tests.nets.test_sheet import Recorder
from tests.register.events_factory import happen, make_vessel
from tests.register.tables_factory import csv_file, dry_run
from tests.site import make_group, make_officer, make_staff, make_trainee
from training.calibration import practice
from training.certification import changes, exams, terms
from training.certification.fair import corrections, questions, supervision
from training.certification.models import Supervision
from training.certification.motion import Motion
from training.course import mixing
from training.desk.calls.reasons import REASONS
from training.desk.models import CallNote
from training.exercises import handing, kinds
from training.exercises.models import Attempt
from training.exercises.sea import setting
from training.inbox.models import Arrival
from training.lessons import tabled
from training.lessons.loader import all_lessons
from training.letters import texts
from training.letters.models import Letter, LetterTo
from training.people import wanting
from training.people.models import Session, User
from training.predicting.models import Prediction
from training.recall import sets
from training.recall.models import ReadingSet
from training.register import events, harbors
from training.register.models import BerthAsked, Crew
from training.register.removing import remove
from training.rulesets import drafting

pytestmark = pytest.mark.django_db

NAMES = rulebook.names()
MISSING = "no version for today"
# One is ended on every database: rule sets are no rows, and what has rows is asked for as well.
ENDED = [NAMES[0], *(pytest.param(name, marks=pytest.mark.one_database) for name in NAMES[1:])]


@contextmanager
def ended(name):
    """Have the rule set ``name`` end yesterday, for a ``with`` block."""
    today = timezone.localdate()
    book = replace(
        rulebook.load(name),
        version="ended",
        effective_from=today - timedelta(days=1),
        effective_to=today - timedelta(days=1),
    )
    with rulebook.trying("ended.yaml", write(book)):
        assert rulebook.find_in_force(name, today) is None
        yield


class World:
    """A row of everything that an address of the site can ask for, made while all rules hold."""

    def __init__(self, group, user, officer, staff):
        self.group, self.user, self.officer, self.staff = group, user, officer, staff
        self._train()
        self._rig()
        self._judge()
        self._fish()
        self._recall()
        self._predict()
        self.draft = drafting.start("no-sweep", uuid.uuid4(), staff)

    def _train(self):
        for kind in kinds.KINDS.values():
            for _ in range(2):
                task = handing.open_assignment(self.user, kind)
                answer = kind.any_answer(handing.task_of(task))
                handing.hand_in(task, answer)
            handing.open_assignment(self.officer, kind)
        self.attempts = Attempt.objects.by(self.user)
        # Readings come first; each measured rule is asked once at least, of which there are nine.
        self.requirements = make_requirements(
            (("one-reading", 1, 9), *PARTS), rulebooks=list(rulebook.gear_names()), minutes=60
        )
        self.passed = begin(self.user, self.requirements)
        for task in self.passed.tasks.all():
            exams.save(task, right_answer(exams.task_of(task)), 0)
        self.passed = exams.hand_in(self.passed)
        self.exam = begin(self.user, self.requirements)
        asked = terms.of_requirements(self.requirements) | {"pass_percent": 90}
        self.change = changes.propose(
            self.requirements,
            asked,
            Motion(self.staff, "Too many passed by chance.", uuid.uuid4()),
        )
        self._supervise()

    def _supervise(self):
        now, other = timezone.now(), User.objects.create_user("other@example.com", name="Other")
        self.supervision = Supervision.objects.create(
            requirements=self.requirements,
            place="Net shed",
            starts=now,
            ends=now + timedelta(hours=3),
            by=self.staff,
        )
        key, code = uuid.uuid4(), self.supervision.code
        self.supervised = exams.hand_in(supervision.begin(other, self.requirements, key, code))
        self.question = questions.ask(self.supervised, uuid.uuid4(), "Was question 2 right?")
        why = "The drawing did not print."
        self.proposal = corrections.propose(
            self.supervised, True, Motion(self.staff, why, uuid.uuid4()), self.question
        )

    def _rig(self):
        goals = [book.name for book in plan.goals(timezone.localdate())]
        self.nets = {goal: make_net(self.user, goal=goal) for goal in goals}
        day = timezone.localdate() - timedelta(days=40)
        self.riggings = [net.say_rigged(uuid.uuid4(), day) for net in self.nets.values()]
        self.tows = [
            make_tow(net, day=each.isoformat())
            for net in self.nets.values()
            for each in (day, timezone.localdate())
        ]
        self.checks = [
            make_check(self.officer, handed_in, rulebook_name=name, typed={}, day=day)
            for name in rulebook.gear_names()
            for handed_in in (True, False)
        ]

    def _judge(self):
        self.rounds = [
            make_round([self.officer], name=name, count=8) for name in rulebook.gear_names()
        ]
        self.turns = [round_.turns.get() for round_ in self.rounds]
        judge_all(self.turns[0], lambda rig: ("passes", []))
        self.practice = practice.open_rig(self.turns[0])

    def _fish(self):
        self.vessel = make_vessel()
        aboard = {"user": self.user, "since": timezone.localdate()}
        self.berth = Crew.objects.create(vessel=self.vessel, **aboard)
        told = {"part": "crew", "since": timezone.localdate(), "by": self.staff}
        self.asked = BerthAsked.objects.create(vessel=self.vessel, user=self.officer, **told)
        self.event = happen(self.vessel, "converted", timezone.localdate())
        self.removal = remove(make_vessel("Dunlin", "Eastlight"), self.staff, uuid.uuid4())
        self.harbor, self.many = harbors.add("Eastlight"), uuid.uuid4()
        told = {"key": f"form:{self.many}", "by": self.staff, "known": "hand"}
        events.record_many([self.vessel], "told", timezone.localdate(), **told)
        self.pair = make_pair(self.user, hake=(400.0, 410.0))
        told = {"address": "/nets/0/edit/", "label": "Gray net", "outcome": "gone"}
        self.arrival = Arrival.objects.create(person=self.user, key=uuid.uuid4(), **told)
        now = timezone.now()
        self.session = Session.objects.create(
            group=self.group,
            title="Dockside",
            place="Net shed",
            starts=now,
            ends=now + timedelta(hours=2),
        )
        self.letter = Letter.objects.create(key=uuid.uuid4(), subject="Boots", body="Bring boots.")
        LetterTo.objects.create(letter=self.letter, user=self.user)
        self.call = CallNote.objects.create(key=uuid.uuid4(), person=self.user, by=self.staff)
        self.register, _ = dry_run(csv_file("Plover,Marrow Point,40 ft,1,,"), self.staff)

    def _predict(self):
        net = self.nets["no-sweep"]
        self.prediction = Prediction.objects.create(
            user=self.user,
            key=uuid.uuid4(),
            net=net,
            net_name=net.name,
            measures=net.measures,
            rulebook_name="no-sweep",
            rulebook_version="1",
            said={"no_sweep": "met"},
        )

    def _recall(self):
        rules = [(name, "float_spacing") for name in rulebook.gear_names()]
        rules += [(name, "no_sweep") for name in ("no-sweep", "grate")]
        purposes = ReadingSet.Purpose
        self.sets = [
            sets.open_set(person, purpose, rules)
            for person in (self.user, self.officer)
            for purpose in (purposes.START, purposes.REVIEW)
        ]
        for each in self.sets[::2]:
            for reading in each.readings.all():
                sets.answer(reading, {"said": "met"})

    def addresses(self):
        """Return the paths of the whole site, each pattern with all that it can ask for."""
        found = []
        for name, pattern in _patterns(get_resolver().url_patterns):
            if name.partition(":")[0] == "admin":
                continue
            for arguments in self._arguments(name, pattern):
                found.append(reverse(name, kwargs=arguments))
        return found

    def _arguments(self, name, pattern):
        converters = _converters(pattern)
        if not converters:
            return [{}]
        return self.known()[name]

    def known(self):
        """Return the arguments of every address that takes some, by its name."""
        pk = lambda *rows: [{"pk": row.pk} for row in rows]  # noqa: E731
        keys = [{"key": row.key} for row in self.checks]
        certificate = [{"code": self.passed.certificate.code}]
        turns, rounds, nets = pk(*self.turns), pk(*self.rounds), pk(*self.nets.values())
        requirements = [{"slug": self.requirements.slug}]
        lessons = [{"slug": lesson.slug} for lesson in all_lessons()]
        kind = [{"slug": slug} for slug in kinds.KINDS]
        both = pk(self.exam, self.passed)
        rules = [{"rule": key, "pk": self.group.pk} for key in ("dropper_spacing", "no_sweep")]
        called = ("person", self.user.pk), ("vessel", self.vessel.pk)
        of_both = [{"of": of, "pk": number} for of, number in called]
        known = {
            "people:reset_confirm": [{"uidb64": "MQ", "token": "set-password"}],
            "calibration:rig": [row | {"place": 1} for row in turns],
            "calibration:practiced": pk(self.practice),
            "certification:exam": both,
            "certification:task": [row | {"number": n} for row in both for n in (1, 10, 11, 12)],
            "certification:review": both,
            "certification:hand_in": both,
            "certification:correct": both,
            "certification:ask": both,
            "certification:sign": [{"pk": self.supervision.pk, "exam": self.supervised.pk}],
            "certification:question": pk(self.question),
            "certification:decide_correction": pk(self.proposal),
            "certificates:meaning": requirements,
            "certificates:key": [{"thumbprint": "none"}],
            "certificates:measure": requirements,
            "certificates:measure_csv": requirements,
            "certificates:measure_xlsx": requirements,
            "certificates:angoff": requirements,
            "certificates:sample": [
                requirements[0] | {"part": part.pk, "number": 1}
                for part in self.requirements.parts.all()
            ],
            "certification:begin": requirements,
            "certification:requirements": requirements,
            "certification:change_requirements": requirements,
            "certification:changes": requirements,
            "certification:change": pk(self.change),
            "certification:decide": [
                row | {"action": action}
                for row in pk(self.change)
                for action in ("approve", "turn-down", "take-back")
            ],
            "exercises:do": kind,
            "exercises:another": kind,
            "exercises:at_level": kind,
            "trying:task": kind,
            "trying:marked": [{"number": 1}],
            "exercises:marked": pk(*self.attempts),
            "exercises:pass_over": pk(mixing.next_assignment(self.user)),
            "exercises:sea_task": pk(*setting.top_up(self.user)[:1]),
            "exercises:sea_key": pk(*setting.top_up(self.user)[:1]),
            "predicting:drawn": [{"seed": 1}],
            "predicting:net": nets,
            "predicting:result": pk(self.prediction),
            "recall:lesson": lessons,
            "recall:known": lessons,
            "recall:set": pk(*self.sets),
            "recall:answer": [row | {"number": 1} for row in pk(*self.sets)],
            "recall:one_rule": [
                {"name": name, "rule": "no_sweep"} for name in ("no-sweep", "grate")
            ],
            "lessons:detail": lessons,
            "lessons:read": lessons,
            "lessons:flight": [{"name": name} for name in NAMES],
            "lessons:flight_figure": [{"name": name} for name in NAMES],
            "lessons:flight_table": [{"name": name} for name in NAMES],
            "lessons:live": [{"name": name} for name in NAMES],
            "lessons:live_figure": [{"name": name} for name in NAMES],
            "lessons:live_table": [{"name": name} for name in NAMES],
            "rulesets:start": [{"name": name} for name in NAMES],
            "rulesets:act": [{"pk": self.draft.pk, "what": "submit"}],
            "trips:trip_chart": [{"name": name} for name in NAMES],
            "checks:check_blank": [{"name": name} for name in NAMES],
            "checks:check_photo": [{"key": uuid.uuid4()}],
            "checks:copy_code": [{"code": row.code} for row in self.checks if row.code],
            "checks:copy_pdf": [{"code": row.code} for row in self.checks if row.code],
            "checks:check_step": [
                row | {"slug": slug} for row in keys for slug in ("droppers", "notes")
            ],
            "evidence:pair_for": pk(self.user),
            "register:import_draft": [{"key": self.register.key}],
            "register:import_columns": [{"key": self.register.key}],
            "register:import_questions": [{"key": self.register.key}],
            "register:import_twins": [{"key": self.register.key}],
            "register:import_mend_csv": [{"key": self.register.key}],
            "register:import_mend_xlsx": [{"key": self.register.key}],
            "register:import_undo": [{"key": self.register.key}],
            "register:import_confirm": [{"key": self.register.key}],
            "register:crew_end": pk(self.vessel.crew.get()),
            "people:email_link": [{"token": "none"}],
            "people:stop_mail": [{"token": wanting.stop_path(self.user).split("/")[-2]}],
            "accounts:account": pk(self.user, self.staff),
            # Read alone: nothing is decided by it.
            "accounts:decide_request": [{"pk": 1, "what": "agree"}],
            "accounts:invite_again": pk(self.user),
            "accounts:welcome": [{"uidb64": "MQ", "token": "set-password"}],
            "letters:letter": [{"pk": self.letter.pk}],
            "work:job": [{"key": self.register.job.key}],
            "work:stop": [{"key": self.register.job.key}],
            "work:go_on": [{"key": self.register.job.key}],
            "work:file": [{"key": self.register.job.key}],
            "letters:send_now": [{"pk": self.letter.pk}],
            "letters:texted": [{"pk": self.letter.pk, "row": self.letter.rows.get().pk}],
            "letters:change_text": [{"slug": slug} for slug in texts.standard()],
            "letters:remove_text": [{"slug": "go-on"}],
            "people:group_calendar": [{"code": self.group.code}],
            "people:session_calendar": [{"uid": self.session.uid}],
            "desk:missed_by": rules,
            "desk:calls_for": [{"reason": each.key} for each in REASONS],
            "desk:calls_for_csv": [{"reason": each.key} for each in REASONS],
            "desk:calls_for_xlsx": [{"reason": each.key} for each in REASONS],
            "desk:call": of_both,
            "desk:called": of_both,
            "desk:call_give": of_both,
            "desk:call_take_back": of_both,
            "desk:call_number": pk(self.user),
            "desk:call_undo": pk(self.call),
            "desk:call_put_back": pk(self.call),
            "register:uptake_csv": [{"key": "harbor"}],
            "register:uptake_xlsx": [{"key": "harbor"}],
            "register:uptake_png": [{"key": "harbor"}],
            "register:waiting_csv": [{"key": "told"}],
            "register:waiting_xlsx": [{"key": "told"}],
            "register:waiting_png": [{"key": "told"}],
        }
        for space, names, arguments in (
            (
                "calibration",
                "round change_round close report "
                "judgements_csv judgements_xlsx summary_csv summary_xlsx",
                rounds,
            ),
            ("calibration", "turn hand_in result practice readings", turns),
            (
                "certificates",
                "certificate png pdf badge_token badge_document show_name changes revoke "
                "decide_revocation "
                "check verify_code",
                certificate,
            ),
            ("rulesets", "version edit count", pk(self.draft)),
            (
                "nets",
                "net net_edit net_rename net_copy net_delete net_restore net_sheet_pdf "
                "net_sheet_png net_rigged log tow_new flight flight_figure flight_sure "
                "flight_advice advice_figure advice_sure flight_card "
                "flight_card_ask",
                nets,
            ),
            ("nets", "rigging_delete rigging_restore", pk(*self.riggings)),
            ("nets", "tow_edit tow_delete tow_restore", pk(*self.tows)),
            (
                "checks",
                "check check_held check_add_photo check_hand_in check_correct check_pdf "
                "check_head check_another_net check_compare",
                keys,
            ),
            ("certification", "supervision close_supervision", pk(self.supervision)),
            ("evidence", "pair_edit pair_delete pair_restore", pk(self.pair)),
            ("inbox", "arrival settle", pk(self.arrival)),
            (
                "register",
                "vessel vessel_edit vessel_remove vessel_merge crew_new event_new",
                pk(self.vessel),
            ),
            ("register", "own_vessel_leave", pk(self.berth)),
            ("register", "own_vessel_answer", pk(self.asked)),
            ("register", "vessel_put_back", pk(self.removal)),
            ("register", "harbor", pk(self.harbor)),
            ("register", "spelling_remove", pk(self.harbor.spellings.get())),
            ("register", "stage_many_done stage_many_undo", [{"key": self.many}]),
            ("register", "event_correct event_withdraw", pk(self.event)),
            (
                "desk",
                "trainee trainee_record trainee_rules attempts_csv attempts_xlsx",
                pk(self.user),
            ),
            (
                "desk",
                "group group_live group_code group_members change_group close_group new_session",
                pk(self.group),
            ),
            (
                "desk",
                "session change_session call_off mark_came count_others session_code "
                "sign_in_sheet poster_pdf poster_png",
                pk(self.session),
            ),
        ):
            known |= {f"{space}:{name}": arguments for name in names.split()}
        return known


def _patterns(patterns, space=""):
    """Yield (name, pattern) of all addresses in ``patterns``, those included too."""
    for each in patterns:
        if isinstance(each, URLPattern):
            yield f"{space}{each.name}", each
        else:
            inner = f"{each.namespace}:" if each.namespace else space
            yield from _patterns(each.url_patterns, inner)


def _converters(pattern):
    return pattern.pattern.converters or re.findall(r"<\w+:\w+>|<\w+>", str(pattern.pattern))


def people(world):
    """Yield (who, client) for all sorts of people."""
    yield "a visitor", Client()
    for person in (world.user, world.officer, world.staff):
        client = Client()
        client.force_login(person)
        yield person.role, client


def text_of(response):
    """Return what a page says, its spaces even."""
    return " ".join(response.content.decode().replace("\u00a0", " ").split())


def signed_in(person):
    client = Client()
    client.force_login(person)
    return client


class TestEveryAddress:
    @pytest.fixture(scope="class")
    def made(self, django_db_setup, django_db_blocker):
        """The World, made once for all tests here and then rolled back."""
        with django_db_blocker.unblock(), transaction.atomic():
            group = make_group()
            yield World(group, make_trainee(group), make_officer(), make_staff())
            transaction.set_rollback(True)

    @pytest.fixture
    def world(self, made, db):
        return made

    @pytest.fixture
    def coarse(self, monkeypatch):
        """Tables for the phone with settings far apart: made by the same steps, only fewer."""
        monkeypatch.setattr(tabled, "APART", dict.fromkeys(tabled.APART, 1000))
        tabled.table.cache_clear()
        yield
        tabled.table.cache_clear()

    @pytest.mark.parametrize("name", ENDED)
    def test_no_page_is_taken_down(self, world, coarse, name):
        addresses = world.addresses()
        broken = []
        with ended(name):
            for who, client in people(world):
                for address in addresses:
                    try:
                        response = client.get(address)
                        if getattr(response, "streaming", False):
                            b"".join(response.streaming_content)
                        if response.status_code >= 500:
                            broken.append((who, address, response.status_code))
                    except Exception as error:  # noqa: BLE001
                        broken.append((who, address, repr(error)[:300]))
        assert not broken, "\n".join(map(str, broken))

    @pytest.mark.parametrize("name", NAMES)
    def test_the_places_that_need_it_say_so(self, world, name):
        title = rulebook.load(name).title
        told = f"“{title}” have {MISSING}"
        lessons = {
            each.slug for each in all_lessons() if name in {book.name for book in each.books}
        }
        today = timezone.localdate()
        nets = [
            net
            for goal, net in world.nets.items()
            if name in {book.name for book in plan.books_for(goal, today) if book}
        ]
        gear = name in rulebook.gear_names()
        with ended(name):
            visitor = Client()
            for lesson in all_lessons():
                page = text_of(visitor.get(reverse("lessons:detail", args=[lesson.slug])))
                assert (told in page) == (lesson.slug in lessons), lesson.slug
            user = signed_in(world.user)
            for net in world.nets.values():
                for view in ("nets:net", "nets:log"):
                    page = text_of(user.get(reverse(view, args=[net.pk])))
                    assert (told in page) == (
                        net in nets or (view, name) == ("nets:log", "whiting")
                    )
            staff = signed_in(world.staff)
            assert told in text_of(staff.get("/"))
            assert MISSING in text_of(staff.get(reverse("rulesets:shelf")))
            officer = signed_in(world.officer)
            if gear:
                assert f"{title}: these rules have {MISSING}" in text_of(
                    officer.get(reverse("checks:checks"))
                )
                assert title in text_of(staff.get(reverse("calibration:new_round")))
                for view in ("lessons:live", "lessons:flight"):
                    assert told in text_of(visitor.get(reverse(view, args=[name])))


@pytest.mark.parametrize("name", ["no-sweep", "whiting"])
def test_a_net_is_not_judged_by_rules_that_are_not_there(user, name):
    net = make_net(user, goal=name)
    with ended(name):
        made = net.plan()
        assert [book.name for book in made.lapsed] == [name]
        assert made.legal is not True
        assert name not in {verdict.rulebook.name for verdict in made.verdicts}
        exam = Recorder()
        printed._Layout(
            printed.RiggingSheet(net.name, made, timezone.localdate(), "address"), exam
        ).draw()
        assert "have no version for this day" in " ".join(exam.words)
        assert "meets every rule" not in " ".join(exam.words)
    assert net.plan().lapsed == ()


def test_a_task_is_drawn_from_rules_that_hold(user, as_user):
    kind = kinds.get("judge-rig")
    drawn = set()
    with ended("no-sweep"):
        for seed in range(20):
            for level in (1, 2, 3):
                book = kind.pick_rulebook(seed, level, timezone.localdate())
                drawn.add(book and book.name)
        assert "no-sweep" not in drawn
        assert drawn - {None}
        page = text_of(as_user.get(reverse("exercises:do", args=["order-conversion"])))
        assert MISSING in page
        assert rulebook.load("no-sweep", "1").title in page
        response = as_user.post(reverse("exercises:another", args=["order-conversion"]))
        assert response.url == reverse("exercises:do", args=["order-conversion"])
    assert handing.open_assignment(user, kinds.get("order-conversion"))


def test_an_exam_is_not_begun(user, as_user):
    requirements = make_requirements()
    with ended("no-sweep"):
        assert MISSING in text_of(as_user.get(reverse("certification:mine")))
        response = as_user.post(
            reverse("certification:begin", args=[requirements.slug]), {"key": str(uuid.uuid4())}
        )
        assert response.url == reverse("certification:mine")
        assert not requirements.exams.exists()
        as_user.get(response.url)  # where the message is shown once
    assert MISSING not in text_of(as_user.get(reverse("certification:mine")))


def test_a_check_of_a_day_before_is_taken_and_one_of_today_is_not(officer, as_officer):
    today = timezone.localdate()
    entries = {
        "rulebook_name": "no-sweep",
        "vessel_name": "Sanderling",
        "harbor": "Kettle Harbor",
    }
    with ended("no-sweep"):
        url = reverse("checks:check_new")
        page = text_of(
            as_officer.post(url, entries | {"key": str(uuid.uuid4()), "day": today.isoformat()})
        )
        assert "no version for" in page
        day = (today - timedelta(days=9)).isoformat()
        response = as_officer.post(url, entries | {"key": str(uuid.uuid4()), "day": day})
        assert response.status_code == 302


@pytest.mark.parametrize("name", NAMES)
def test_where_to_fish_names_the_rules_it_did_not_check(as_user, name):
    day = timezone.localdate()
    told = f"“{rulebook.load(name).title}” have no version for {rulebook.date_text(day)}"
    with ended(name):
        page = text_of(as_user.post(reverse("trips:trip"), {"day": day.isoformat()}))
    assert told in page
    page = text_of(as_user.post(reverse("trips:trip"), {"day": day.isoformat()}))
    assert "have no version for" not in page


def test_what_a_net_or_vessel_had_is_not_lost(user, as_user, as_staff):
    net = make_net(user, goal="grate")
    vessel = make_vessel(gear="grate")
    with ended("grate"):
        page = text_of(as_user.get(reverse("nets:net_edit", args=[net.pk])))
        assert (
            f'<option value="grate" selected>{rulebook.load("grate", "1").title} (no version'
            in page
        )
        page = text_of(as_staff.get(reverse("register:vessel_edit", args=[vessel.pk])))
        assert '<option value="grate" selected>' in page
