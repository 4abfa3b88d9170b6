"""A lesson that was read without signal: said once, when there is signal again."""

import uuid

import pytest
from django.urls import reverse

from tests.inbox.noting import send
from training.inbox.models import Arrival
from training.lessons.models import LessonRead

pytestmark = pytest.mark.django_db
READ = reverse("lessons:read", args=["why-fish-part"])


def test_a_lesson_read_without_signal_is_read_once_it_arrives(as_user, user):
    key = uuid.uuid4()
    told = [send(as_user, user, READ, {}, key=key).json() for _ in range(2)]
    assert told[0] == told[1]
    assert told[0]["outcome"] == "taken"
    assert LessonRead.objects.get().slug == "why-fish-part"
    assert Arrival.objects.count() == 1


def test_what_a_script_sent_before_the_page_is_said_once(as_user):
    for _ in range(2):
        response = as_user.post(READ)
    page = as_user.get(response.url).content.decode()
    assert page.count("Saved: you have read") == 1
