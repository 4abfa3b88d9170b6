"""Texts that letters begin from: changed, made, taken off the list, put back."""

import uuid

import pytest
from django.urls import reverse

from tests.letters.conftest import WRITE
from training.letters import gaps, texts
from training.people.models import Reach

pytestmark = pytest.mark.django_db

LIST = reverse("letters:texts")


def change(client, slug, **changes):
    form = {"key": str(uuid.uuid4()), "title": "T", "subject": "S", "body": "B {link}", "brief": ""}
    url = reverse("letters:change_text", args=[slug]) if slug else reverse("letters:new_text")
    return client.post(url, form | changes)


def test_the_texts_of_the_site_have_no_gap_that_nothing_fills():
    for text in texts.standard().values():
        written = text.subject + text.body + text.brief
        assert not gaps.unknown(written, text.known)
        assert set(text.needs) <= set(gaps.gaps_in(text.subject + text.body))


def test_a_text_is_made_used_taken_off_and_put_back(as_staff, group, user):
    change(as_staff, "", title="Boots", body="{name}, boots.", key=(key := str(uuid.uuid4())))
    change(as_staff, "", title="Boots", body="{name}, boots.", key=key)
    (slug,) = [text.slug for text in texts.all_texts().values() if text.title == "Boots"]
    page = as_staff.get(WRITE, {"group": group.pk, "text": slug}).content.decode()
    assert "{name}, boots." in page
    remove = reverse("letters:remove_text", args=[slug])
    as_staff.post(remove, {"gone": "yes"})
    assert slug not in texts.all_texts()
    assert "Boots" in as_staff.get(LIST).content.decode()
    as_staff.post(remove, {"gone": "no"})
    assert texts.all_texts()[slug].body == "{name}, boots."


def test_the_latest_wording_holds_and_the_first_can_be_had_again(as_staff):
    change(as_staff, "go-on", body="One")
    change(as_staff, "go-on", body="Two")
    assert texts.current("go-on").body == "Two"
    url = reverse("letters:change_text", args=["go-on"])
    came = as_staff.get(url, {"as": "came"}).context["form"]["body"].value()
    assert came == texts.standard()["go-on"].body
    older = as_staff.get(url).context["versions"][1]
    assert as_staff.get(url, {"as": older.pk}).context["form"]["body"].value() == "One"


def test_an_invitation_without_its_link_is_refused(as_staff):
    page = change(as_staff, texts.INVITATION, body="Welcome")
    assert "{link}" in str(page.context["form"].errors["body"])
    assert texts.current(texts.INVITATION).body != "Welcome"


def test_what_the_site_sends_by_itself_is_for_staff_of_the_whole_fleet(as_staff, staff, group):
    assert change(as_staff, texts.SESSION, body="Come").status_code == 302
    remove = reverse("letters:remove_text", args=[texts.SESSION])
    assert as_staff.post(remove, {"gone": "yes"}).status_code == 403
    Reach.objects.create(user=staff, harbor=group.harbor)
    assert change(as_staff, texts.SESSION, body="Stay").status_code == 403
    assert texts.current(texts.SESSION).body == "Come"
    assert change(as_staff, "go-on", body="Go on").status_code == 302
