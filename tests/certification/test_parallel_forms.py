"""Forms of one exam: equal in what they ask, unlike in all that could give an answer away."""

import random
from collections import Counter, defaultdict
from statistics import fmean

import pytest
from django.utils import timezone

from rigs.rules import rulebook
from tests.certification.candidates import make_requirements
from training.certification import blueprints, drawing
from training.certification.spread import READING
from training.certification.terms import FIELDS
from training.demo import certification
from training.exercises import kinds
from training.exercises.kinds.one_reading import BROKEN

# All of them, so that none runs apart from the others and the forms are drawn once. They
# are worked out from a handful of rows that other tests write and read.
pytestmark = [pytest.mark.django_db, pytest.mark.one_database]

FORMS = 200
# Four and a half standard errors of a share from so many coins: once in some 150,000 draws.
WIDTH = 4.5


def crew():
    fields, parts = certification.CREW
    return make_requirements(parts, **{name: fields[name] for name in FIELDS if name in fields})


@pytest.fixture(scope="module")
def forms(django_db_setup, django_db_blocker):
    """The Specs of so many forms of the demo's exam for crews."""
    with django_db_blocker.unblock():
        requirements = crew()
        try:
            return [blueprints.compose(requirements, seed) for seed in range(FORMS)]
        finally:
            requirements.parts.all().delete()
            requirements.delete()


def readings(form):
    return [spec for spec in form if spec.slot.kind == READING]


def broken(specs):
    return sum(spec.side == BROKEN for spec in specs)


def test_all_ask_as_many_questions_of_each_rule_at_each_level(forms):
    first = Counter(spec.slot for spec in forms[0])
    assert all(Counter(spec.slot for spec in form) == first for form in forms)


def test_all_hold_the_kinds_in_the_same_order(forms):
    first = [spec.slot.kind for spec in forms[0]]
    assert all([spec.slot.kind for spec in form] == first for form in forms)


def test_the_same_seed_gives_the_same_form_and_another_seed_another(forms, db):
    requirements = crew()
    assert blueprints.compose(requirements, 7) == forms[7]
    assert not {spec.seed for spec in forms[7]} & {spec.seed for spec in forms[8]}


def test_no_two_questions_of_a_form_are_alike(forms):
    today = timezone.localdate()
    for form in forms[:20]:
        looks = [
            drawing.looks(
                kinds.get(spec.slot.kind).generate(
                    spec.seed,
                    rulebook.in_force(spec.slot.rulebook, today),
                    spec.slot.difficulty,
                    spec.focus,
                )
            )
            for spec in form
        ]
        assert len(set(looks)) == len(looks)


def test_each_rule_is_broken_as_often_as_it_is_met(forms):
    """
    Over all forms; a form's readings of a rule hang together, so that forms are counted.

    A form's share has a standard deviation of at most a half.
    """
    shares = defaultdict(list)
    for form in forms:
        by_rule = defaultdict(list)
        for spec in readings(form):
            by_rule[spec.slot.focus].append(spec)
        for rule, specs in by_rule.items():
            shares[rule].append(broken(specs) / len(specs))
    for rule, found in shares.items():
        assert abs(fmean(found) - 0.5) < WIDTH * 0.5 / FORMS**0.5, rule


def test_how_many_are_broken_is_not_to_be_known(forms):
    total = Counter(broken(readings(form)) for form in forms)
    assert len(total) > 15
    must = ("dropper_spacing",)
    of_rule = Counter(
        broken([spec for spec in readings(form) if spec.slot.focus == must]) for form in forms
    )
    asked = sum(spec.slot.focus == must for spec in readings(forms[0]))
    # All and none come up often, and so does whatever lies between.
    assert of_rule[0] > FORMS / 8
    assert of_rule[asked] > FORMS / 8
    assert all(of_rule[count] for count in range(asked + 1))


def test_who_splits_the_readings_of_a_rule_in_the_middle_gains_little():
    """
    Compared with each other in size, the half on the far side is called broken.

    By coins alone that would be right on four readings five times in six, rounded.
    """
    rng = random.Random(1)
    right = []
    for _ in range(4000):
        drawn = sorted(side == BROKEN for side in drawing.sides(4, rng))
        right.append(fmean(is_broken is (place >= 2) for place, is_broken in enumerate(drawn)))
    assert 0.5 < fmean(right) < 0.68
    # Half right is what always saying the same comes to.
    assert sum(share >= 0.75 for share in right) / len(right) < 0.45


def test_neither_rule_nor_side_can_be_told_from_the_place(forms):
    count = len(readings(forms[0]))
    for place in range(count):
        at = [form[place] for form in forms]
        assert abs(broken(at) / FORMS - 0.5) < WIDTH * 0.5 / FORMS**0.5, place
        commonest = Counter(spec.slot.focus for spec in at).most_common(1)[0][1]
        assert commonest < FORMS / 4, place


def test_one_place_does_not_tell_the_next(forms):
    pairs = [
        (one.side == two.side, one.slot.focus == two.slot.focus)
        for form in forms
        for one, two in zip(readings(form), readings(form)[1:], strict=False)
    ]
    same = fmean(side for side, rule in pairs if not rule)
    assert abs(same - 0.5) < 0.03


def test_a_single_reading_is_a_coin():
    rng = random.Random(2)
    found = fmean(drawing.sides(1, rng) == [BROKEN] for _ in range(4000))
    assert abs(found - 0.5) < WIDTH * 0.5 / 4000**0.5
