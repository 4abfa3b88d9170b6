"""A task without an account: set, graded, kept for the device alone, and taken along once."""

import re

import pytest
from django.contrib.sessions.models import Session
from django.core.cache import cache
from django.test import Client
from django.urls import reverse

from tests.exercises.conftest import right_answer
from tests.site import PASSWORD
from training.exercises import handing, kinds
from training.exercises.models import Assignment, Attempt
from training.nets.models import Net
from training.people.models import Membership, User
from training.people.views import WITHOUT_CODE
from training.trying import bringing, tasks, views
from training.trying.kept import MOST, Kept

pytestmark = pytest.mark.django_db

TASK = "/try/task/one-reading/"


@pytest.fixture(autouse=True)
def no_limits_reached():
    cache.clear()


def text_named(page):
    """Return the signed text in the form of ``page``."""
    return re.search(r'name="task" value="([^"]+)"', page.content.decode())[1]


def answer(client, right=True, url=TASK):
    """Ask for a task and answer it; return what the site answers."""
    text = text_named(client.get(url))
    task = handing.task_of(tasks.named(text))
    said = right_answer(task)
    if not right:
        said = {"said": "met" if said["said"] == "broken" else "broken"}
    return client.post(url, {"task": text} | said)


def sign_up(client, **changes):
    typed = {
        "name": "Avocet Brand",
        "email": "avocet@example.com",
        "password": "mudflat at low water",
        "code": "TERN42",
    }
    return client.post("/account/sign-up/", typed | changes, follow=True)


class TestATask:
    def test_looking_keeps_nothing_and_makes_no_session(self, client):
        for url in ("/", "/try/", TASK, "/try/kept/"):
            assert client.get(url).status_code == 200
        assert not Session.objects.exists()
        assert not Assignment.objects.exists()

    def test_the_first_page_promises_no_more_than_the_kind_takes(self, client):
        assert "A task takes under a minute." in client.get("/").content.decode()
        assert kinds.get(tasks.FIRST).seconds < 60
        assert reverse("trying:task", args=[tasks.FIRST]) in client.get("/").content.decode()

    @pytest.mark.parametrize("right", [True, False])
    def test_the_rule_module_grades_it(self, client, right):
        response = answer(client, right)
        assert response["Location"] == "/try/result/1/"
        page = client.get(response["Location"]).content.decode()
        assert f"<strong>{int(right)} of 1</strong> point" in page
        assert ("Passed." in page) == right
        assert "50 CFR" in page
        assert not Attempt.objects.exists()

    def test_the_session_holds_what_makes_the_task_and_the_raw_answer_alone(self, client):
        answer(client)
        assert set(client.session.keys()) == {"tried", "_session_expiry"}
        (entry,) = client.session["tried"]["answers"]
        assert set(entry) == {"task", "answer"}
        assert set(entry["task"]) == {
            *("kind", "kind_version", "seed", "difficulty"),
            *("rulebook_name", "rulebook_version", "focus"),
        }
        assert set(entry["answer"]) == {"said"}

    def test_the_first_answer_to_a_task_stands(self, client):
        text = text_named(client.get(TASK))
        for said in ("met", "broken", "broken"):
            assert client.post(TASK, {"task": text, "said": said})["Location"] == "/try/result/1/"
        (entry,) = client.session["tried"]["answers"]
        assert entry["answer"] == {"said": "met"}

    def test_no_answer_is_asked_for_again_with_the_same_task(self, client):
        text = text_named(client.get(TASK))
        page = client.post(TASK, {"task": text})
        assert tasks.recipe(tasks.named(text_named(page))) == tasks.recipe(tasks.named(text))
        assert "Choose one: met or broken." in page.content.decode()
        assert "tried" not in client.session

    @pytest.mark.parametrize("text", ["", "made up", "e30:1v:abc"])
    def test_a_task_that_the_site_did_not_draw_is_not_taken(self, client, text):
        response = client.post(TASK, {"task": text, "said": "met"})
        assert response["Location"] == TASK
        assert "tried" not in client.session

    def test_a_task_of_the_day_before_yesterday_is_too_old(self, client, monkeypatch):
        text = text_named(client.get(TASK))
        monkeypatch.setattr(tasks, "_LASTS", -1)
        assert client.post(TASK, {"task": text, "said": "met"})["Location"] == TASK

    def test_two_right_running_and_the_next_is_harder(self, client):
        for __ in range(2):
            answer(client)
        assert tasks.named(text_named(client.get(TASK))).difficulty == 2
        answer(client, right=False)
        assert tasks.named(text_named(client.get(TASK))).difficulty == 1

    def test_every_kind_can_be_tried(self, client):
        for slug in kinds.KINDS:
            url = reverse("trying:task", args=[slug])
            text = text_named(client.get(url))
            task = handing.task_of(tasks.named(text))
            where = client.post(url, {"task": text} | right_answer(task))["Location"]
            attempt = handing.graded(tasks.named(text), right_answer(task))
            page = client.get(where).content.decode()
            assert f"<strong>{attempt.out_of} of {attempt.out_of}</strong>" in page, slug

    def test_whoever_has_an_account_goes_to_the_exercises(self, as_user):
        assert as_user.get(TASK)["Location"] == "/exercises/one-reading/"
        assert as_user.get("/try/")["Location"] == "/exercises/"

    def test_what_nobody_kept_is_not_there(self, client):
        assert client.get("/try/result/1/").status_code == 404
        assert client.get("/try/task/no-such-kind/").status_code == 404


class TestLimits:
    def test_a_session_keeps_so_many_and_no_more(self, client):
        answer(client)
        session = client.session
        first = session["tried"]["answers"][0]
        many = [first | {"task": first["task"] | {"seed": seed}} for seed in range(MOST)]
        session["tried"] = {"answers": many, "net": None}
        session.save()
        assert client.get(TASK)["Location"] == "/try/kept/"
        assert f"You did {MOST} tasks" in client.get("/try/kept/").content.decode()

    def test_a_machine_is_asked_to_wait(self, client, monkeypatch):
        monkeypatch.setattr(views.ANSWERS, "most", 3)
        assert [answer(client).status_code for __ in range(4)] == [302, 302, 302, 429]
        # Somebody at another address is not.
        other = Client(REMOTE_ADDR="192.0.2.7")
        assert answer(other).status_code == 302


class TestTakenAlong:
    def test_attempts_are_real_and_there_once(self, client, group):
        answer(client)
        answer(client, right=False)
        page = sign_up(client).content.decode()
        assert "Now on your record: 2 tasks." in page
        person = User.objects.get(email="avocet@example.com")
        attempts = Attempt.objects.by(person).order_by("pk")
        assert [(each.marks, each.passed) for each in attempts] == [(1, True), (0, False)]
        assert all(handing.remark(each).marks == each.marks for each in attempts)
        assert not Assignment.objects.open().filter(user=person).exists()
        assert "tried" not in client.session
        # What was missed comes back, as if it had been answered with an account.
        assert person.rule_memories.exists()

    def test_the_sign_up_page_says_what_comes_along(self, client):
        assert "comes along" not in client.get("/account/sign-up/").content.decode()
        answer(client)
        assert "comes along to your record: 1 task." in (
            client.get("/account/sign-up/").content.decode()
        )

    def test_the_same_session_taken_twice_at_once_makes_one_of_each(self, client, user):
        answer(client)
        kept = Kept(client.session)
        for __ in range(2):
            bringing.put_on_record(user, kept)
        assert Attempt.objects.by(user).count() == 1

    def test_an_open_task_of_the_same_kind_stays_open(self, client, user):
        handing.open_assignment(user, kinds.get("one-reading"))
        answer(client)
        bringing.put_on_record(user, Kept(client.session))
        assert Attempt.objects.by(user).count() == 1
        assert Assignment.objects.open().filter(user=user).count() == 1

    def test_a_sign_up_that_fails_loses_nothing(self, client, group):
        answer(client)
        sign_up(client, code="GULL7")
        assert client.session["tried"]["answers"]
        sign_up(client)
        assert Attempt.objects.count() == 1

    def test_who_signs_in_is_asked_if_it_was_them(self, client, user):
        answer(client)
        typed = {"username": user.email, "password": PASSWORD}
        response = client.post("/account/sign-in/", typed)
        assert response["Location"] == "/try/kept/"
        assert not Attempt.objects.exists()
        assert "Was that you?" in client.get("/try/kept/").content.decode()
        client.post("/try/kept/take/")
        assert Attempt.objects.by(user).count() == 1
        client.post("/try/kept/take/")
        assert Attempt.objects.by(user).count() == 1

    def test_who_signs_in_to_see_a_page_goes_there(self, client, user):
        answer(client)
        typed = {"username": user.email, "password": PASSWORD, "next": "/nets/"}
        assert client.post("/account/sign-in/", typed)["Location"] == "/nets/"

    def test_what_is_forgotten_is_gone(self, client, group):
        answer(client)
        client.post("/try/kept/forget/")
        assert "tried" not in client.session
        sign_up(client)
        assert not Attempt.objects.exists()

    def test_nobody_takes_along_without_an_account(self, client):
        answer(client)
        assert "/account/sign-in/" in client.post("/try/kept/take/")["Location"]
        assert not Attempt.objects.exists()


class TestWithoutACode:
    def test_a_code_is_asked_for_until_the_office_decides(self, client, group):
        sign_up(client, code="")
        assert not User.objects.exists()

    def test_the_office_allows_it_and_ends_it(self, client, as_staff, staff):
        as_staff.post("/account/signing-up/choose/", {"without_code": "yes"})
        as_staff.post("/account/signing-up/choose/", {"without_code": "yes"})
        assert as_staff.get("/account/signing-up/").content.decode().count(f"by {staff}") == 1
        assert "if you have one" in client.get("/account/sign-up/").content.decode()
        answer(client)
        sign_up(client, code="")
        person = User.objects.get(email="avocet@example.com")
        assert person.role == "trainee"
        assert not person.memberships.exists()
        assert Attempt.objects.by(person).count() == 1
        as_staff.post("/account/signing-up/choose/", {"without_code": "no"})
        sign_up(Client(), code="", email="dunlin@example.com")
        assert not User.objects.filter(email="dunlin@example.com").exists()

    def test_a_code_still_counts_where_none_is_needed(self, client, as_staff, group):
        as_staff.post("/account/signing-up/choose/", {"without_code": "yes"})
        sign_up(client, code="GULL7")
        assert not User.objects.filter(email="avocet@example.com").exists()
        sign_up(client)
        assert Membership.objects.get().group == group

    def test_only_so_many_a_day_and_codes_work_on(self, client, as_staff, group, monkeypatch):
        as_staff.post("/account/signing-up/choose/", {"without_code": "yes"})
        monkeypatch.setattr("training.people.joining.MOST_WITHOUT_CODE", 2)
        for name in ("avocet", "dunlin", "knot"):
            page = sign_up(Client(), code="", email=f"{name}@example.com")
        assert User.objects.filter(memberships=None, role="trainee").count() == 2
        assert "Too many people signed up without a code today" in page.content.decode()
        sign_up(client, email="plover@example.com")
        assert Membership.objects.get().user.email == "plover@example.com"

    def test_a_machine_that_signs_up_is_asked_to_wait(self, as_staff, group, monkeypatch):
        as_staff.post("/account/signing-up/choose/", {"without_code": "yes"})
        monkeypatch.setattr(WITHOUT_CODE, "most", 2)
        emails = [f"{name}@example.com" for name in ("avocet", "dunlin", "knot")]
        assert [sign_up(Client(), code="", email=each).status_code for each in emails] == [
            *(200, 200),
            429,
        ]
        # A class with its code is not held up by it.
        assert sign_up(Client(), email="plover@example.com").status_code == 200
        assert Membership.objects.count() == 1

    def test_the_first_page_says_what_one_needs(self, client, as_staff):
        assert "You need a group code." in client.get("/").content.decode()
        as_staff.post("/account/signing-up/choose/", {"without_code": "yes"})
        assert "You need a group code." not in client.get("/").content.decode()

    def test_staff_held_to_a_harbor_do_not_decide(self, as_staff, staff):
        staff.reaches.create(harbor="Marrow Point")
        assert as_staff.get("/account/signing-up/").status_code == 403
        assert (
            as_staff.post("/account/signing-up/choose/", {"without_code": "yes"}).status_code == 403
        )


class TestTheFootrope:
    def test_the_first_page_shows_it_without_a_script(self, client):
        page = client.get("/").content.decode()
        assert "The footrope is 18 in off the bottom." in page
        assert "Under it: 2 flatfish, 1 crab, 1 lobster." in page

    @pytest.mark.parametrize(
        ("asked", "told"),
        [
            ("0", "The footrope is on the bottom."),
            ("36", "The footrope is 36 in off the bottom."),
            ("37", "The footrope is 18 in off the bottom."),
            ("-1", "The footrope is 18 in off the bottom."),
            ("high", "The footrope is 18 in off the bottom."),
            ("", "The footrope is 18 in off the bottom."),
        ],
    )
    def test_a_height_is_shown_on_a_page_of_its_own(self, client, asked, told):
        page = client.get("/try/footrope/", {"height": asked}).content.decode()
        assert told in page

    def test_the_script_gets_what_the_page_shows(self, client):
        found = client.get("/try/footrope/heights/").json()
        assert len(found["frames"]) == 37
        for inch in (0, 5, 18, 36):
            page = client.get("/try/footrope/", {"height": inch}).content.decode()
            for sentence in found["frames"][inch]["told"]:
                assert f"<p>{sentence}</p>" in page
            assert found["frames"][inch]["words"] in page
            x, y = map(float, found["frames"][inch]["lines"]["arrow"].split()[0].split(","))
            drawn = re.search(r'points="([\d.]+),([\d.]+)[^>]*data-part="arrow"', page)
            assert [float(each) for each in drawn.groups()] == pytest.approx([x, y], abs=0.06)


class TestANet:
    NET = {
        "goal": "no-sweep",
        "bosom": "20 ft",
        "port_wing": "30 ft",
        "headrope": "70 ft",
        "has_sweep": "no",
        "name": "Blue net",
        "key": "0b0e7f0a-6a4c-4b53-9d86-1f0f6b7f6a51",
    }

    def entered(self, client, **changes):
        return client.post("/try/net/", self.NET | changes)

    def test_it_is_planned_as_a_saved_one_is(self, client, user, as_user):
        assert self.entered(client)["Location"] == "/try/net/plan/"
        page = client.get("/try/net/plan/").content.decode()
        as_user.post("/nets/new/", self.NET)
        saved = as_user.get(Net.objects.get().get_absolute_url()).content.decode()
        rows = [re.findall(r"<td[^>]*>(.*?)</td>", text) for text in (page, saved)]
        assert rows[0] == rows[1]
        assert len(rows[0]) > 6

    def test_nothing_is_saved_until_one_signs_up(self, client, group):
        self.entered(client)
        assert not Net.objects.exists()
        assert "Now on your record: a net." not in client.get("/").content.decode()
        assert "Now on your record: a net." in sign_up(client).content.decode()
        net = Net.objects.get()
        assert (net.owner.email, net.name, net.goal) == (
            "avocet@example.com",
            "Blue net",
            "no-sweep",
        )
        assert net.typed["bosom"] == "20 ft"
        assert net.measures["bosom"] == pytest.approx(20 * 0.3048)

    def test_it_can_be_changed_and_is_one_net(self, client, group):
        self.entered(client)
        assert 'value="20 ft"' in client.get("/try/net/").content.decode()
        self.entered(client, bosom="24 ft")
        answer(client)
        assert "1 task and a net" in client.get("/try/kept/").content.decode()
        sign_up(client)
        assert Net.objects.get().typed["bosom"] == "24 ft"

    def test_what_cannot_be_read_is_said_and_not_kept(self, client):
        page = self.entered(client, bosom="twenty")
        assert page.status_code == 200
        assert "tried" not in client.session
        assert client.get("/try/net/plan/")["Location"] == "/try/net/"

    def test_the_same_session_taken_twice_makes_one_net(self, client, user):
        self.entered(client)
        kept = Kept(client.session)
        for __ in range(2):
            bringing.put_on_record(user, kept)
        assert Net.objects.filter(owner=user).count() == 1
