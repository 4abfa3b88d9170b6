"""Tasks of past attempts are made anew from their seeds, so they may never change."""

import pytest

from tests.exercises import pinned
from training.exercises import kinds

FILES = sorted(pinned.FOLDER.glob("*.json"))


def rule_set(name):
    """Return the rule set in the ``name`` of a pinned task."""
    return name.split()[1]


OLD = {rule_set(name) for path in FILES for name in pinned.read(path)[1]["tasks"]}


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_tasks_are_drawn_and_graded_as_when_they_were_pinned(path):
    kind, pins = pinned.read(path)
    found = pinned.pin(kind)
    # A rule set that no pin names came later.
    found["tasks"] = {name: told for name, told in found["tasks"].items() if rule_set(name) in OLD}
    assert found == pins


def test_every_kind_is_pinned():
    assert {f"{slug}.json" for slug in kinds.KINDS} <= {path.name for path in FILES}


def test_a_digest_tells_a_task_from_one_of_another_size():
    kind = kinds.get("one-reading")
    book = pinned.rulebook.load("no-sweep", "1")
    one, same, other = (kind.generate(seed, book, 3, ("top_leg_wire",)) for seed in (1, 1, 2))
    assert pinned.digest(one) == pinned.digest(same) != pinned.digest(other)
