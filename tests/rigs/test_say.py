"""Texts are said in the language of whoever speaks, those of modules when they are shown."""

from gettext import NullTranslations

import pytest

from rigs.words import say


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
