"""The pages of the exercises, without a script in sight."""

import re
from concurrent.futures import ThreadPoolExecutor

import pytest
from django.contrib.admin.sites import site
from django.db import connection
from django.test import Client
from django.urls import reverse

from rigs.words.units import INCH
from tests.exercises.conftest import as_posted, right_answer
from training.exercises import handing, kinds
from training.exercises.kinds.space_droppers import answer_at
from training.exercises.models import Assignment, Attempt

MOST_QUERIES = 10
# A hand-in besides keeps the sums that staff read, in three queries, five for a pass, and what is
# remembered of each rule that was asked.
MOST_FOR_HANDING_IN = 30


def do(kind):
    return reverse("exercises:do", args=[kind.slug])


def posted(assignment, answer):
    return {"assignment": assignment.pk, **as_posted(answer)}


def hand_in(client, kind, assignment, answer=None, **options):
    answer = answer or right_answer(handing.task_of(assignment))
    return client.post(do(kind), posted(assignment, answer), **options)


def text_of(response):
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def test_whoever_is_not_signed_in_is_asked_to(client, kind, db):
    response = client.get(do(kind))
    assert response.status_code == 302
    assert response.url.startswith(reverse("people:sign_in"))
    assert not Assignment.objects.exists()


def test_an_unknown_exercise_is_not_found(as_user):
    assert as_user.get(reverse("exercises:do", args=["splice-wire"])).status_code == 404


def test_a_reload_shows_the_same_task(as_user, kind):
    first, second = as_user.get(do(kind)), as_user.get(do(kind))
    assert first.status_code == 200
    assert first.context["task"] == second.context["task"]
    assert first.context["assignment"] == second.context["assignment"]


def test_a_full_answer_is_marked_passed_and_shown(as_user, kind, assignment):
    response = hand_in(as_user, kind, assignment, follow=True)
    attempt = Attempt.objects.get()
    assert response.redirect_chain == [(reverse("exercises:marked", args=[attempt.pk]), 302)]
    assert attempt.passed
    words = text_of(response)
    assert f"{attempt.marks} of {attempt.out_of} point" in words
    assert "Passed" in words
    assert "Try another" in words
    assert attempt.findings[0]["clause"] in words


def test_the_button_pressed_twice_makes_one_attempt(as_user, kind, assignment):
    first = hand_in(as_user, kind, assignment)
    second = hand_in(as_user, kind, assignment)
    assert first.url == second.url == reverse("exercises:marked", args=[Attempt.objects.get().pk])


@pytest.mark.django_db(transaction=True)
def test_two_hand_ins_at_once_land_on_the_same_page(user):
    kind = kinds.get("space-droppers")
    assignment = handing.open_assignment(user, kind)

    def press(_):
        client = Client()
        client.force_login(user)
        try:
            return hand_in(client, kind, assignment).url
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as pool:
        urls = set(pool.map(press, range(2)))
    assert urls == {reverse("exercises:marked", args=[Attempt.objects.get().pk])}


def test_distances_typed_as_people_write_them_are_understood(as_user, user):
    kind = kinds.get("space-droppers")
    assignment = handing.open_assignment(user, kind)
    task = handing.task_of(assignment)
    inches = [round(at / INCH) for at in task.fewest]
    feet = "\n".join(f"{each // 12}'{each % 12}\"" for each in inches if each > 0)
    other = "; ".join(f"{-each / 12:g}" for each in inches if each < 0)
    response = as_user.post(
        do(kind),
        {"assignment": assignment.pk, "port": other, "center": "on", "starboard": feet},
    )
    attempt = Attempt.objects.get()
    assert response.url == reverse("exercises:marked", args=[attempt.pk])
    assert attempt.passed
    # Kept as it was typed, so that it can be read again.
    assert attempt.answer["starboard"].splitlines() == feet.splitlines()


def test_what_cannot_be_read_is_told_beside_its_field_and_kept(as_user, user):
    kind = kinds.get("space-droppers")
    assignment = handing.open_assignment(user, kind)
    response = as_user.post(
        do(kind), {"assignment": assignment.pk, "port": "6 ft\n8 fet", "starboard": "6 ft"}
    )
    assert response.status_code == 200
    assert not Attempt.objects.exists()
    page = response.content.decode()
    assert "6 ft\n8 fet</textarea>" in page
    assert "Not turned in." in page
    field = page[page.index('id="div_id_port"') : page.index('id="div_id_center"')]
    assert "8 fet" in field[field.index("invalid-feedback") :]
    assert 'aria-invalid="true"' in field
    assert response.context["assignment"] == assignment


def test_a_blank_answer_is_not_handed_in(as_user, kind, assignment):
    response = as_user.post(do(kind), {"assignment": assignment.pk})
    assert response.status_code == 200
    assert response.context["form"].errors
    assert not Attempt.objects.exists()


@pytest.mark.parametrize("pk", ["", "none", "999999", "1 or 1"])
def test_an_answer_to_no_task_is_refused(as_user, kind, assignment, pk):
    assert as_user.post(do(kind), {"assignment": pk}).status_code == 404


def test_nobody_hands_in_for_another(as_officer, kind, assignment):
    assert hand_in(as_officer, kind, assignment).status_code == 404
    assert not Attempt.objects.exists()


def test_a_task_of_another_kind_is_refused(as_user, user):
    assignment = handing.open_assignment(user, kinds.get("pick-chain"))
    assert hand_in(as_user, kinds.get("judge-rig"), assignment).status_code == 404


def test_another_task_is_a_new_one_once_handed_in(as_user, user, kind, assignment):
    another = reverse("exercises:another", args=[kind.slug])
    assert as_user.get(another).status_code == 405
    as_user.post(another)
    assert Assignment.objects.get() == assignment  # still open: nobody picks among tasks
    hand_in(as_user, kind, assignment)
    response = as_user.post(another, follow=True)
    assert response.context["assignment"] != assignment
    assert response.context["task"].seed != handing.task_of(assignment).seed


def test_a_marked_page_is_for_its_maker_and_for_staff(
    as_user, as_officer, as_staff, kind, assignment
):
    url = hand_in(as_user, kind, assignment).url
    assert as_user.get(url).status_code == 200
    assert as_staff.get(url).status_code == 200
    assert as_officer.get(url).status_code == 404
    assert Client().get(url).status_code == 302
    assert "Try another" not in text_of(as_staff.get(url))


def test_a_failed_answer_names_clause_measure_and_remedy(as_user, user):
    kind = kinds.get("space-droppers")
    assignment = handing.open_assignment(user, kind)
    response = hand_in(as_user, kind, assignment, answer_at([0.0]), follow=True)
    words = text_of(response)
    book = assignment.rulebook
    corners = book.requirement("dropper_at_corners")
    assert "Not passed yet" in words
    assert corners.clause in words
    assert corners.remedy_text in words
    assert "1 of 6 points" in words


@pytest.mark.parametrize("path", ["hand in", "marked"])
def test_few_queries(as_user, kind, assignment, path, django_assert_max_num_queries):
    with django_assert_max_num_queries(MOST_FOR_HANDING_IN):
        response = hand_in(as_user, kind, assignment)
    if path == "marked":
        with django_assert_max_num_queries(MOST_QUERIES):
            as_user.get(response.url)


@pytest.mark.parametrize("model", [Assignment, Attempt])
def test_the_admin_only_shows_records(model, rf, staff):
    staff.is_superuser = True
    request = rf.get("/")
    request.user = staff
    admin = site.get_model_admin(model)
    assert admin.has_view_permission(request)
    assert not admin.has_add_permission(request)
    assert not admin.has_change_permission(request)
    assert not admin.has_delete_permission(request)


def test_what_only_the_task_asks_for_is_not_called_a_rule(as_user, user):
    kind = kinds.get("pick-chain")
    assignment = handing.open_assignment(user, kind)
    hand_in(as_user, kind, assignment)
    marked_page = as_user.get(reverse("exercises:marked", args=[Attempt.objects.get().pk]))
    words = text_of(marked_page)
    assert words.count("Met.") == 1  # the size of the chain alone is law
    assert "This question asks for" in words


def test_custom_is_not_asked_as_if_it_were_law(as_user, user):
    kind = kinds.get("judge-rig")
    assignment = handing.open_assignment(user, kind)
    hand_in(as_user, kind, assignment)
    attempt = Attempt.objects.get()
    told = {line["key"]: line["basis"] for line in attempt.findings}
    assert told.pop("verdict") == told.pop("parts") == ""
    assert set(told.values()) == {"regulation"}
    assert "dropper_length" not in told
