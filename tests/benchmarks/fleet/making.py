"""Making a fleet of any size: the same for the same share of the largest one."""

import json
import random
import uuid
from datetime import datetime, time, timedelta

from django.db import connection
from django.utils import timezone

from rigs.words.units import FOOT
from tests.benchmarks.fleet import answers
from tests.benchmarks.fleet.rows import bare_file, put
from training.certification.models import Certificate, Exam, Requirements
from training.checks.models import CheckSheet
from training.demo import scenario
from training.desk import sums
from training.desk.calls.listing import KINDS
from training.desk.calls.reasons import REASONS
from training.desk.models import CallNote, CallReason
from training.desk.way import course_of
from training.exercises.models import Assignment, Attempt
from training.lessons.models import LessonRead
from training.letters.models import Letter, LetterTo
from training.people.models import Group, Membership, Role, Session, User
from training.register import harbors, uptake
from training.register.models import AdoptionEvent, Crew, Vessel
from training.register.stages import Known, Stage

# All of it, which is 100 percent.
VESSELS, PEOPLE, ATTEMPTS = 10_000, 50_000, 2_000_000

SEED = 648_80
CREW_OF_A_GROUP = 100
HARBOURS = 40
OFFICERS = 1 / 20
YEARS = 2
NOON = time(12)


class Fleet:
    """``percent`` of the largest fleet, to be put into the database in use."""

    def __init__(self, percent, say):
        self.say = say
        self.rng = random.Random(SEED)
        self.vessels, self.people, self.attempts = (
            number * percent // 100 for number in (VESSELS, PEOPLE, ATTEMPTS)
        )
        self.groups = max(1, self.people // CREW_OF_A_GROUP)
        self.harbors = [
            f"{scenario.HARBOURS[number % 4]} {number // 4 + 1}"
            for number in range(min(HARBOURS, self.groups))
        ]
        self.now = timezone.now()
        # One by one, since working a moment out for the database is what takes long.
        self.moments = [
            self._moment(self.now - timedelta(minutes=minute))
            for minute in range(0, YEARS * 365 * 24 * 60, 60)
        ]
        # How lately each person was here, and so how much of the two years lies behind.
        self.left_off = [self._ago() for _ in range(self.people)]

    def _moment(self, moment):
        return connection.ops.adapt_datetimefield_value(moment)

    def _ago(self):
        """Return a number of hours, most of them few."""
        return int(len(self.moments) * self.rng.random() ** 3)

    def _before(self, person):
        """Return a moment before ``person``, counted from 0, was here last."""
        last = self.left_off[person]
        return self.moments[last + int((len(self.moments) - last) * self.rng.random())]

    def _role(self, person):
        return Role.OFFICER if person % int(1 / OFFICERS) == 0 else Role.TRAINEE

    def make(self):
        """Put everything in, and count the sums."""
        with bare_file():
            for part in (
                self._groups,
                self._people,
                self._readings,
                self._practice,
                self._exams,
                self._fleet,
                self._sheets,
                self._calls,
                self._letter,
            ):
                part()
        self.say("    Counting the sums ...")
        sums.rebuild(self.say)
        uptake.rebuild(lambda line: None)

    def _groups(self):
        Group.objects.bulk_create(
            Group(
                name=f"Crews {number + 1}",
                code=f"CREWS{number + 1:05}",
                harbor=self.harbors[number % len(self.harbors)],
                is_demo=True,
            )
            for number in range(self.groups)
        )
        Session.objects.bulk_create(
            Session(
                group_id=number + 1,
                title="Dockside evening",
                starts=self.now + timedelta(days=number % 60),
                ends=self.now + timedelta(days=number % 60, hours=2),
            )
            for number in range(self.groups)
        )

    def _people(self):
        names = scenario.names(self.rng, 2000)
        joined = self.moments[-1]
        put(
            User,
            ("id", "email", "name", "role", "password", "is_active", "is_superuser", "joined"),
            (
                (
                    number + 1,
                    f"hand{number}@{scenario.DOMAIN}",
                    f"{names[number % len(names)]} {number // len(names) or ''}".strip(),
                    self._role(number),
                    "!",
                    True,
                    False,
                    joined,
                )
                for number in range(self.people)
            ),
            self.say,
            self.people,
        )
        put(
            Membership,
            ("group", "user", "joined"),
            (
                (number % self.groups + 1, number + 1, self.moments[self.left_off[number]])
                for number in range(self.people)
            ),
            self.say,
            self.people,
        )

    def _readings(self):
        courses = {role: course_of(role) for role in (Role.TRAINEE, Role.OFFICER)}

        def rows():
            for person in range(self.people):
                course = courses[self._role(person)]
                for lesson in course[: self.rng.randint(0, len(course))]:
                    yield person + 1, lesson.slug, self._before(person)

        put(LessonRead, ("user", "slug", "read_at"), rows(), self.say, self.people * 5)

    def _practice(self):
        stock = answers.stock(SEED)
        taught = sorted({kind for kind, _ in stock})
        each = self.attempts // self.people
        skills = [self.rng.betavariate(4, 2) for _ in range(self.people)]
        # Drawn twice from one seed, so that the attempts find their own assignments.
        seed = self.rng.random()

        def drawn():
            rng = random.Random(seed)
            for number in range(self.people * each):
                person = number // each
                passed = rng.random() < skills[person]
                marked = rng.choice(stock[rng.choice(taught), passed])
                last = self.left_off[person]
                hours = last + int((len(self.moments) - last) * rng.random())
                yield number + 1, person + 1, marked, self.moments[hours]

        total = self.people * each
        put(
            Assignment,
            (
                "id",
                "user",
                "kind",
                "seed",
                "difficulty",
                "rulebook_name",
                "rulebook_version",
                "created",
                "is_open",
            ),
            ((pk, user, *marked[:5], moment, False) for pk, user, marked, moment in drawn()),
            self.say,
            total,
        )
        put(
            Attempt,
            (
                "id",
                "assignment",
                "answer",
                "marks",
                "out_of",
                "passed",
                "findings",
                "remarks",
                "handed_in",
            ),
            ((pk, pk, *marked[5:], moment) for pk, _, marked, moment in drawn()),
            self.say,
            total,
        )

    def _exams(self):
        """Have four in ten sit, and most of them pass."""
        requirements_list = {
            role: Requirements.objects.create(
                slug=track,
                title=f"For the {track}",
                track=track,
                rulebooks=["no-sweep"],
                pass_percent=70,
                is_demo=True,
            )
            for role, track in (
                (Role.TRAINEE, Requirements.Track.FISHERMAN),
                (Role.OFFICER, Requirements.Track.OFFICER),
            )
        }
        exams, certificates = [], []
        for person in range(self.people):
            if self.rng.random() > 0.4:
                continue
            at = self.now - timedelta(hours=self.left_off[person], minutes=1)
            passed = self.rng.random() < 0.7
            exam = Exam(
                pk=len(exams) + 1,
                requirements=requirements_list[self._role(person)],
                user_id=person + 1,
                key=uuid.UUID(int=self.rng.getrandbits(128)),
                seed=1,
                pass_percent=70,
                begun=at - timedelta(hours=1),
                handed_in=at,
                marks=8 if passed else 4,
                out_of=10,
                passed=passed,
            )
            exams.append(exam)
            if passed:
                certificates.append(
                    Certificate(
                        exam=exam,
                        code=f"BENCH{exam.pk:07}",
                        holder_name="Hand",
                        issued=at,
                        expires=at + timedelta(days=730),
                        rulebooks={"no-sweep": "1"},
                    )
                )
        Exam.objects.bulk_create(exams, batch_size=5000)
        Certificate.objects.bulk_create(certificates, batch_size=5000)

    def _painted(self, number):
        """Return what is painted on the hull of a vessel, counted from 0; one in four has none."""
        return f"TS {number + 1:05}" if number % 4 else ""

    def _fleet(self):
        for harbor in self.harbors:
            harbors.add(harbor)
        today = timezone.localdate()
        Vessel.objects.bulk_create(
            (
                Vessel(
                    pk=number + 1,
                    name=f"{scenario.VESSELS[number % 40]} {number // 40 + 1}",
                    harbor=self.harbors[number % len(self.harbors)],
                    length=self.rng.randint(*scenario.VESSEL_FEET) * FOOT,
                    registration=self._painted(number),
                    is_demo=True,
                )
                for number in range(self.vessels)
            ),
            batch_size=5000,
        )
        Crew.objects.bulk_create(
            (
                Crew(vessel_id=person % self.vessels + 1, user_id=person + 1, since=today)
                for person in range(0, self.people, 2)
            ),
            batch_size=5000,
        )
        AdoptionEvent.objects.bulk_create(self._events(today), batch_size=5000)

    def _events(self, today):
        stages = list(Stage)
        for vessel in range(1, self.vessels + 1):
            day = today - timedelta(days=self.rng.randint(30, YEARS * 365))
            for stage in stages[: self.rng.randint(0, len(stages))]:
                yield AdoptionEvent(
                    vessel_id=vessel,
                    stage=stage,
                    day=day,
                    known=Known.HAND,
                    key=f"benchmark:{vessel}:{stage}",
                    recorded=timezone.make_aware(datetime.combine(day, NOON)),
                )
                day += timedelta(days=self.rng.randint(1, 120))
                if day > today:
                    break

    def _sheets(self):
        """Put in a check sheet for each vessel, most of them of one that is on the register."""
        vessels = Vessel.objects.order_by("pk").values_list("name", "harbor", "registration")
        officers = range(1, self.people + 1, int(1 / OFFICERS))
        turned_in = self._moment(self.now)

        def rows():
            for number, (name, harbor, painted) in enumerate(vessels):
                told = f"{name} II" if number % 50 == 0 else name
                yield (
                    uuid.UUID(int=self.rng.getrandbits(128)).hex,
                    officers[number % len(officers)],
                    told,
                    harbor if number % 5 else "",
                    json.dumps({"vessel_number": "" if told != name else painted}),
                    self.now.date() - timedelta(days=number % (YEARS * 365)),
                    "no-sweep",
                    "1",
                    turned_in,
                    turned_in,
                )

        columns = ("key", "officer", "vessel_name", "harbor", "head", "day", "rulebook_name")
        columns += ("rulebook_version", "changed", "finished")
        put(CheckSheet, columns, rows(), self.say, self.vessels)

    def _calls(self):
        """Note a call to one person in twenty and to one vessel in twenty."""
        called = [
            CallNote(
                key=uuid.UUID(int=self.rng.getrandbits(128)),
                made=self.now - timedelta(hours=self.rng.randrange(YEARS * 365 * 24)),
                again=self.now.date() + timedelta(days=7) if number % 3 == 0 else None,
                outcome=self.rng.choice(CallNote.Outcome.values),
                **{f"{of}_id": number},
            )
            for of, many in (("person", self.people), ("vessel", self.vessels))
            for number in range(1, many + 1, 20)
        ]
        CallNote.objects.bulk_create(called, batch_size=5000)
        reasons = {of: [each.key for each in REASONS if each.of == of] for of in KINDS}
        CallReason.objects.bulk_create(
            (
                CallReason(call=call, reason=self.rng.choice(reasons[of]))
                for call in called
                for of in KINDS
                if getattr(call, f"{of}_id")
            ),
            batch_size=5000,
        )

    def _letter(self):
        """Write to everybody at once."""
        letter = Letter.objects.create(key=uuid.UUID(int=SEED), subject="News", body="News.")
        rows = ((letter.pk, person, "News.") for person in range(1, self.people + 1))
        put(LetterTo, ("letter", "user", "text"), rows, self.say, self.people)
