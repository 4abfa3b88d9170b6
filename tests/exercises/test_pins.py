"""Tasks of past attempts are made anew from their seeds, so they may never change."""

import pytest

from tests.exercises import pinned
from training.exercises import kinds

FILES = sorted(pinned.FOLDER.glob("*.json"))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_tasks_are_drawn_and_graded_as_when_they_were_pinned(path):
    kind, pins = pinned.read(path)
    assert pinned.pin(kind) == pins


def test_every_kind_is_pinned():
    assert {f"{slug}.json" for slug in kinds.KINDS} <= {path.name for path in FILES}


def test_a_digest_tells_a_task_from_one_of_another_size():
    kind = kinds.get("one-reading")
    book = pinned.rulebook.load("no-sweep")
    one, same, other = (kind.generate(seed, book, 3, ("top_leg_wire",)) for seed in (1, 1, 2))
    assert pinned.digest(one) == pinned.digest(same) != pinned.digest(other)
