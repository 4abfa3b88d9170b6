"""Two saves of a sheet side by side."""

from datetime import date
from typing import NamedTuple

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs.check import log, whole
from rigs.check.entry import read
from rigs.check.steps import QUESTIONS
from rigs.rules import rulebook
from rigs.words.days import long_day

from .head_form import head_words
from .shown import label_of

_LABELS = {
    "vessel_name": gettext_lazy("Vessel"),
    "harbor": gettext_lazy("Harbor"),
    "position": gettext_lazy("Position"),
    "day": gettext_lazy("Day of the check"),
    "rulebook_name": gettext_lazy("Rules"),
    "fishery_name": gettext_lazy("Fishery"),
    "notes": gettext_lazy("Notes"),
}


class SavedLine(NamedTuple):
    """What stood under one ``label`` ``before`` and ``after``."""

    label: str
    before: str
    after: str

    @property
    def changed(self):
        return self.before != self.after


def _day(content):
    return date.fromisoformat(content["day"])


def books(content):
    """Return the rule sets that ``content`` of a save goes by, in the versions of its day."""
    names = (content["rulebook_name"], content.get("fishery_name", ""))
    found = [rulebook.find_in_force(name, _day(content)) if name else None for name in names]
    return whole.books_of(*found) if found[0] else ()


def tally(content):
    """Return the Tally of the ``content`` of a save."""
    measures = read(content["typed"]).measures
    entries = log.parse(content.get("readings", []))
    verdict = whole.judged(measures, books(content), _day(content), content["position"])
    return verdict.tally(log.told(entries))


def _general(content):
    told = {name: str(content.get(name, "")) for name in _LABELS}
    told["day"] = long_day(_day(content))
    for name in ("rulebook_name", "fishery_name"):
        if told[name]:
            told[name] = rulebook.nearest(told[name], _day(content)).title
    return told


def _head(content):
    return dict(head_words(content.get("head", {})))


def _readings(content, name):
    """Return all that ``content`` has in answer to ``name``, in one line."""
    entries = log.of(name, log.parse(content.get("readings", [])))
    if not entries:
        return content["typed"].get(name, "")
    typed = content["typed"]
    words = []
    for entry in entries:
        if entry.text.strip():
            parts = (log.worked_out(entry, typed) or entry.text, log.how_words(entry))
            text = ", ".join(filter(None, parts))
            words.append(_("{text} (struck)").format(text=text) if entry.struck else text)
    return "; ".join(words)


def rows(before, after):
    """Return the SavedLines of two contents of saves, in the order of the sheet."""
    general = [_general(each) for each in (before, after)]
    found = [
        SavedLine(str(label), general[0][name], general[1][name]) for name, label in _LABELS.items()
    ]
    heads = [_head(each) for each in (before, after)]
    for label in dict.fromkeys([*heads[0], *heads[1]]):
        found.append(SavedLine(label, heads[0].get(label, ""), heads[1].get(label, "")))
    for name in QUESTIONS:
        found.append(SavedLine(label_of(name), _readings(before, name), _readings(after, name)))
    whys = [each.get("reasons", {}) for each in (before, after)]
    for name in [each for each in QUESTIONS if whys[0].get(each) or whys[1].get(each)]:
        label = _("Why not measured: {label}").format(label=label_of(name))
        found.append(SavedLine(label, whys[0].get(name, ""), whys[1].get(name, "")))
    photos = [str(len(each["photo_keys"])) for each in (before, after)]
    found.append(SavedLine(_("Photos"), *photos))
    signed = [_signed(each) for each in (before, after)]
    found.append(SavedLine(_("Signatures"), *signed))
    return [row for row in found if row.before or row.after]


def _signed(content):
    return "; ".join(
        _("{name} (declined to sign)").format(name=each["name"] or each["role"])
        if each["refused"]
        else (each["name"] or each["role"])
        for each in content.get("signatures", [])
    )


def as_turned_in(saves):
    """Return the save of ``saves``, oldest first, that turned the sheet in; the first if none."""
    turning = [save for save in saves if save.hands_in and not save.reason]
    return turning[-1] if turning else saves[0]
