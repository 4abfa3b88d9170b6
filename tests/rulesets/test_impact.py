"""What a draft would change, held against counting it by hand."""

from collections import Counter
from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.utils import timezone

from rigs.rules import rulebook
from rigs.rules.judge import judge
from rigs.words.units import FOOT, INCH
from tests.calibration.round_factory import judge_all, make_officers, make_round
from tests.exercises.conftest import right_answer
from tests.nets.conftest import make_net
from tests.rulesets.conftest import count, make_draft
from training.calibration.making import rigs_of
from training.exercises import handing, kinds
from training.exercises.models import Assignment
from training.nets.models import Net
from training.rulesets import impact, trial

pytestmark = pytest.mark.django_db

TIGHT = {"dropper_spacing": 7 * FOOT, "dropper_length": 45 * INCH}


@pytest.fixture
def nets(user, officer):
    """Nets of several people: with and without a sweep, for one rule set or another."""
    bare = {"has_sweep": "no", "sweep_chain": "", "sweep_length": ""}
    made = [
        make_net(user),
        make_net(user, **bare, dropper_spacing="7", dropper_length="42 in"),
        make_net(user, **bare, dropper_spacing="8 ft", dropper_length="50 in"),
        make_net(officer, goal="whiting", **bare, dropper_spacing="8", dropper_length="44 in"),
        make_net(officer, goal="grate", dropper_spacing="8"),
    ]
    gone = make_net(officer)
    gone.put_aside()
    return made


@pytest.fixture
def tasks(user):
    """Tasks handed in, some of each kind, by several rule sets."""
    for kind in kinds.KINDS.values():
        for seed in range(4):
            difficulty = seed % 3 + 1
            name = kind.rulebooks[difficulty][seed % len(kind.rulebooks[difficulty])]
            assignment = Assignment.objects.create(
                user=user,
                kind=kind.slug,
                seed=seed,
                difficulty=difficulty,
                rulebook_name=name,
                rulebook_version="1",
            )
            handing.hand_in(assignment, right_answer(handing.task_of(assignment)))


def broken(rig, book, day):
    return judge(rig, book, day).failed_keys


def by_hand(rigs, old, new):
    """Return (rigs that newly break a rule, how many break each)."""
    day, rules, some = new.effective_from, Counter(), 0
    for rig in rigs:
        newly = broken(rig, new, day) - broken(rig, old, day)
        rules.update(newly)
        some += bool(newly)
    return some, rules


def test_nets_are_counted_as_by_hand(staff, nets):
    draft = make_draft(staff, limits=TIGHT)
    found = count(draft).found
    old, new = rulebook.load("no-sweep"), draft.book
    held = [net for net in nets if net.goal in ("no-sweep", "whiting")]
    assert found["nets"] == {"of": 5, "judged": 4}
    for state, rigs in (
        (impact.AS_IS, [net.present() for net in held]),
        (impact.PLANNED, [net.plan().planned for net in held]),
    ):
        some, rules = by_hand(rigs, old, new)
        assert found[state]["breaks"] == some
        told = {key: rule["breaks"] for key, rule in found[state]["rules"].items()}
        assert {key: many for key, many in told.items() if many} == rules
        assert found[state]["keeps"] == 0  # a tighter limit mends nothing
    assert found[impact.AS_IS]["breaks"] > 0


def test_a_wider_limit_is_newly_kept(staff, nets):
    draft = make_draft(staff, limits={"dropper_length": 6 * INCH, "dropper_spacing": 12 * FOOT})
    found = count(draft).found[impact.AS_IS]
    day, old = draft.effective_from, rulebook.load("no-sweep")
    held = [net.present() for net in nets if net.goal in ("no-sweep", "whiting")]
    assert found["keeps"] == sum(
        bool(broken(rig, old, day) - broken(rig, draft.book, day)) for rig in held
    )
    assert found["keeps"] > 0


def test_nets_with_a_sweep_answer_to_the_rules_for_one(staff, nets):
    draft = make_draft(staff, "chain-sweep", limits={"float_spacing": 3 * FOOT})
    found = count(draft).found
    swept = [net for net in nets if net.present().sweep is not None]
    assert found["nets"]["judged"] == len(swept) == 2
    assert found[impact.PLANNED] == {"breaks": 0, "keeps": 0, "untold": 0, "rules": {}}


def test_tasks_are_counted_as_one_by_one(staff, tasks):
    draft = make_draft(staff, limits=TIGHT)
    found = count(draft).found["tasks"]
    rows = Assignment.objects.filter(rulebook_name="no-sweep")
    looked_at = [(each, kind) for each in rows if (kind := kinds.get(each.kind)).truth]
    assert 0 < len(looked_at) < len(rows)
    each = [kind.changed(handing.task_of(one), draft.book) for one, kind in looked_at]
    assert found["of"] == found["looked_at"] == len(each)
    assert found["changed"] == sum(bool(keys) for keys in each)
    assert found["rules"] == Counter(key for keys in each for key in keys)
    assert found["changed"] > 0


def test_a_task_comes_out_otherwise_if_its_full_marks_are_lost(staff, tasks):
    """Held against marking: a right answer to a judged rig stays right, or its truth changed."""
    draft = make_draft(staff, limits={"dropper_stock": INCH / 8, "float_diameter": 12 * INCH})
    for assignment in Assignment.objects.filter(kind="judge-rig", rulebook_name="no-sweep"):
        task = handing.task_of(assignment)
        was, now = judge(task.rig, task.rulebook), judge(task.rig, draft.book)
        differs = was.failed_keys != now.failed_keys
        assert bool(kinds.get("judge-rig").changed(task, draft.book)) == differs
        assert differs  # no chain of a drawn rig is so light, no float so large


def test_the_rigs_of_officers_rounds_are_tasks_too(staff):
    officers = make_officers(2)
    judged, _ = make_round(officers), make_round(officers, seed=8)
    for turn in judged.turns.all():
        judge_all(turn)
    draft = make_draft(staff, limits=TIGHT)
    rules = Counter()
    for each in rigs_of(judged):
        rules.update(each.verdict.failed_keys ^ judge(each.rig, draft.book).failed_keys)
    found = count(draft).found["tasks"]
    assert found["of"] == found["looked_at"] == judged.count
    assert found["rules"] == rules
    assert rules


def test_of_many_tasks_a_stated_number_is_drawn(staff, tasks, monkeypatch):
    monkeypatch.setattr(impact, "MOST_TASKS", 3)
    draft = make_draft(staff, limits=TIGHT)
    first, again = count(draft), count(draft)
    assert first.found == again.found
    tasks = first.found["tasks"]
    assert tasks["looked_at"] == 3 < tasks["of"]


def test_bit_by_bit_gives_the_same(staff, nets, tasks):
    draft = make_draft(staff, limits=TIGHT)
    whole = count(draft)
    counted = impact.begin(draft)
    steps = 0
    while counted.todo:
        counted = impact.carry_on(counted, 0)
        steps += 1
        assert counted.done == steps
    assert steps == counted.total
    assert counted.found == whole.found
    assert counted.finished


def test_two_who_carry_on_at_once_count_once(staff, nets):
    draft = make_draft(staff, limits=TIGHT)
    whole = count(draft)
    counted = stale = impact.begin(draft)
    impact.carry_on(counted, 0)
    impact.carry_on(stale, 0)
    counted = impact.of_text(draft)
    assert counted.done == 1
    while counted.todo:
        counted = impact.carry_on(counted, 60)
    assert counted.found == whole.found


def test_nobody_is_named(staff, nets, tasks):
    found = str(count(make_draft(staff, limits=TIGHT)).found)
    for net in Net.objects.all():
        assert net.name not in found
        assert net.owner.name not in found


@pytest.mark.parametrize("name", rulebook.names())
def test_what_is_in_force_has_no_troubles(staff, name):
    draft = make_draft(staff, name)
    assert count(draft).troubles == []


@pytest.mark.parametrize(
    ("name", "changes", "told"),
    [
        ("no-sweep", {"drop": ("dropper_stock",)}, "exercise"),
        ("no-sweep", {"drop": ("no_sweep",)}, "can no longer be planned"),
        ("whiting", {"drop": ("bycatch_share",)}, "no standard for the catch"),
        # No dropper is made that short, so that a task with one never comes about.
        ("no-sweep", {"limits": {"dropper_length": 0.001}}, "no task comes about"),
        # No chain is sold that is thicker.
        ("no-sweep", {"limits": {"dropper_stock": 1.0}}, "exercise"),
    ],
)
def test_what_the_site_could_not_work_by_is_told(staff, monkeypatch, name, changes, told):
    # A tenth of the patience: tasks by the rules as they are took 9,000 draws at most.
    monkeypatch.setattr(trial._Patience, "left", trial.MOST_DRAWS // 10)
    draft = make_draft(staff, name, **changes)
    found = [
        trouble
        for part in trial.parts(draft.book)
        for trouble in trial.troubles(part, draft.book, draft.text)
    ]
    assert told in " ".join(found)
    # In words for who drafts: no name that only programs know, and no file.
    names = {rule.key for book in rulebook.everything() for rule in book.requirements}
    names |= {*rulebook.names(), *kinds.KINDS, "Error", ".md", "None"}
    inner = {each for each in names if "_" in each or "-" in each or each[0].isupper()}
    assert not [trouble for trouble in found for each in inner if each in trouble]
    if key := changes.get("drop", ("",))[0]:
        title = rulebook.load(name).requirement(key).title
        said = f"it needs the rule “{title}”, which this draft has not got."
        assert key == "bycatch_share" or any(said in trouble for trouble in found)
    assert rulebook.load(name).version == "1"  # off the shelf again


class TestCommand:
    def test_it_counts_and_tells(self, staff, nets, tasks):
        draft = make_draft(staff, limits=TIGHT)
        out = StringIO()
        call_command("rule_impact", draft.pk, stdout=out)
        counted = impact.of_text(draft)
        assert counted.finished <= timezone.now()
        assert f"{counted.total} of {counted.total} looked at" in out.getvalue()
        breaks = counted.found[impact.AS_IS]["breaks"]
        assert f"newly break a rule: {breaks} as they are" in out.getvalue()
        call_command("rule_impact", draft.pk, anew=True, stdout=StringIO())
        assert draft.impacts.count() == 2

    def test_stopped_it_carries_on_where_it_was(self, staff, nets, monkeypatch):
        draft = make_draft(staff, limits=TIGHT)
        whole = count(draft).found
        draft.impacts.all().delete()
        carry_on, calls = impact.carry_on, []

        def interrupted(counted, seconds):
            if len(calls) == 3:
                raise KeyboardInterrupt
            calls.append(counted)
            return carry_on(counted, 0)

        monkeypatch.setattr(impact, "carry_on", interrupted)
        with pytest.raises(CommandError, match="is kept"):
            call_command("rule_impact", draft.pk, stdout=StringIO())
        assert impact.of_text(draft).done == 3
        monkeypatch.setattr(impact, "carry_on", carry_on)
        call_command("rule_impact", draft.pk, stdout=StringIO())
        assert draft.impacts.get().found == whole

    def test_there_has_to_be_such_a_draft(self):
        with pytest.raises(CommandError, match="no draft number 7"):
            call_command("rule_impact", 7)
