"""
A requirement that nobody has heard of: one class, and its line in a rule set.

Run by itself, for what is defined stays on the shelf. ``test_new_requirement`` runs it.
"""

import random
from dataclasses import replace

from rigs.requirements.sights import Noticed, Sights
from rigs.rules import rulebook, text
from rigs.rules.judge import judge


class NoChafingGear(Noticed):
    """Whether no chafing gear is on the top half of the codend."""

    key = "no_chafing_gear"
    about = "Top half of the codend"
    spot = "codend"
    question = "Is the top half of the codend free of chafing gear?"
    stop = "codend"
    told = "chafing gear on the top half of the codend"
    met = Sights(plain=("The top half is netting alone.",), close=("Old twine lies on it.",))
    broken = Sights(plain=("Chafing gear covers it.",), close=("A patch of gear is on it.",))


LINE = {
    "key": "no_chafing_gear",
    "title": "No chafing gear on top",
    "test": "must be",
    "limit": True,
    "clause": "50 CFR 648.999",
    "known": "memory",
    "words": {
        "met": "no chafing gear is on the top half",
        "broken": "chafing gear is on the top half",
        "asks": "none may be there",
    },
    "why": "Small fish cannot get out.",
    "remedy": "Take it off.",
}


def book():
    """Return a rule set with that line more."""
    entries = text.entries(rulebook.load("no-sweep", "1"))
    entries["requirements"].append(LINE)
    return rulebook.parse(text.dump(entries), "tried.yaml")


def main():
    # Imported once the class is there, as if it stood in a module of the package.
    from rigs.check import entry, sheet, steps, written
    from rigs.drawing.legs import legs_view
    from rigs.drawing.plan import plan_view
    from rigs.make import clearance, faults, near, sample
    from rigs.words.describe import describe

    key, rules, rng = NoChafingGear.key, book(), random.Random(4)
    rig = sample.legal_rig(rng, rules, 2)
    assert judge(rig, rules).legal is True

    assert key in faults.spoilable(rules, rig)
    spoilt = faults.spoil(rig, key, faults.Draw(rng, rules, 2))
    verdict = judge(spoilt, rules)
    assert verdict.failed_keys == {key}
    assert verdict.finding(key).sentence == ("Chafing gear is on the top half; none may be there.")
    assert ("Besides", "chafing gear on the top half of the codend") in describe(spoilt)
    assert judge(replace(rig, noted=None), rules).legal is None

    (stop,) = (each for each in steps.steps(rules) if key in steps.judged_by(each, rules))
    assert (stop.title, stop.questions[-1].label) == ("Codend", NoChafingGear.question)
    for each in (rig, spoilt):
        answers = entry.read(written.typed(each)).measures
        assert sheet.judged(answers, rules).failed_keys == judge(each, rules).failed_keys
    told = sheet.for_the_phone(rules)["requirements"][-1]
    assert (told["key"], told["names"]) == (key, [key])
    assert key in sheet.reading_rules()["questions"]

    assert key in near.keys(rules)
    drawn = near.draw(rng, rules, key, True, 1)
    assert drawn.lines == ("Chafing gear covers it.",)
    legs_view(spoilt, verdict)
    plan_view(spoilt, verdict)
    assert judge(clearance.roomy_rig(rng, rules), rules).legal is True
    assert rulebook.parse(text.write(rules), "again.yaml") == rules


if __name__ == "__main__":
    main()
