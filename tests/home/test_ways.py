"""The navigation leads every sort of people to pages that open, and says where one is."""

import pytest
from django.urls import reverse

from tests.people.doors import views
from training.home import ways
from training.people import sight
from training.people.models import Group, Reach, Role, User

VIEWS = dict(views())


def pages():
    words = (*ways.VISITOR, *ways.TRAINEE, *ways.OFFICER, *ways.STAFF)
    listed = [page for word in words for page in word.pages]
    return {*listed, *ways.OWN, *ways.ADMINISTRATION, *ways.WHOLE_FLEET}


def test_every_page_of_the_navigation_is_a_view_of_the_site():
    named = {view for page in pages() for view in (page.at, *page.also)}
    assert sorted(named - set(VIEWS)) == []


def test_no_page_is_at_two_places_of_one_navigation():
    for words in (ways.VISITOR, ways.TRAINEE, ways.OFFICER, ways.STAFF):
        more = (*ways.OWN, *ways.ADMINISTRATION, *ways.WHOLE_FLEET)
        listed = [page for word in words for page in word.pages] + list(more)
        held = [view for page in listed for view in (page.at, *page.also)]
        assert len(held) == len(set(held))


@pytest.mark.parametrize("words", [ways.TRAINEE, ways.OFFICER, ways.STAFF])
def test_there_are_about_six_words(words):
    assert 5 <= len(words) <= 7


def links(response):
    """Return the addresses that the row of the navigation leads to."""
    navigation = response.context["navigation"]
    words = [page for word in navigation.words for page in (word.pages or (word,))]
    return [page.url for page in (*words, *navigation.own, *navigation.administration)]


@pytest.mark.django_db
@pytest.mark.parametrize("who", ["client", "as_user", "as_officer", "as_staff"])
def test_what_the_navigation_leads_to_opens_and_is_marked_there(request, who):
    client = request.getfixturevalue(who)
    found = links(client.get(reverse("home")))
    assert len(found) == len(set(found))
    for url in found:
        response = client.get(url, follow=True)
        assert response.status_code == 200, url
        html = response.content.decode()
        assert f'<a href="{url}" aria-current="true">' in html or "nav-here" in html, url


@pytest.mark.django_db
def test_a_page_below_another_marks_the_word_that_leads_there(as_staff):
    group = Group.objects.create(name="Gannet crews", harbor="Gannet Cove")
    navigation = as_staff.get(reverse("desk:group", args=[group.pk])).context["navigation"]
    assert [str(word.title) for word in navigation.words if word.here] == ["People"]
    (people,) = [word for word in navigation.words if word.here]
    assert [str(page.title) for page in people.pages if page.here] == ["Groups"]


@pytest.mark.django_db
def test_staff_held_to_a_harbor_are_not_led_to_what_is_the_whole_fleets(client):
    held = User.objects.create_user(
        "held@example.com", None, name="Ines Held", role=Role.STAFF, whole_fleet=True
    )
    Reach.objects.create(user=held, harbor="Gannet Cove")
    client.force_login(held)
    found = links(client.get(reverse("home")))
    assert reverse("interchange:overview") not in found
    for url in found:
        assert client.get(url, follow=True).status_code == 200, url


@pytest.mark.django_db
def test_administration_is_the_staffs_alone(as_user, as_officer):
    for client in (as_user, as_officer):
        response = client.get(reverse("home"))
        assert response.context["navigation"].administration == []
        assert "Administration" not in response.content.decode()
        assert 'role="search"' not in response.content.decode()


def test_a_view_of_one_door_alone_is_not_shown_to_those_whom_it_shuts_out():
    doors = {page.at: VIEWS[page.at].seen_by for page in pages()}
    shut = {at for at, door in doors.items() if door in (sight.Door.STAFF, sight.Door.WHOLE_FLEET)}
    for words in (ways.VISITOR, ways.TRAINEE, ways.OFFICER):
        assert not shut & {page.at for word in words for page in word.pages}
