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


@pytest.mark.parametrize("name", ["people_user_changelist", "people_group_changelist"])
def test_the_admin_is_for_staff(as_user, as_officer, as_staff, name):
    url = reverse(f"admin:{name}")
    assert as_user.get(url).status_code == 302
    assert as_officer.get(url).status_code == 302
    assert as_staff.get(url).status_code == 200


def test_staff_make_an_officer(as_staff, user):
    url = reverse("admin:people_user_change", args=[user.pk])
    inline = {
        "memberships-TOTAL_FORMS": "0",
        "memberships-INITIAL_FORMS": "0",
        "reaches-TOTAL_FORMS": "0",
        "reaches-INITIAL_FORMS": "0",
    }
    form = {"name": user.name, "email": user.email, "role": "officer", "is_active": "on"}
    response = as_staff.post(url, form | inline | {"is_superuser": "on"})
    assert response.status_code == 302
    user.refresh_from_db()
    assert user.role == Role.OFFICER
    assert not user.is_superuser


def test_staff_add_a_person_who_then_sets_a_password(as_staff, group):
    url = reverse("admin:people_user_add")
    form = {
        "name": "Godwit Marsh",
        "email": "Godwit@example.com",
        "role": "trainee",
        "memberships-TOTAL_FORMS": "1",
        "memberships-INITIAL_FORMS": "0",
        "memberships-0-group": str(group.pk),
        "reaches-TOTAL_FORMS": "0",
        "reaches-INITIAL_FORMS": "0",
    }
    assert as_staff.get(url).status_code == 200
    assert as_staff.post(url, form).status_code == 302
    person = User.objects.get(email="godwit@example.com")
    assert not person.has_usable_password()
    assert person.memberships.get().group == group


def test_staff_maintain_groups(as_staff):
    form = {
        "name": "Kettle Harbor crews",
        "code": "kettle 2614",
        "role": "trainee",
        "is_open": "on",
    }
    response = as_staff.post(reverse("admin:people_group_add"), form)
    assert response.status_code == 302
    assert Group.objects.get().code == "KETTLE2614"


def test_a_short_code_is_refused_in_the_admin(as_staff):
    form = {"name": "Kettle Harbor crews", "code": "kettle 1", "role": "trainee", "is_open": "on"}
    page = as_staff.post(reverse("admin:people_group_add"), form)
    assert list(page.context["adminform"].form.errors) == ["code"]


def test_a_group_cannot_make_staff(as_staff):
    form = {"name": "Kettle Harbor crews", "code": "kettle2614", "role": "staff", "is_open": "on"}
    response = as_staff.post(reverse("admin:people_group_add"), form)
    assert response.status_code == 200
    assert not Group.objects.exists()


def test_staff_delete_nobody(as_staff, user):
    url = reverse("admin:people_user_delete", args=[user.pk])
    assert as_staff.post(url, {"post": "yes"}).status_code == 403
    assert User.objects.filter(pk=user.pk).exists()


def test_staff_cannot_touch_a_superuser(as_staff):
    chief = User.objects.create_superuser("chief@example.com", PASSWORD, name="Chief")
    url = reverse("admin:people_user_change", args=[chief.pk])
    assert as_staff.post(url, {"email": "mine@example.com"}).status_code == 403


def test_a_superuser_is_staff_and_an_ordinary_user_is_not():
    chief = User.objects.create_superuser("chief@example.com", PASSWORD, name="Chief")
    assert chief.is_staff
    assert chief.has_perm("people.delete_user")
    plain = User.objects.create_user("plain@example.com", PASSWORD, name="Plain")
    assert not plain.is_staff
    assert plain.get_all_permissions() == set()


def test_closing_an_account_takes_its_permissions(staff):
    assert staff.has_perm("people.change_group")
    assert staff.has_module_perms("people")
    assert not staff.has_module_perms("sessions")
    staff.is_active = False
    assert not staff.has_perm("people.change_group")


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
