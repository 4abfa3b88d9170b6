"""The figures of an exam and the judges' passing score, as staff see them."""

import csv
import io
import random
import uuid
from datetime import timedelta

import pytest

from rigs.rules import rulebook
from rigs.statistics.items import ENOUGH_ANSWERS, MeasureError, alpha
from rigs.statistics.standard import StandardError
from tests.certification.certificate_factory import (
    HANDED_IN,
    make_asked_exam,
    make_exam,
    make_requirements,
)
from training.certification import exam_marks, exams, judges, samples
from training.certification.models import Judgement, RequirementsPart, Seen
from training.exercises import kinds
from training.people.models import Role, User

FIGURES = "/measure/deck/"
PASS_MARK = "/measure/deck/pass-mark/"


@pytest.fixture
def requirements(db):
    requirements = make_requirements()
    RequirementsPart.objects.create(
        requirements=requirements, kind="space-droppers", difficulty=1, count=2
    )
    RequirementsPart.objects.create(
        requirements=requirements, kind="judge-rig", difficulty=1, count=2
    )
    return requirements


@pytest.fixture
def candidates(db):
    """A function that gives so many new people."""

    def made(count, role=Role.TRAINEE, start=0):
        return [
            User.objects.create_user(f"p{number}@example.com", name=f"Person {number}", role=role)
            for number in range(start, start + count)
        ]

    return made


@pytest.fixture
def sat(requirements, candidates):
    """A function that lets so many people of different skill sit an exam of four tasks."""

    def sit(count):
        rng = random.Random(7)
        for person in candidates(count):
            skill = rng.uniform(2, 10)
            marks = [min(10, max(0, round(skill + rng.gauss(0, 1.5)))) for _ in range(4)]
            make_exam(person, requirements, marks=marks)

    return sit


class TestMarks:
    def test_an_item_for_each_place(self, requirements, sat):
        sat(3)
        pool = exam_marks.pool_of(exam_marks.first_sittings(requirements))
        assert pool.marks.shape == (3, 4)
        assert pool.missing == 0
        assert [(item.kind, item.number) for item in pool.items] == [
            ("space-droppers", 1),
            ("judge-rig", 1),
            ("space-droppers", 2),
            ("judge-rig", 2),
        ]

    def test_only_first_sittings_count(self, requirements, user):
        make_exam(user, requirements, marks=(9, 9), handed_in=HANDED_IN + timedelta(days=3))
        first = make_exam(user, requirements, marks=(2, 2))
        assert exam_marks.first_sittings(requirements) == [first]

    def test_open_exams_do_not(self, requirements, user):
        make_exam(user, requirements, marks=(), handed_in=None, passed=None)
        assert exam_marks.first_sittings(requirements) == []
        with pytest.raises(MeasureError, match="Nobody"):
            exam_marks.pool_of([])

    def test_tasks_of_fewer_marks_keep_their_share(self, requirements, candidates):
        one, other = candidates(2)
        make_exam(one, requirements, marks=(8,))
        task = make_exam(other, requirements, marks=(3,)).tasks.get()
        task.out_of = 4
        task.save()
        pool = exam_marks.pool_of(exam_marks.first_sittings(requirements))
        assert pool.marks.ravel().tolist() == [8, 7.5]
        assert pool.out_of.tolist() == [10]


class TestMisses:
    def test_the_worst_come_first(self, as_staff, requirements, candidates):
        sat = [make_exam(person, requirements, marks=(5,)) for person in candidates(3)]
        wrong = [("Spacing", "Size"), ("Spacing",), ()]
        for exam, titles in zip(sat, wrong, strict=True):
            exam.tasks.update(
                findings=[
                    {"title": title, "right": title not in titles}
                    for title in ("Size", "Spacing", "Length")
                ]
            )
        (found,) = exam_marks.misses(sat).values()
        assert found == [("Spacing", 2, 3), ("Size", 1, 3)]
        assert "Spacing: 2 of 3; Size: 1 of 3" in as_staff.get(FIGURES).content.decode()


class TestFigures:
    def test_nobody_yet(self, as_staff, requirements):
        assert "Nobody has taken this exam yet." in as_staff.get(FIGURES).content.decode()

    def test_small_numbers_are_said(self, as_staff, sat):
        sat(5)
        page = as_staff.get(FIGURES).content.decode()
        assert "Only 5 people" in page
        assert "Only 5 answered this." in page

    def test_one_candidate_defines_nothing(self, as_staff, sat):
        sat(1)
        page = as_staff.get(FIGURES).content.decode()
        assert "Only 1 person" in page
        assert "cannot be worked out from these scores" in page

    def test_enough(self, as_staff, requirements, sat):
        sat(ENOUGH_ANSWERS + 5)
        page = as_staff.get(FIGURES).content.decode()
        assert "read these figures as hints" not in page
        pool = exam_marks.pool_of(exam_marks.first_sittings(requirements))
        assert f"{alpha(pool.marks):.2f}" in page
        assert page.count('data-label="Fits the rest"') == 4
        assert "It has 4 questions, and each weighs 10 points." in page
        text = as_staff.get(f"{FIGURES}figures.csv").getvalue().decode("utf-8-sig")
        whole, *questions = csv.DictReader(io.StringIO(text))
        assert float(whole["reliability"]) == pytest.approx(alpha(pool.marks), abs=1e-4)
        assert "Cronbach’s alpha. It has 4 questions" in whole["how it weighs"]
        assert [row["points it weighs"] for row in questions] == ["10.0"] * 4
        assert {row["people"] for row in questions} == {str(ENOUGH_ANSWERS + 5)}

    def test_old_exams_tell_nothing_of_verdicts_by_questions(self, as_staff, sat):
        sat(ENOUGH_ANSWERS)
        assert (
            "No exam in which each question gives one point"
            in as_staff.get(FIGURES).content.decode()
        )

    def test_staff_only(self, as_user, as_officer, client, requirements):
        for path in (FIGURES, PASS_MARK, "/measure/"):
            assert as_user.get(path).status_code == 403
            assert as_officer.get(path).status_code == 403
            assert client.get(path).status_code == 302

    def test_all_requirements_list_are_listed(self, as_staff, requirements):
        page = as_staff.get("/measure/").content.decode()
        assert FIGURES in page
        assert PASS_MARK in page


class TestVerdicts:
    RULES = ("dropper_spacing", "dropper_stock", "float_spacing")

    @pytest.fixture
    def requirements(self, db):
        return make_requirements(must_pass=["dropper_spacing"], must_slips=1, must_asked=4)

    @pytest.fixture
    def took(self, requirements, candidates):
        """A function that lets so many people take an exam; each knows a rule or guesses."""

        def take(count):
            rng = random.Random(11)
            for person in candidates(count):
                knows = {rule: rng.random() < 0.7 for rule in self.RULES}
                readings = {
                    rule: [int(rng.random() < (0.95 if knows[rule] else 0.5)) for _ in range(4)]
                    for rule in self.RULES
                }
                make_asked_exam(person, requirements, readings, rigs=[rng.randint(0, 1)])

        return take

    def test_the_exam_is_that_of_its_questions(self, requirements, took):
        took(3)
        taken = exam_marks.taken_alike(exam_marks.first_sittings(requirements))
        assert taken.shape.asked == (4, 4, 4, 1)
        assert taken.shape.needed == 10  # 70 percent of 13 are 9.1
        assert taken.shape.slips == {0: 1}
        assert len(taken.right) == 3

    def test_exams_asked_in_another_way_are_left_out(self, requirements, took, user):
        make_asked_exam(
            user, requirements, {"dropper_spacing": [1, 1]}, handed_in=HANDED_IN - timedelta(days=9)
        )
        took(2)
        taken = exam_marks.taken_alike(exam_marks.first_sittings(requirements))
        assert len(taken.right) == 2

    def test_too_few_to_tell(self, as_staff, took):
        took(ENOUGH_ANSWERS - 1)
        page = as_staff.get(FIGURES).content.decode()
        assert "Too few to tell." in page
        assert "Passed by luck" not in page

    def test_enough_to_tell(self, as_staff, took):
        took(ENOUGH_ANSWERS)
        page = as_staff.get(FIGURES).content.decode()
        assert "A pass takes 10 of 13 points" in page
        assert "Passed by luck" in page
        # 10 right of 13: the root of 10 x 3 / 12 is 1.58.
        assert "1.6 of 13 points" in page

    def test_rules_are_counted_by_rule_and_not_by_place(self, as_staff, took):
        took(ENOUGH_ANSWERS)
        page = as_staff.get(FIGURES).content.decode()
        book = rulebook.load("no-sweep", "1")
        for rule in self.RULES:
            assert page.count(f'rowheader">{book.requirement(rule).title}<br>') == 1

    def test_who_would_pass_counts_the_rules_that_must_be_right(self, requirements, candidates):
        sound = {"dropper_spacing": [1, 1, 1, 0], "dropper_stock": [1, 1, 1, 1]}
        slipped = {"dropper_spacing": [1, 1, 0, 0], "dropper_stock": [1, 1, 1, 1]}
        for person, readings in zip(candidates(2), (sound, slipped), strict=True):
            make_asked_exam(person, requirements, readings)
        found = exam_marks.would_pass(exam_marks.first_sittings(requirements), 0.7)
        assert (found.count, found.of) == (1, 2)


def test_exams_as_they_are_sat(as_staff, requirements, candidates):
    for person in candidates(2):
        exam = exams.begin(person, requirements, uuid.uuid4())
        first = exam.tasks.first()
        task = exams.task_of(first)
        exams.save(first, kinds.get(first.kind).any_answer(task), first.revision)
        exams.hand_in(exam)
    page = as_staff.get(FIGURES).content.decode()
    assert page.count('data-label="Fits the rest"') == 4
    assert "2 of 2" in page


class TestPassMark:
    def entered(self, requirements, *percents):
        parts = requirements.parts.all()
        return {f"part_{part.pk}": each for part, each in zip(parts, percents, strict=True)}

    def test_a_judgement_is_kept(self, as_staff, staff, requirements):
        as_staff.post(PASS_MARK, self.entered(requirements, "60", "80.5"))
        shares = judges.judgements_of(requirements)[staff]
        assert list(shares.values()) == [0.6, 0.805]

    def test_the_same_again_is_not_kept_twice(self, as_staff, requirements):
        for _ in range(2):
            as_staff.post(PASS_MARK, self.entered(requirements, "60", "80"))
        assert Judgement.objects.count() == 2

    def test_a_later_one_stands_and_the_earlier_is_kept(self, as_staff, staff, requirements):
        as_staff.post(PASS_MARK, self.entered(requirements, "60", "80"))
        as_staff.post(PASS_MARK, self.entered(requirements, "70", "80"))
        assert Judgement.objects.count() == 3
        assert list(judges.judgements_of(requirements)[staff].values()) == [0.7, 0.8]

    def test_wrong_entries_are_said_and_kept(self, as_staff, requirements):
        response = as_staff.post(PASS_MARK, self.entered(requirements, "130", ""))
        page = response.content.decode()
        assert response.status_code == 422
        assert "above 100 percent" in page
        assert "Enter a number from 0 to 100" in page
        assert 'value="130"' in page
        assert not Judgement.objects.exists()

    def test_others_are_hidden_until_one_has_judged(self, as_staff, requirements, candidates):
        (other,) = candidates(1, Role.STAFF, start=90)
        judges.judge(requirements, other, dict.fromkeys(requirements.parts.all(), 0.31))
        assert "31%" not in as_staff.get(PASS_MARK).content.decode()
        as_staff.post(PASS_MARK, self.entered(requirements, "60", "60"))
        assert "31%" in as_staff.get(PASS_MARK).content.decode()

    def test_part_of_the_answers_shows_nothing_of_the_others(
        self, as_staff, staff, requirements, candidates
    ):
        (other,) = candidates(1, Role.STAFF, start=90)
        judges.judge(requirements, other, dict.fromkeys(requirements.parts.all(), 0.31))
        judges.judge(requirements, staff, {requirements.parts.first(): 0.6})
        half = as_staff.post(PASS_MARK, self.entered(requirements, "60", ""))
        for page in (as_staff.get(PASS_MARK), half):
            shown = page.content.decode()
            assert "31%" not in shown
            assert "What the judges say" not in shown
            assert other.name not in shown
        assert not Seen.objects.exists()
        # Nor does any other page of the exam.
        for path in (FIGURES, "/measure/", "/measure/deck/expected/"):
            assert other.name not in as_staff.get(path).content.decode()

    def test_what_is_changed_after_seeing_the_others_is_shown_and_does_not_count(
        self, as_staff, staff, requirements, candidates
    ):
        # Alone, one may change one's mind: nothing was there to be swayed by.
        as_staff.post(PASS_MARK, self.entered(requirements, "40", "60"))
        assert "You have seen" not in as_staff.get(PASS_MARK).content.decode()
        as_staff.post(PASS_MARK, self.entered(requirements, "60", "60"))
        (other,) = candidates(1, Role.STAFF, start=90)
        judges.judge(requirements, other, dict.fromkeys(requirements.parts.all(), 0.8))
        assert "You have seen" in as_staff.get(PASS_MARK).content.decode()
        as_staff.post(PASS_MARK, self.entered(requirements, "80", "60"))
        assert list(judges.judgements_of(requirements)[staff].values()) == [0.6, 0.6]
        assert list(judges.judgements_of(requirements, alone=False)[staff].values()) == [0.8, 0.6]
        assert list(Judgement.objects.filter(judge=staff, after_seeing=True)) == [
            Judgement.objects.last()
        ]
        # Alone 60 and 80: 70. With the change 70 and 80: 75.
        assert judges.panel(requirements).cut == pytest.approx(0.7)
        page = as_staff.get(PASS_MARK).content.decode()
        assert "<strong>70 percent</strong>" in page
        assert "75 percent, with the answers that were changed. It does not count" in page
        assert 'value="80"' in page

    def test_a_part_added_later_hides_the_others_again(
        self, as_staff, staff, requirements, candidates
    ):
        (other,) = candidates(1, Role.STAFF, start=90)
        judges.judge(requirements, other, dict.fromkeys(requirements.parts.all(), 0.31))
        as_staff.post(PASS_MARK, self.entered(requirements, "60", "60"))
        as_staff.get(PASS_MARK)
        added = RequirementsPart.objects.create(
            requirements=requirements, kind="judge-rig", difficulty=3, count=2
        )
        judges.judge(requirements, other, {added: 0.31})
        assert "31%" not in as_staff.get(PASS_MARK).content.decode()
        as_staff.post(PASS_MARK, self.entered(requirements, "60", "60", "50"))
        # Of the new part nothing had been seen: the answer counts.
        assert judges.judgements_of(requirements)[staff][added] == 0.5

    def test_mean_spread_and_who_would_pass(self, as_staff, staff, requirements, candidates, user):
        (other,) = candidates(1, Role.STAFF, start=90)
        first, second = requirements.parts.all()
        judges.judge(requirements, other, {first: 0.5, second: 0.7})
        make_exam(user, requirements, marks=(6, 6))
        make_exam(candidates(1)[0], requirements, marks=(8, 8))
        as_staff.post(PASS_MARK, self.entered(requirements, "70", "70"))
        # Judges at 0.6 and 0.7; mean 0.65, standard deviation 0.1 / sqrt(2).
        panel = judges.panel(requirements)
        assert panel.cut == pytest.approx(0.65)
        assert panel.by_judge[other] == pytest.approx(0.6)
        assert panel.spread == pytest.approx(0.1 / 2**0.5)
        page = as_staff.get(PASS_MARK).content.decode()
        assert "65 percent" in page
        assert "deviation 7 percent" in page
        assert "1 of 2, 50 percent" in page

    def test_parts_weigh_by_their_marks(self, requirements, staff, user):
        first, second = requirements.parts.all()
        judges.judge(requirements, staff, {first: 1.0, second: 0.0})
        assert judges.panel(requirements).cut == pytest.approx(0.5)
        task = make_exam(user, requirements, marks=(8, 8)).tasks.get(kind="judge-rig")
        task.out_of = 30
        task.save()
        assert judges.worth_of_parts(requirements) == {first: 20, second: 60}
        assert judges.panel(requirements).cut == pytest.approx(0.25)

    def test_unfinished_judges_are_left_out_and_named(self, as_staff, requirements, candidates):
        (other,) = candidates(1, Role.STAFF, start=90)
        judges.judge(requirements, other, {requirements.parts.first(): 0.5})
        with pytest.raises(StandardError):
            judges.panel(requirements)
        as_staff.post(PASS_MARK, self.entered(requirements, "60", "60"))
        assert other.name in as_staff.get(PASS_MARK).content.decode()

    def test_a_requirements_without_parts(self, as_staff, db):
        make_requirements(slug="empty")
        page = as_staff.get("/measure/empty/pass-mark/").content.decode()
        assert "nothing to judge" in page


class TestSamples:
    PARTS = (("one-reading", 3, 20), ("choose-one", 3, 2), ("judge-rig", 3, 1))

    @pytest.fixture
    def parts(self, db):
        requirements = make_requirements(slug="asked", rulebooks=["no-sweep"])
        return [
            RequirementsPart.objects.create(
                requirements=requirements, kind=kind, difficulty=level, count=count
            )
            for kind, level, count in self.PARTS
        ]

    def test_a_judge_sees_some_of_each_part_with_a_right_answer(self, as_staff, parts):
        page = as_staff.get("/measure/asked/pass-mark/").content.decode()
        for part, count in zip(parts, (3, 2, 1), strict=True):
            for number in range(1, count + 1):
                path = f"/measure/asked/sample/{part.pk}/{number}/"
                assert path in page
                shown = as_staff.get(path)
                assert shown.status_code == 200
                assert "Show a right answer" in shown.content.decode()
            assert f"/measure/asked/sample/{part.pk}/{count + 1}/" not in page
            assert as_staff.get(f"/measure/asked/sample/{part.pk}/{count + 1}/").status_code == 404

    def test_the_answer_shown_is_right(self, parts):
        for part in parts:
            found = samples.sample(part, 1)
            assert found.right.passed
            assert all(line.right for line in found.right.lines)

    def test_it_is_the_same_for_every_judge(self, parts):
        assert samples.sample(parts[0], 2).task == samples.sample(parts[0], 2).task
        assert samples.sample(parts[0], 1).task != samples.sample(parts[0], 2).task

    def test_staff_only(self, as_user, as_officer, parts):
        for someone in (as_user, as_officer):
            assert someone.get(f"/measure/asked/sample/{parts[0].pk}/1/").status_code == 403

    def test_a_part_of_another_certificate_is_not_found(self, as_staff, parts):
        make_requirements(slug="other")
        assert as_staff.get(f"/measure/other/sample/{parts[0].pk}/1/").status_code == 404
