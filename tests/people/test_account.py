"""A person's own page, and who may see what."""

import pytest
from django.core.exceptions import PermissionDenied
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from tests.site import PASSWORD
from training.people import sight
from training.people.models import Group, Membership, Role, User

pytestmark = pytest.mark.django_db


def test_the_account_page_is_for_its_owner(client, as_user, user, group, settings):
    settings.SITE_DEMO = False  # the demo marks every page besides
    url = reverse("people:account")
    assert client.get(url)["Location"] == f"{reverse('people:sign_in')}?next={url}"
    html = as_user.get(url).content.decode()
    assert user.email in html
    assert group.name in html
    assert "demo data" not in html


def test_a_demo_group_is_marked(as_user, group, settings):
    settings.SITE_DEMO = False
    Group.objects.update(is_demo=True)
    assert "demo data" in as_user.get(reverse("people:account")).content.decode()


def test_the_name_can_be_mended_and_nothing_else(as_user, user):
    form = {"name": "Wren Q. Tolliver", "role": "staff", "email": "x@example.com"}
    response = as_user.post(reverse("people:account"), form, follow=True)
    assert "Your name is saved." in response.content.decode()
    user.refresh_from_db()
    assert (user.name, user.role, user.email) == (
        "Wren Q. Tolliver",
        Role.TRAINEE,
        "wren@example.com",
    )


def test_an_empty_name_is_refused(as_user, user):
    page = as_user.post(reverse("people:account"), {"name": " "})
    assert list(page.context["form"].errors) == ["name"]
    user.refresh_from_db()
    assert user.name == "Wren Tolliver"


def test_changing_the_password_asks_for_the_old_one_and_stays_signed_in(as_user, user):
    url = reverse("people:password")
    new = "dowitcher at low water"
    wrong = as_user.post(url, {"old_password": "wrong", "new_password": new})
    assert list(wrong.context["form"].errors) == ["old_password"]
    right = as_user.post(url, {"old_password": PASSWORD, "new_password": new}, follow=True)
    assert right.status_code == 200
    assert right.context["user"] == user
    user.refresh_from_db()
    assert user.check_password(new)


def test_a_new_password_signs_out_other_devices(as_user, user):
    other = Client()
    other.force_login(user)
    new = "dowitcher at low water"
    as_user.post(reverse("people:password"), {"old_password": PASSWORD, "new_password": new})
    assert other.get(reverse("people:account")).status_code == 302


@pytest.mark.parametrize(
    ("guard", "allowed"),
    [(sight.staff, {"staff"}), (sight.officers, {"officer", "staff"})],
)
def test_guards_let_their_roles_in_and_refuse_others(rf, user, officer, staff, guard, allowed):
    view = guard(lambda request: HttpResponse("in"))
    for person in (user, officer, staff):
        request = rf.get("/somewhere/")
        request.user = person
        if person.role in allowed:
            assert view(request).content == b"in"
        else:
            with pytest.raises(PermissionDenied):
                view(request)


@pytest.mark.parametrize("guard", [sight.staff, sight.officers])
def test_guards_send_strangers_to_sign_in(rf, guard):
    from django.contrib.auth.models import AnonymousUser

    request = rf.get("/somewhere/")
    request.user = AnonymousUser()
    response = guard(lambda request: HttpResponse("in"))(request)
    assert response["Location"] == f"{reverse('people:sign_in')}?next=/somewhere/"


def test_a_superuser_is_staff_and_an_ordinary_user_is_not():
    chief = User.objects.create_superuser("chief@example.com", PASSWORD, name="Chief")
    assert chief.is_staff
    assert chief.has_perm("people.delete_user")
    plain = User.objects.create_user("plain@example.com", PASSWORD, name="Plain")
    assert not plain.is_staff
    assert plain.get_all_permissions() == set()


def test_closing_an_account_takes_its_permissions(staff):
    assert staff.get_all_permissions() == set()
    staff.is_superuser = True
    assert staff.has_perm("people.view_group")
    staff.is_active = False
    assert not staff.has_perm("people.view_group")


def test_a_user_needs_an_email():
    with pytest.raises(ValueError, match="email"):
        User.objects.create_user("")


def test_groups_with_members_stay(user, group):
    from django.db.models import ProtectedError

    with pytest.raises(ProtectedError):
        group.delete()
    assert Membership.objects.filter(user=user).exists()


def test_every_page_of_the_demo_is_marked(client, settings):
    assert "demo data" in client.get(reverse("home")).content.decode()
    settings.SITE_DEMO = False
    assert "demo data" not in client.get(reverse("home")).content.decode()
