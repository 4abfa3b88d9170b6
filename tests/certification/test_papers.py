"""Papers below the pages: begun, saved, handed in and marked."""

import threading
import uuid
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest
from django.db import connection
from django.utils import timezone

from tests.certification.candidates import answer, begin, make_scheme, make_strict
from tests.exercises.conftest import right_answer
from training.certification import audit, papers
from training.certification.models import Certificate, Paper, PaperTask
from training.certification.papers import MayNotBegin, PaperClosed, StaleAnswer

AT_ONCE = 50


@pytest.fixture
def scheme(db):
    return make_scheme()


@pytest.fixture
def paper(user, scheme):
    return begin(user, scheme)


@pytest.fixture
def task(paper):
    return paper.tasks.first()


def test_the_same_key_begins_one_paper(user, scheme):
    key = uuid.uuid4()
    assert papers.begin(user, scheme, key) == papers.begin(user, scheme, key)
    assert Paper.objects.count() == 1


def test_an_open_paper_is_gone_on_with(user, scheme, paper):
    assert begin(user, scheme) == paper


def test_a_key_does_not_open_another_persons_paper(officer, scheme, paper):
    with pytest.raises(MayNotBegin):
        papers.begin(officer, scheme, paper.key)


def test_a_scheme_of_the_other_track_is_refused(officer, scheme):
    with pytest.raises(MayNotBegin, match="This certificate is for (officers|fishermen)"):
        begin(officer, scheme)


def test_a_closed_scheme_is_refused(user, scheme):
    scheme.is_open = False
    with pytest.raises(MayNotBegin, match="not open"):
        begin(user, scheme)


def test_attempts_run_out(user):
    scheme = make_scheme(attempts_allowed=2)
    for _ in range(2):
        papers.hand_in(begin(user, scheme))
    with pytest.raises(MayNotBegin, match="all 2 attempts"):
        begin(user, scheme)


def test_a_pass_gives_all_attempts_back(user):
    scheme = make_scheme(attempts_allowed=2)
    papers.hand_in(begin(user, scheme))
    paper = begin(user, scheme)
    answer(paper)
    assert papers.hand_in(paper).passed
    assert begin(user, scheme) != paper


def test_the_wait_is_kept_to_the_minute(user):
    scheme = make_scheme(waiting_days=2)
    start = timezone.now()
    papers.hand_in(begin(user, scheme, start), start)
    with pytest.raises(MayNotBegin, match="try again from"):
        begin(user, scheme, start + timedelta(days=2, seconds=-1))
    assert begin(user, scheme, start + timedelta(days=2)).begun == start + timedelta(days=2)


def test_a_paper_keeps_the_terms_it_was_begun_on(user, scheme, paper):
    scheme.pass_percent, scheme.must_pass, scheme.must_slips = 100, ["legs_equal"], 3
    scheme.save()
    answer(paper, but=[2])
    paper = papers.hand_in(Paper.objects.get(pk=paper.pk))
    assert (paper.pass_percent, paper.must_slips) == (80, 1)
    assert paper.must_pass == []


def test_what_was_saved_is_there_whatever_it_is(task):
    assert papers.save(task, {"port": "six and a", "starboard": ""}, 0) == 1
    task.refresh_from_db()
    assert task.answer == {"port": "six and a", "starboard": ""}
    assert "six and a" in papers.trouble(task)


def test_the_same_save_sent_again_is_one(task):
    assert papers.save(task, {"centre": True}, 0) == 1
    assert papers.save(task, {"centre": True}, 0) == 1


def test_a_save_that_did_not_see_the_last_one_is_refused(task):
    papers.save(task, {"port": "6 ft"}, 0)
    with pytest.raises(StaleAnswer, match="another window"):
        papers.save(task, {"port": "8 ft"}, 0)
    assert papers.save(task, {"port": "8 ft"}, 1) == 2


def test_nothing_is_saved_after_handing_in(paper, task):
    papers.hand_in(paper)
    with pytest.raises(PaperClosed, match="already turned in"):
        papers.save(task, {"centre": True}, 0)
    task.refresh_from_db()
    assert task.answer is None


def test_when_the_time_is_up_what_was_saved_is_handed_in(user):
    paper = begin(user, make_scheme(minutes=30))
    answer(paper)
    task = PaperTask.objects.filter(paper=paper).first()
    late = paper.deadline + timedelta(seconds=1)
    with pytest.raises(PaperClosed, match="too late"):
        papers.save(task, {"centre": True}, task.revision, late)
    paper.refresh_from_db()
    assert paper.handed_in == paper.deadline
    assert paper.passed
    assert "time was up" in paper.reasons[0]


def test_a_paper_whose_time_is_up_does_not_bar_the_next(user):
    scheme = make_scheme(minutes=30)
    first = begin(user, scheme)
    second = begin(user, scheme, first.deadline)
    assert second != first
    assert Paper.objects.get(pk=first.pk).handed_in == first.deadline


def test_all_right_passes_with_a_certificate(user):
    paper = begin(user, make_strict())
    answer(paper)
    paper = papers.hand_in(paper)
    assert paper.passed
    assert paper.marks == paper.out_of == 12
    assert "100 percent" in paper.reasons[0]
    assert paper.reasons[1:] == [
        f"“{title}”: 2 of 2 right. No slips are allowed in this rule."
        for title in ("Droppers along the wings", "Space between floats")
    ]
    assert Certificate.objects.get().paper == paper


def test_every_question_is_one_point_right_or_not(paper):
    answer(paper, but=[3])
    papers.hand_in(paper)
    assert [each.marks for each in paper.tasks.all()] == [1, 1, 0, 1]
    assert {each.out_of for each in paper.tasks.all()} == {1}
    assert (paper.marks, paper.out_of) == (3, 4)


def of_rule(paper, key):
    """Return the numbers of the readings that ask ``key``."""
    return [each.number for each in paper.tasks.all() if each.focus and each.focus[0] == key]


@pytest.mark.parametrize(
    ("slips", "wrong", "passes", "words"),
    [
        (0, 1, False, "1 of 2 right. That is too many slips: no slips are allowed in this rule."),
        (1, 0, True, "2 of 2 right. 1 slip is allowed in this rule."),
        (1, 1, True, "1 of 2 right. 1 slip is allowed in this rule."),
        (1, 2, False, "0 of 2 right. That is too many slips: 1 slip is allowed in this rule."),
    ],
)
def test_more_slips_than_allowed_fail_a_paper_of_enough_points(user, slips, wrong, passes, words):
    paper = begin(user, make_strict(pass_percent=10, must_slips=slips))
    answer(paper, but=of_rule(paper, "dropper_spacing")[:wrong])
    paper = papers.hand_in(paper)
    assert paper.marks == paper.out_of - wrong
    assert paper.passed is passes
    assert f"“Droppers along the wings”: {words}" in paper.reasons
    assert Certificate.objects.exists() is passes


def test_slips_in_one_rule_do_not_count_in_another(user):
    paper = begin(user, make_strict(pass_percent=10, must_slips=1))
    first, second = (of_rule(paper, key) for key in paper.must_pass)
    answer(paper, but=[first[0], second[1]])
    assert papers.hand_in(paper).passed


def test_what_is_wrong_elsewhere_is_no_slip(user):
    """The whole rig has a line on each rule; it is one question, and none of the readings."""
    paper = begin(user, make_strict(pass_percent=10))
    whole = paper.tasks.get(kind="judge-rig")
    others = [each.number for each in paper.tasks.all() if each.focus[:1] == ["top_leg_wire"]]
    answer(paper, but=[whole.number, *others])
    paper = papers.hand_in(paper)
    assert paper.marks == paper.out_of - 2
    assert paper.passed


def test_a_paper_from_before_slips_is_graded_as_on_its_day(user):
    """Then each line gave its marks, and any wrong line on a rule failed the paper."""
    paper = begin(user, make_scheme(pass_percent=10))
    Paper.objects.filter(pk=paper.pk).update(
        must_slips=None, must_asked=None, must_pass=["dropper_spacing"]
    )
    spacing = paper.tasks.get(kind="space-droppers")
    answer(paper, but=[spacing.number])
    paper = papers.hand_in(Paper.objects.get(pk=paper.pk))
    assert paper.out_of > 4
    assert not paper.passed
    assert any("must be right, and was wrong in question 1." in each for each in paper.reasons)
    assert audit.check_paper(Paper.objects.get(pk=paper.pk)) == []


def test_too_few_marks_fail_a_paper(user):
    paper = papers.hand_in(begin(user, make_scheme()))
    assert not paper.passed
    assert paper.marks == 0
    assert "0 percent, which does not reach the 80 percent to pass" in paper.reasons[0]


def test_an_answer_nobody_can_read_counts_as_none(paper, task):
    papers.save(task, {"port": "?"}, 0)
    papers.hand_in(paper)
    task.refresh_from_db()
    assert task.marks == 0
    assert task.out_of > 0


def test_a_sound_paper_marks_the_same_again(paper):
    answer(paper, but=[3])
    papers.hand_in(paper)
    assert audit.check_paper(Paper.objects.get(pk=paper.pk)) == []


@pytest.mark.django_db(transaction=True)
def test_fifty_hand_ins_at_once_give_one_result(user):
    paper = begin(user, make_scheme())
    answer(paper)
    gate = threading.Barrier(AT_ONCE)

    def run(_):
        gate.wait()
        try:
            handed = papers.hand_in(Paper.objects.get(pk=paper.pk))
            return handed.handed_in, handed.marks, handed.out_of, handed.passed
        finally:
            connection.close()

    with ThreadPoolExecutor(AT_ONCE) as pool:
        results = set(pool.map(run, range(AT_ONCE)))
    paper.refresh_from_db()
    assert results == {(paper.handed_in, paper.marks, paper.out_of, True)}
    assert Certificate.objects.count() == 1


@pytest.mark.django_db(transaction=True)
def test_many_begins_at_once_begin_one_paper(user):
    scheme = make_scheme()
    gate = threading.Barrier(8)

    def run(_):
        gate.wait()
        try:
            return begin(user, scheme).pk
        finally:
            connection.close()

    with ThreadPoolExecutor(8) as pool:
        assert len(set(pool.map(run, range(8)))) == 1


def test_the_right_answer_is_right_in_every_task(paper):
    for task in paper.tasks.all():
        task.answer = right_answer(papers.task_of(task))
        assert papers.marked(task).passed


def test_every_part_of_an_answer_that_cannot_be_read_is_told(task):
    task.kind = "space-droppers"
    task.answer = {"port": "six and a bit", "centre": "on", "starboard": "far out"}
    told = papers.trouble(task)
    assert "six and a" in told
    assert "far out" in told
