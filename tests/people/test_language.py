"""The scripts speak the language of the page."""

from django.test import Client
from django.urls import reverse
from django.utils import translation

from training.sea import parts


def test_an_english_page_loads_no_catalog(client, db):
    page = client.get(reverse("people:sign_in")).content.decode()
    assert '<html lang="en"' in page
    assert reverse("words") not in page
    assert reverse("words") not in parts.everything()


def test_a_page_in_another_language_loads_its_catalog_before_any_script(db):
    with translation.override("fr"):
        page = Client().get(reverse("people:sign_in")).content.decode()
        assert '<html lang="fr"' in page
        assert page.index(f'<script src="{reverse("words")}">') < page.index('type="module"')
        assert reverse("words") in parts.everything()


def test_the_catalog_is_a_script_that_anybody_may_have(client):
    answer = client.get(reverse("words"))
    assert answer["Content-Type"].startswith("text/javascript")
    assert "max-age" in answer["Cache-Control"]
    assert "gettext" in answer.content.decode()
