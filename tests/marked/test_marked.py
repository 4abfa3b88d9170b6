"""All that people read is marked, so that it can be said in another language one day."""

from pathlib import Path

import pytest

from tests import marked
from tests.marked import python, templates

ROOT = Path(__file__).parents[2]


# What is not said to anybody, by file, each for a reason.
ALLOWED = {
    # Headings as others write them, known by their English.
    "training/register/table/columns.py": {
        "vessel name",
        "name of vessel",
        "boat name",
        "home harbor",
        "home harbour",
        "home port",
        "length over all",
        "length overall",
        "vessel length",
        "registration number",
        "registration no",
        "reg no",
        "owner name",
        "name of owner",
        "captain name",
        "name of captain",
        "skipper name",
        "rule set",
        "still fishing",
        "is fishing",
        "stage since",
        "at stage since",
        "what is wrong",
        "line in the file",
        "demo data",
    },
    # Words of the standard, and of statements that say which language they are in.
    "training/interchange/statements.py": {"Activity", "Agent", "was certified"},
    # A statement for the database, of which a library knows none that keeps numbers as given.
    "training/office/backup/tables.py": {"INSERT INTO {} ({}) VALUES ({})"},
}


@pytest.mark.parametrize(
    "path", [str(path.relative_to(ROOT)) for path in marked.files(ROOT)], ids=str
)
def test_what_people_read_is_marked(path):
    found = [each for each in marked.unmarked(ROOT / path) if each[1] not in ALLOWED.get(path, ())]
    assert found == []


def test_what_is_not_marked_is_found():
    source = '''
"""For developers alone."""
from x import gettext as _
TITLE = "Save the tow"
def say(count, net):
    if net == "not this one":
        return _("The net {net} is saved.").format(net=net)
    raise ValueError(f"There are {count} nets.", _("fine here"))
'''
    assert python.unmarked(source) == [(4, "Save the tow"), (8, "There are {} nets.")]


def test_what_a_template_does_not_mark_is_found():
    source = (
        '{% load i18n %}<p title="Spoken">{% translate "Fine here" %} {{ name }}</p>\n'
        "{% blocktranslate trimmed %}Fine {{ name }}{% endblocktranslate %}\n"
        '<p class="not this">Not here {{ name }}</p><script>or this</script>'
    )
    assert [text.strip() for _, text in templates.unmarked(source)] == ["Not here", "Spoken"]
