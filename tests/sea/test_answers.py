"""What the site tells a phone that keeps its pages: whose they are, what there is, who is gone."""

from io import BytesIO

import pytest
from django.contrib.staticfiles import finders
from django.urls import reverse
from PIL import Image

from training.privacy.erasure import erase
from training.sea import icons, parts

pytestmark = pytest.mark.django_db

LIST, STILL = reverse("sea:list"), reverse("sea:still")


def test_a_page_says_whose_it_is(client, as_user, user):
    assert as_user.get("/lessons/")["Whose-Page"] == str(user.pk)
    assert client.get("/lessons/")["Whose-Page"] == "0"
    assert as_user.get("/no-such-page/")["Whose-Page"] == str(user.pk)


def test_what_a_monitor_asks_names_nobody(as_user):
    assert "Whose-Page" not in as_user.get("/health/")


def test_a_word_said_once_waits_for_a_page_that_is_looked_at(as_user):
    form = {"name": "Wren Marlow"}
    as_user.post("/account/", form)
    for_later = as_user.get("/account/", headers={"For-Later": "1"})
    assert "Your name is saved." not in for_later.content.decode()
    assert "Said-Once" not in for_later
    looked_at = as_user.get("/account/")
    assert "Your name is saved." in looked_at.content.decode()
    assert looked_at["Said-Once"] == "1"
    assert "Said-Once" not in as_user.get("/account/")


def test_the_list_is_of_who_asks(as_user, user):
    told = as_user.get(LIST).json()
    assert told["person"] == user.pk
    assert told["version"] == parts.version() == as_user.get("/")["Site-Version"]
    assert "/sea/" in [part["address"] for part in told["parts"]]


def test_a_phone_hears_of_an_account_that_was_deleted(client, as_user, user):
    token = as_user.get(LIST).json()["token"]
    assert client.post(STILL, {"token": token}).json() == {"still": True}
    erase(user)
    assert client.post(STILL, {"token": token}).json() == {"still": False}
    assert client.post(STILL, {"token": str(user.pk)}).status_code == 422


def test_the_worker_is_sent_once_for_each_version(client):
    first = client.get(reverse("sea:worker"))
    assert first["Content-Type"].startswith("text/javascript")
    script = first.content.decode()
    assert "import " not in script.split("/*")[0]
    assert f'"{parts.version()}"' in script
    again = client.get(reverse("sea:worker"), headers={"If-None-Match": first["ETag"]})
    assert again.status_code == 304


def test_all_that_the_worker_brings_is_there(client):
    for address in parts.core()[:2]:
        answer = client.get(address)
        assert answer.status_code == 200
        assert "data-person" not in answer.content.decode()
    for address in parts.everything():
        assert finders.find(address.removeprefix("/static/")), address


def test_the_icons_are_made_from_the_mark(client):
    for told in client.get(reverse("sea:manifest")).json()["icons"]:
        assert finders.find(told["src"].removeprefix("/static/"))
    for icon in icons.ICONS:
        kept = BytesIO((icons.STATIC / icon.name).read_bytes())
        assert Image.open(kept).convert("RGBA").tobytes() == icons.picture(icon).tobytes()
