"""
The flights that are drawn: each change to the net of ``rigs/tuning/flights/pictured``, beforehand.

``python -m tests.pictured_flights`` makes ``pictured.json`` anew, in a few minutes on one
processor. ``tests/rigs/test_pictured.py`` flies some of it again and fails where it differs.
"""

import json
from dataclasses import asdict

from rigs.physics.flight import NotAtRest, draw
from rigs.tuning.flights import pictured
from tests.flights import ABOUT, beliefs_of

PLACES = 3  # decimals of a metre


def nodes(flown):
    """Return where the nodes of ``flown`` are, as the file has it."""
    return [[round(each, PLACES) + 0.0 for each in node] for node in flown.at.tolist()]


def row(flown, spreads):
    return {"spreads": [pictured.spread_row(each) for each in spreads], "at": nodes(flown)}


def made():
    """Return the whole file as plain data."""
    rig = pictured.SOUND.rig
    beliefs = beliefs_of(pictured.SOUND)
    cases = draw(beliefs, rig)
    changes = {}
    for mend in pictured.CHANGES:
        changed = mend.on(rig)
        try:
            changes[mend.key] = row(beliefs.flown(changed), cases.after(changed))
        except NotAtRest as error:
            print(f"left out: {mend.key}: {error}")
    return {
        "about": ABOUT.replace("tests.flights", "tests.pictured_flights"),
        "guess": asdict(beliefs.guess()),
        "before": row(beliefs.flown(rig), cases.after(rig)),
        "changes": changes,
    }


def text_of(data):
    """Return the file's text, a change a line."""
    rows = ",\n".join(
        f"  {json.dumps(key)}: {json.dumps(each)}" for key, each in data["changes"].items()
    )
    head = "".join(
        f" {json.dumps(part)}: {json.dumps(data[part])},\n" for part in ("about", "guess", "before")
    )
    return f'{{\n{head} "changes": {{\n{rows}\n }}\n}}\n'


if __name__ == "__main__":
    pictured.PATH.write_text(text_of(made()))
