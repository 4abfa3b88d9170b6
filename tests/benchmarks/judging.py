"""Rigs judged per second on one core."""

import random
import time

from rigs.make import faults, sample
from rigs.rules import rulebook
from rigs.rules.judge import judge

RIGS = 200
ROUNDS = 15
AIM = 20_000


def _rigs(book):
    """Return legal and spoilt rigs of every difficulty, in equal shares."""
    rigs = []
    for seed in range(RIGS // 2):
        rng = random.Random(seed)
        rig = sample.legal_rig(rng, book, difficulty=seed % 3 + 1)
        rigs.append(rig)
        rigs.append(
            faults.spoil(rig, rng.choice(faults.spoilable(book, rig)), faults.Draw(rng, book))
        )
    return rigs


def run():
    """Print, for each gear rule set, the median and the best rate over the rounds."""
    print(f"Rigs judged per second on one core (aim: {AIM:,})")
    for name in rulebook.gear_names():
        book = rulebook.load(name)
        rigs = _rigs(book)
        rates = []
        for _ in range(ROUNDS):
            start = time.process_time()
            for rig in rigs:
                judge(rig, book)
            rates.append(len(rigs) / (time.process_time() - start))
        rates.sort()
        median = rates[len(rates) // 2]
        print(
            f"  {name:12} median {median:9,.0f}  best {rates[-1]:9,.0f}  "
            f"{median / AIM:5.2f} of the aim"
        )
