"""What staff see of what an exam is expected to do."""

import pytest
from django.urls import reverse

from tests.certification.candidates import make_strict

pytestmark = pytest.mark.django_db


def test_the_page_of_a_certificate_says_what_to_expect(as_staff):
    requirements = make_strict()
    page = as_staff.get(
        reverse("certification:requirements", args=[requirements.slug])
    ).content.decode()
    assert "What to expect" in page
    assert "Of 100 people who know 95 percent of the rules" in page
    # So few questions cannot keep out those who know 60 percent.
    assert "The aim is at most 5." in page
    assert "It has no source" in page


def test_so_does_the_page_on_which_one_composes(as_staff):
    requirements = make_strict()
    page = as_staff.get(reverse("certification:change_requirements", args=[requirements.slug]))
    assert "What to expect" in page.content.decode()
