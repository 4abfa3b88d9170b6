"""The way in, the lessons' pages, and saying that one has been read."""

import re

import pytest
from django.test import Client
from django.urls import reverse

from training.lessons.loader import all_lessons
from training.lessons.models import LessonRead

from .test_progress import attempt, read_all

pytestmark = pytest.mark.django_db

QUERIES = 10  # the most that a lesson may cost
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
    page = text(as_user.get("/"))
    assert "Hello, Wren" in page
    assert "1 of 10 lessons complete" in page
    assert len(next_steps(page)) == 1
    assert 'href="/lessons/what-a-sweep-costs/">Read: What a sweep costs</a>' in page
    assert len(re.findall(r'class="lesson-state', page)) == 10


def test_a_trainee_who_has_done_it_all_is_told(as_user, user):
    read_all(user)
    for kind in {kind for lesson in all_lessons() for kind in lesson.exercises}:
        attempt(user, kind, passed=True)
    page = text(as_user.get("/"))
    assert "All lessons complete" in page
    assert len(next_steps(page)) == 1


def test_an_officer_can_practise_checking(as_officer):
    page = text(as_officer.get("/"))
    assert reverse("exercises:do", args=["judge-rig"]) in page
    assert "Measuring so that two people agree" in page
    assert "Converting, step by step" not in page


def test_staff_are_led_to_the_trainees(as_staff):
    page = text(as_staff.get("/"))
    assert f'class="button" href="{reverse("fleet:trainees")}"' in page
    assert "<progress" not in page


def test_anyone_may_read(client):
    assert "Droppers: where and how many" in text(client.get(reverse("lessons:list")))
    page = text(client.get(DROPPERS))
    assert f"{reverse('accounts:sign_in')}?next={DROPPERS}" in page
    assert "I have read this" not in page


@pytest.mark.parametrize("lesson", all_lessons(), ids=lambda lesson: lesson.slug)
def test_every_lesson_shows_its_parts(as_user, lesson):
    page = text(as_user.get(reverse("lessons:detail", args=[lesson.slug])))
    assert page.count("<h1>") == 1
    assert f"<h1>{lesson.title}</h1>" in page
    assert f"{lesson.minutes} minutes" in page
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
    assert response.redirect_chain == [(DROPPERS, 302)]
    page = text(response)
    assert "Saved: you have read" in page
    assert "I have read this" not in page
    assert len(next_steps(page)) == 1
    assert LessonRead.objects.filter(user=user, slug="droppers").count() == 1


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
    assert response.url.startswith(reverse("accounts:sign_in"))
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
    with django_assert_max_num_queries(QUERIES):
        assert client.get(url).status_code == 200
