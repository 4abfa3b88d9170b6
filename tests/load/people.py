"""
The people of the crowd, for locust: each does what people of the sort do, one thing after another.

What the site said was saved is noted in the file that ``LOAD_LEDGER`` names; who they are is in
that of ``LOAD_PEOPLE``, both written and read by ``tests.load``.
"""

import json
import os
import random
import re
import uuid
from pathlib import Path

from locust import HttpUser, between, events, task

from tests.load.forms import Form

WORLD = json.loads(Path(os.environ["LOAD_PEOPLE"]).read_text())
COUNTS = {sort: len(people) for sort, people in WORLD["people"].items()}
LEDGER = {"attempts": [], "doubles": [], "answers": {}, "sheets": {}}
TOKEN = "a" * 32  # of the demo alone: the same in the cookie and in the header


@events.quitting.add_listener
def write_down(environment, **kwargs):
    """Keep what the site said was saved."""
    Path(os.environ["LOAD_LEDGER"]).write_text(json.dumps(LEDGER))


class Somebody(HttpUser):
    """Somebody who is signed in, on a line of their own."""

    abstract = True
    wait_time = between(5, 15)  # seconds
    sort = ""

    def on_start(self):
        self.me = WORLD["people"][self.sort].pop()
        self.rng = random.Random(self.me["pk"])
        self.client.cookies.set("sessionid", self.me["session"])
        self.client.cookies.set("csrftoken", TOKEN)
        self.client.headers.update(
            {
                "X-CSRFToken": TOKEN,
                "X-Forwarded-For": self.me["address"],
                "X-Forwarded-Proto": "http",
            }
        )

    def look(self, path, name=None):
        return self.client.get(path, name=name or path)

    def read(self):
        self.look(self.rng.choice(WORLD["lessons"]), "lesson")


class Trainee(Somebody):
    sort = "trainee"
    fixed_count = COUNTS[sort]

    @task(4)
    def read_a_lesson(self):
        self.read()

    @task(1)
    def look_home(self):
        self.look("/", "home of a trainee")

    @task(4)
    def practice(self):
        """Do a task, and sometimes press the button twice."""
        kind = self.rng.choice(WORLD["kinds"])
        page = self.look(f"/exercises/{kind}/", "task")
        action, fields = Form(page.text).filled(self.rng, "assignment")
        posted = [self._turn_in(action, fields) for _ in range(1 + (self.rng.random() < 0.2))]
        marked = [each for each in posted if each]
        LEDGER["attempts"] += [[self.me["pk"], number] for number in set(marked)]
        if len(set(marked)) > 1:
            LEDGER["doubles"].append(marked)

    def _turn_in(self, action, fields):
        with self.client.post(
            action, fields, name="answer turned in", allow_redirects=False, catch_response=True
        ) as answer:
            found = re.search(r"/marked/(\d+)/", answer.headers.get("Location", ""))
            # What cannot be read is asked for again, by a page.
            if answer.status_code in (200, 302):
                answer.success()
            return int(found[1]) if found else None


class Candidate(Somebody):
    """Takes the exam, question after question."""

    sort = "candidate"
    fixed_count = COUNTS[sort]

    def on_start(self):
        super().on_start()
        self.exam, self.number = None, 1

    @task
    def go_on(self):
        if self.exam is None:
            page = self.look(f"/exams/begin/{WORLD['requirements']}/", "exam, before")
            action, fields = Form(page.text).filled(self.rng, "key")
            fields.pop("code", None)
            begun = self.client.post(page.url, fields, name="exam begun")
            self.exam = re.search(r"/exams/(\d+)/", begun.url)[1]
            return
        path = f"/exams/{self.exam}/task/{self.number}/"
        page = self.look(path, "exam question")
        action, fields = Form(page.text).filled(self.rng, "revision")
        with self.client.post(
            path,
            fields,
            name="exam answer saved",
            headers={"Accept": "application/json"},
            catch_response=True,
        ) as answer:
            if answer.status_code != 200:
                return
            said = answer.json()
            LEDGER["answers"][f"{self.exam}/{self.number}"] = said["revision"]
        onward = re.search(r"/task/(\d+)/", said["go"])
        self.number = int(onward[1]) if onward else 1


class Officer(Somebody):
    """Fills in check sheets on a phone: each is saved several times and turned in."""

    sort = "officer"
    fixed_count = COUNTS[sort]

    def on_start(self):
        super().on_start()
        self._begin()

    def _begin(self):
        self.key, self.saves, self.device = str(uuid.uuid4()), 0, str(uuid.uuid4())

    @task(4)
    def save(self):
        self.saves += 1
        done = self.saves >= 5
        sent = WORLD["sheet"] | {
            "key": self.key,
            "user": self.me["pk"],
            "device": self.device,
            "number": self.saves,
            "notes": f"Save {self.saves}",
            "hands_in": done,
        }
        answer = self.client.post("/checks/send/", json=sent, name="sheet saved")
        if answer.status_code == 200:
            LEDGER["sheets"][self.key] = [self.saves, done]
        if done:
            self._begin()

    @task(1)
    def look_at_sheets(self):
        self.look("/checks/", "check sheets")

    @task(2)
    def read_a_lesson(self):
        self.read()


class Staff(Somebody):
    sort = "staff"
    fixed_count = COUNTS[sort]

    @task
    def look_at_pages(self):
        page = self.rng.choice(WORLD["staff_pages"])
        self.look(page, f"staff: {page}")
