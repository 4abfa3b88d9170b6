"""How a person may be reached: said on the account page, kept as typed, dialed by a link."""

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse

from training.people import phones
from training.people.models import User
from training.people.models.users import ReachBy


@pytest.mark.parametrize(
    ("typed", "ring", "text"),
    [
        ("508-555-0142", "tel:5085550142", "sms:5085550142"),
        (" (508) 555.0142 ", "tel:5085550142", "sms:5085550142"),
        ("+1 508 555 0142", "tel:+15085550142", "sms:+15085550142"),
        ("555-0142", "tel:5550142", "sms:5550142"),
        ("508-555-0142 x12", "tel:5085550142;ext=12", ""),
        ("508 555 0142, Ext. 7", "tel:5085550142;ext=7", ""),
    ],
)
def test_a_number_is_dialed_as_it_was_typed(typed, ring, text):
    phones.check(typed)
    assert (phones.to_ring(typed), phones.to_text(typed)) == (ring, text)


@pytest.mark.parametrize(
    "typed",
    ["", "no phone", "911", "555-01", "1234567890123456", "tel:5085550142", "508-555-0142;x=1"]
    + ["javascript:1234567", "508+555+0142", "5085550142 x"],
)
def test_what_cannot_be_dialed_makes_no_link(typed):
    with pytest.raises(ValidationError, match="like 508-555-0142"):
        phones.check(typed)
    assert (phones.to_ring(typed), phones.to_text(typed)) == ("", "")


@pytest.mark.django_db
class TestAccountPage:
    def say(self, client, **said):
        return client.post(reverse("people:contact"), said, follow=True)

    def test_keeps_what_was_said(self, as_user, user):
        page = self.say(as_user, phone="508-555-0142", reach_by="text", role="staff", name="X")
        assert "Saved how to reach you." in page.content.decode()
        found = User.objects.get(pk=user.pk)
        assert (found.phone, found.reach_by) == ("508-555-0142", ReachBy.TEXT)
        assert (found.name, found.role) == (user.name, user.role)
        assert 'value="508-555-0142"' in as_user.get(reverse("people:account")).content.decode()
        self.say(as_user, phone="", reach_by="")
        found.refresh_from_db()
        assert (found.phone, found.reach_by) == ("", ReachBy.NOT_SAID)

    @pytest.mark.parametrize("said", [{"phone": "12"}, {"phone": "", "reach_by": "call"}])
    def test_keeps_nothing_that_cannot_be_used(self, as_user, user, said):
        content = self.say(as_user, **said).content.decode()
        assert "number" in content
        # The other form of the page, and the way round it, still have the person's name.
        assert f'value="{user.name}"' in content
        found = User.objects.get(pk=user.pk)
        assert (found.phone, found.reach_by) == ("", "")

    def test_a_name_that_was_refused_leaves_the_rest_alone(self, as_user, user):
        User.objects.filter(pk=user.pk).update(phone="508-555-0142")
        page = as_user.post(reverse("people:account"), {"name": ""}).content.decode()
        assert 'value="508-555-0142"' in page
        assert User.objects.get(pk=user.pk).name == user.name
