"""Texts are said in the language of whoever speaks, those of modules when they are shown."""

import random
from gettext import NullTranslations

import pytest

from rigs.make import faults, sample
from rigs.requirements import find
from rigs.rules import rulebook
from rigs.rules.judge import judge
from rigs.words import say
from rigs.words.places import place_text


class Pirate(NullTranslations):
    def gettext(self, message):
        return f"Arr, {message}"

    def ngettext(self, msgid1, msgid2, n):
        return f"Arr, {msgid1 if n == 1 else msgid2}"


@pytest.fixture
def pirate():
    say.speak_by(Pirate())
    yield
    say.speak_by(NullTranslations())


TITLE = say.gettext_lazy("{count} droppers")


def test_english_without_a_speaker():
    assert say.gettext("No sweep") == "No sweep"
    assert say.ngettext("one dropper", "many droppers", 2) == "many droppers"
    assert TITLE.format(count=3) == "3 droppers"


def test_what_a_speaker_says(pirate):
    assert say.gettext("No sweep") == "Arr, No sweep"
    assert say.ngettext("one dropper", "many droppers", 1) == "Arr, one dropper"


def test_texts_of_a_module_follow_the_speaker(pirate):
    assert str(TITLE) == f"{TITLE}" == "Arr, {count} droppers"
    assert TITLE.format(count=3) == "Arr, 3 droppers"
    assert f"{TITLE:>20}".strip() == "Arr, {count} droppers"


def test_texts_of_a_module_are_compared_as_english(pirate):
    assert TITLE == "{count} droppers"
    assert {TITLE: 1}["{count} droppers"] == 1


class Counting(NullTranslations):
    def __init__(self):
        super().__init__()
        self.asked = []

    def gettext(self, message):
        self.asked.append(message)
        return message


@pytest.fixture
def counting():
    speaker = Counting()
    say.speak_by(speaker)
    yield speaker
    say.speak_by(NullTranslations())


@pytest.mark.parametrize("name", rulebook.gear_names())
def test_a_judge_looks_up_no_text_until_it_is_read(counting, name):
    book = rulebook.load(name)
    rng = random.Random(3)
    rig = sample.legal_rig(rng, book, difficulty=2)
    key = rng.choice(faults.spoilable(book, rig))
    spoiled = faults.spoil(rig, key, faults.Draw(rng, book))
    counting.asked.clear()
    verdicts = [judge(each, book) for each in (rig, spoiled)]
    assert counting.asked == []
    assert verdicts[1].finding(key).sentence
    assert counting.asked


def test_places_of_a_module_follow_the_speaker(pirate):
    assert place_text(find("dropper_at_corners").SPOTS[0]) == "Arr, port corner"
