"""A new kind is a file: it is found, and refused by name while a part of it is missing."""

import sys
from importlib import import_module

import pytest
from django import forms

from training.exercises import checks, kinds
from training.exercises.kinds.finding import KindError, find, newest

WHOLE = """
from django import forms
from training.exercises.kinds.base import AnswerForm, Kind, Marked


class GuessForm(AnswerForm):
    guess = forms.IntegerField()


class GuessTheCod(Kind):
    slug = "guess-the-cod"
    title = "Guess the cod"
    summary = "How many cod went by?"
    order = 7
    template = "exercises/question.html"
    form_class = GuessForm
    seconds = 10

    def generate(self, seed, rulebook, difficulty, focus=()):
        return seed

    def grade(self, task, answer):
        return Marked(lines=(), passed=self.read(task, answer)["guess"] == task)

    def any_answer(self, task):
        return {"guess": "1"}

    def hand(self, task, mind, rng):
        return {"guess": str(task)}

    truth = None
"""


def without(text, name):
    """Return the module ``text`` without the line or the method of its kind that says ``name``."""
    lines = text.split("\n")
    at = next(
        number
        for number, line in enumerate(lines)
        if line.startswith((f"    {name} = ", f"    def {name}("))
    )
    return "\n".join(lines[:at] + lines[at + (2 if "def" in lines[at] else 1) :])


@pytest.fixture
def found(tmp_path, monkeypatch):
    """A function that finds the kinds in a package of so many modules, given as text by name."""
    monkeypatch.syspath_prepend(tmp_path)
    folder = tmp_path / "invented_kinds"
    folder.mkdir()
    (folder / "__init__.py").touch()

    def find_in(**modules):
        for name, text in modules.items():
            (folder / f"{name}.py").write_text(text)
        return find(import_module("invented_kinds"))

    yield find_in
    for name in [each for each in sys.modules if each.startswith("invented_kinds")]:
        del sys.modules[name]


def test_a_kind_is_found_in_its_file(found):
    kind = newest(found(cod=WHOLE, helpers="import os")["guess-the-cod"])
    assert kind.hand(3, None, None) == {"guess": "3"}


PARTS = [
    *("slug", "title", "summary", "template", "form_class", "seconds"),
    *("generate", "grade", "any_answer", "hand", "truth"),
]


@pytest.mark.parametrize("name", PARTS)
def test_what_is_missing_is_named_with_the_kind_and_its_file(found, tmp_path, name):
    with pytest.raises(KindError) as error:
        found(cod=without(WHOLE, name))
    told = str(error.value)
    assert f"GuessTheCod in {tmp_path / 'invented_kinds' / 'cod.py'} lacks `{name}`" in told
    assert all(f"`{other}`" not in told for other in PARTS if other != name)


def test_all_that_is_missing_is_said_at_once(found):
    with pytest.raises(KindError, match=r"lacks `hand` \(how .*\); `title` .*; `seconds`"):
        found(cod=without(without(without(WHOLE, "hand"), "seconds"), "title"))


def test_a_slug_is_one_that_an_address_can_have(found):
    with pytest.raises(KindError, match="lacks `slug`"):
        found(cod=WHOLE.replace("guess-the-cod", "Guess the cod"))


def test_two_kinds_cannot_have_one_slug(found):
    with pytest.raises(KindError, match=r"hake\.py has the slug and version of .*cod\.py"):
        found(cod=WHOLE, hake=WHOLE)


def test_earlier_versions_stay_and_the_newest_sets_the_tasks(found):
    newer = WHOLE.replace('    title = "Guess', '    version = 2\n    title = "Guess again')
    versions = found(cod=newer, cod_of_old=WHOLE)["guess-the-cod"]
    assert {version: kind.title for version, kind in versions.items()} == {
        1: "Guess the cod",
        2: "Guess again the cod",
    }
    assert newest(versions) is versions[2]


def test_no_version_may_be_missing(found):
    newer = WHOLE.replace('    title = "Guess', '    version = 2\n    title = "Guess again')
    with pytest.raises(KindError, match=r"cod\.py is version 2 .* version 1 is nowhere"):
        found(cod=newer)


def test_they_are_shown_by_their_order_then_by_slug(found):
    def kind(slug, order):
        return WHOLE.replace("guess-the-cod", slug).replace("order = 7", f"order = {order}")

    made = found(a=kind("a", 3), b=kind("b", 1), c=kind("c", 2), d=kind("d", 2))
    assert list(made) == ["b", "c", "d", "a"]


def test_a_class_that_kinds_share_is_none_itself(found):
    shared = WHOLE.replace("class GuessTheCod", "class _Guess") + (
        '\n\nclass GuessTheHake(_Guess):\n    slug = "guess-the-hake"\n'
    )
    assert list(found(fish=shared)) == ["guess-the-hake"]


def test_the_kinds_of_the_site_are_in_their_order():
    """It is the order of the practice page: from single parts to whole nets, then questions."""
    order = [kind.order for kind in kinds.KINDS.values()]
    assert order == sorted(order)
    assert len(set(order)) == len(order)


def test_a_kind_without_its_page_stops_the_start(monkeypatch):
    assert checks.kinds_have_their_pages(None) == []
    kind = kinds.get("judge-rig")
    monkeypatch.setattr(type(kind), "template", "exercises/none.html")
    (error,) = checks.kinds_have_their_pages(None)
    assert "JudgeRig in " in error.msg
    assert "judge_rig.py lacks its template “exercises/none.html”" in error.msg


def test_every_kind_has_a_form_of_its_own():
    for kind in kinds.KINDS.values():
        assert issubclass(kind.form_class, forms.Form)
