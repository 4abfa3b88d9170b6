"""The way in, the lessons' pages, and saying that one has been read."""

import re

import pytest
from django.test import Client
from django.urls import reverse

from tests.lessons.test_progress import (
    LEGS,
    answer_all,
    attempt,
    know_all,
    pass_all,
    read_all,
    right_about,
)
from training.course.progress import outline, progress_for
from training.lessons.loader import all_lessons
from training.lessons.models import LessonRead
from training.recall.models import ReadingSet

pytestmark = pytest.mark.django_db

QUERIES = 10  # the most that a lesson may cost
HOME_QUERIES = 24  # the first page, which tells of nets, certificates, vessels and more
TODAY_QUERIES = 40  # that of the staff: sessions, calls, what waits and what is new
DROPPERS = reverse("lessons:detail", args=["droppers"])
SAY_READ = reverse("lessons:read", args=["droppers"])


def text(response):
    assert response.status_code == 200
    return response.content.decode()


def next_steps(page):
    return re.findall(r'class="next-step', page)


def test_a_visitor_sees_what_the_site_is_and_the_ways_in(client):
    page = text(client.get("/"))
    for words in ("Fishermen", "Officers", "Outreach staff", "Sign up", "Sign in"):
        assert words in page
    assert len(next_steps(page)) == 1
    assert "<progress" not in page


def test_a_trainee_sees_how_far_and_one_next_step(as_user, user):
    LessonRead.objects.note(user, "why-fish-part")
    right_about(user, "off_bottom")
    page = text(as_user.get("/"))
    assert "Hello, Wren" in page
    assert "1 of 10 lessons complete" in page
    assert len(next_steps(page)) == 1
    assert 'href="/lessons/what-a-sweep-costs/">Read: What a sweep costs</a>' in page
    assert 'href="/lessons/"' in page


def test_a_trainee_who_has_done_it_all_is_told(as_user, user):
    read_all(user)
    pass_all(user)
    know_all(user)
    page = text(as_user.get("/"))
    assert "All lessons complete" in page
    assert len(next_steps(page)) == 1


def test_an_officer_can_practice_checking(as_officer):
    page = text(as_officer.get("/"))
    assert reverse("exercises:do", args=["judge-rig"]) in page
    listed = text(as_officer.get(reverse("lessons:list")))
    assert "Measuring so that two people agree" in listed
    assert "Converting, step by step" not in listed


def test_staff_are_led_to_the_trainees(as_staff):
    page = text(as_staff.get("/"))
    assert f'href="{reverse("desk:trainees")}"' in page
    assert "<progress" not in page


def test_anyone_may_read(client):
    assert "Droppers: where and how many" in text(client.get(reverse("lessons:list")))
    page = text(client.get(DROPPERS))
    assert f"{reverse('people:sign_in')}?next={DROPPERS}" in page
    assert "I have read this" not in page


@pytest.mark.parametrize("lesson", all_lessons(), ids=lambda lesson: lesson.slug)
def test_every_lesson_shows_its_parts(as_user, user, lesson):
    page = text(as_user.get(reverse("lessons:detail", args=[lesson.slug])))
    assert page.count("<h1>") == 1
    assert f"<h1>{lesson.title}</h1>" in page
    assert f"{minutes_of(user, lesson)} minutes" in page
    assert 'class="caution' in page
    assert lesson.rulebook.title in page
    assert "{{" not in page
    assert "}}" not in page


@pytest.mark.parametrize("lesson", all_lessons(), ids=lambda lesson: lesson.slug)
def test_every_rule_set_that_a_lesson_draws_on_is_named_with_its_date(client, lesson):
    page = text(client.get(reverse("lessons:detail", args=[lesson.slug])))
    used = page.split("Rules used on this page:")[1].split("</ul>")[0]
    assert used.count("<li>") == len(lesson.books)
    for book in lesson.books:
        assert book.title in used
        assert f"{book.effective_from:%B} {book.effective_from.day}" in used
        assert book.citation in used


@pytest.mark.parametrize("lesson", all_lessons(), ids=lambda lesson: lesson.slug)
def test_the_mark_is_explained_once_where_there_is_one(client, lesson):
    page = text(client.get(reverse("lessons:detail", args=[lesson.slug])))
    assert page.count("Limits marked * were written from memory.") == lesson.has_marks
    assert ("*" in lesson.body) is lesson.has_marks


def test_practice_of_a_lesson_is_shown_with_its_state(as_user, user):
    assert "not passed yet" in text(as_user.get(DROPPERS))
    attempt(user, "space-droppers", passed=True)
    page = text(as_user.get(DROPPERS))
    assert "not passed yet" not in page
    assert reverse("exercises:do", args=["space-droppers"]) in page


def test_a_lesson_that_does_not_exist_is_not_found(as_user):
    assert as_user.get(reverse("lessons:detail", args=["knots"])).status_code == 404
    assert as_user.post(reverse("lessons:read", args=["knots"])).status_code == 404
    assert not LessonRead.objects.exists()


def test_saying_read_is_noted_and_leads_on(as_user, user):
    response = as_user.post(SAY_READ, follow=True)
    reading_set = ReadingSet.objects.get()
    assert response.redirect_chain == [(reverse("recall:set", args=[reading_set.pk]), 302)]
    assert "Saved: you have read" in text(response)
    assert LessonRead.objects.filter(user=user, slug="droppers").count() == 1
    # Where the rules are known its practice comes next, and after that another lesson.
    know_all(user)
    assert as_user.post(SAY_READ).url == reverse("exercises:do", args=["space-droppers"])
    page = text(as_user.get(DROPPERS))
    assert "I have read this" not in page
    assert len(next_steps(page)) == 1
    attempt(user, "space-droppers", passed=True)
    following = progress_for(user).next_step.url
    assert following.startswith("/lessons/")
    assert as_user.post(SAY_READ).url == following


def test_who_has_done_it_all_is_led_home(as_user, user):
    read_all(user)
    pass_all(user)
    know_all(user)
    assert as_user.post(SAY_READ).url == "/"
    assert as_user.post(reverse("lessons:read", args=["being-fair"])).url == "/"


def numbers(page):
    return [int(each) for each in re.findall(r'class="lesson-number"[^>]*>(\d+)<', page)]


@pytest.mark.parametrize(("client_of", "last"), [("as_user", 10), ("as_officer", 16)])
def test_lessons_are_numbered_without_gaps(request, client_of, last):
    client = request.getfixturevalue(client_of)
    listed = text(client.get(reverse("lessons:list")))
    assert numbers(listed) == list(range(1, last + 1))
    for number, path in enumerate(re.findall(r'<a href="(/lessons/[a-z-]+/)">', listed), 1):
        assert f"Lesson {number}</li>" in text(client.get(path))


@pytest.mark.parametrize("client_of", ["client", "as_staff"])
def test_who_sees_all_lessons_has_a_list_a_track(request, client_of):
    page = text(request.getfixturevalue(client_of).get(reverse("lessons:list")))
    # Ten of crews, of which officers have nine, and seven that only officers read.
    assert numbers(page) == [*range(1, 11), *range(10, 17)]
    assert page.index("For fishermen") < page.index("For officers, after the shared ones")


def test_a_visitor_is_led_to_the_next_lesson_of_the_track(client):
    last = text(client.get(reverse("lessons:detail", args=["what-an-officer-checks"])))
    assert "Read: " not in last
    assert "Read: Converting, step by step" in text(
        client.get(reverse("lessons:detail", args=["shine-and-tuning"]))
    )


def test_saying_read_again_changes_nothing(as_user, user):
    as_user.post(SAY_READ)
    first = LessonRead.objects.get()
    as_user.post(SAY_READ)
    assert LessonRead.objects.get().read_at == first.read_at


def test_saying_read_takes_a_post(as_user):
    assert as_user.get(SAY_READ).status_code == 405


def test_saying_read_takes_a_person(client):
    response = client.post(SAY_READ)
    assert response.status_code == 302
    assert response.url.startswith(reverse("people:sign_in"))
    assert not LessonRead.objects.exists()


def test_saying_read_takes_a_token(user):
    client = Client(enforce_csrf_checks=True)
    client.force_login(user)
    assert client.post(SAY_READ).status_code == 403
    assert not LessonRead.objects.exists()


@pytest.mark.parametrize("name", ["as_user", "as_officer", "as_staff"])
@pytest.mark.parametrize("url", [DROPPERS, "/", reverse("lessons:list")])
def test_a_page_costs_few_queries(request, name, url, django_assert_max_num_queries):
    client = request.getfixturevalue(name)
    client.get(url)
    first = TODAY_QUERIES if name == "as_staff" else HOME_QUERIES
    with django_assert_max_num_queries(first if url == "/" else QUERIES):
        assert client.get(url).status_code == 200


def minutes_of(user, lesson):
    state = progress_for(user).of(lesson.slug) or outline().of(lesson.slug)
    return state.minutes


def test_lists_home_and_lesson_tell_the_same_minutes(as_user, client, user):
    progress = progress_for(user)
    home, listed = text(as_user.get("/")), text(as_user.get(reverse("lessons:list")))
    for page in (home, listed):
        assert f"about {progress.minutes_left} minutes left" in page
    for each in progress.lessons:
        assert f"{each.minutes} min, {each.state}" in listed
    first = progress.next_step
    assert f"about {first.minutes} minutes" in home
    for each in outline().lessons:
        page = text(client.get(each.url))
        assert f'<li class="tag">{each.minutes} minutes</li>' in page


def test_after_reading_come_the_readings_and_then_the_lesson_is_complete(as_user, user):
    page = reverse("lessons:detail", args=[LEGS])
    as_user.post(reverse("lessons:read", args=[LEGS]))
    assert reverse("recall:lesson", args=[LEGS]) in text(as_user.get(page))
    response = as_user.post(reverse("recall:lesson", args=[LEGS]))
    reading_set = ReadingSet.objects.get()
    assert response.url == reverse("recall:set", args=[reading_set.pk])
    assert (reading_set.purpose, reading_set.subject) == ("lesson", LEGS)
    as_user.post(reverse("recall:lesson", args=[LEGS]))  # tapped twice: still one set
    assert ReadingSet.objects.count() == 1
    answer_all(reading_set, miss=1)
    assert not progress_for(user).of(LEGS).complete
    # Only what was missed is asked again.
    as_user.post(reverse("recall:lesson", args=[LEGS]))
    again = ReadingSet.objects.first()
    assert again.readings.count() == 1
    answer_all(again)
    assert progress_for(user).of(LEGS).complete
    assert "Complete" in text(as_user.get(page))
    ended = text(as_user.get(reverse("recall:set", args=[again.pk])))
    assert f'href="{progress_for(user).next_step.url}"' in ended


def test_who_knows_a_lesson_can_be_tested_instead_of_reading_it(as_user, user):
    page = reverse("lessons:detail", args=[LEGS])
    assert "I know this already" in text(as_user.get(page))
    as_user.post(reverse("recall:known", args=[LEGS]))
    reading_set = ReadingSet.objects.get()
    assert reading_set.readings.count() == progress_for(user).of(LEGS).readings_to_pass
    answer_all(reading_set)
    shown = text(as_user.get(page))
    assert "Passed by its readings" in shown
    assert "I know this already" not in shown
    assert not LessonRead.objects.exists()


def test_a_lesson_that_asks_no_rules_cannot_be_passed_unread(as_user):
    assert "I know this already" not in text(
        as_user.get(reverse("lessons:detail", args=["shine-and-tuning"]))
    )
    as_user.post(reverse("recall:known", args=["shine-and-tuning"]))
    assert not ReadingSet.objects.exists()


@pytest.mark.parametrize("name", ["lesson", "known"])
def test_readings_of_a_lesson_are_for_its_course(as_user, client, name):
    assert as_user.post(reverse(f"recall:{name}", args=["being-fair"])).status_code == 404
    assert client.post(reverse(f"recall:{name}", args=[LEGS])).status_code == 302
    assert as_user.get(reverse(f"recall:{name}", args=[LEGS])).status_code == 405
    assert not ReadingSet.objects.exists()


def test_the_list_says_what_was_missed_and_what_is_known(as_user, user):
    know_all(user)
    right_about(user, "legs_equal", right=False)
    page = text(as_user.get(reverse("lessons:list")))
    assert page.count("You missed 1 of its rules.") == 1
    assert "You were right about its rules. You can leave it for last." in page


def test_a_lesson_can_be_heard(client):
    page = text(client.get(DROPPERS))
    assert "js/hear.js" in page
    # Hidden until a script has found a voice, and told of by a status.
    bar = page.split("data-hear=")[1].split("</div>")[0]
    assert " hidden>" in bar
    assert 'role="status"' in bar


def test_drawings_have_words_that_stand_for_them():
    for lesson in all_lessons():
        for drawing in re.findall(r"<svg\b.*?</svg>", lesson.body, re.DOTALL):
            title, about = re.search(
                r"<title[^>]*>(.*?)</title>\s*<desc[^>]*>(.*?)</desc>", drawing, re.DOTALL
            ).groups()
            assert title
            assert len(about.split()) >= 8, (lesson.slug, about)
