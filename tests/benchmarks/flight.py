"""
How good flight is, as far as the site can tell: ``python -m tests.benchmarks.flight``.

``grid`` prints heights by how finely a net is looked at, with times; ``changes`` what six
changes do to three nets, by the simple model of one dropper and in flight; ``sea`` lets a finer
solution of a net that is off in all that is not known play the sea: the page's model is fitted
to its shine at the center, and foretells changes. All nets are invented; none of it says how
a real net flies, and nothing in the model is tuned to it.
"""

import argparse
import time

import numpy as np

from rigs.make.changes import fewer_floats, more_droppers, more_floats
from rigs.physics import flight
from rigs.physics.flight.believed import FARTHEST, believe, custom, fit
from rigs.physics.flight.built import PAGE, Grid
from rigs.physics.flight.cases import draw
from rigs.physics.flight.laid import Cut
from rigs.tuning.altered import Alteration
from rigs.tuning.log import PLACES, Tow, dropper_at, heights
from rigs.tuning.proposals import lift
from rigs.tuning.shown import shown
from rigs.words.gear import SIDES, Dropper, Float, Footrope, GroundCable, Headrope, Leg, Rig
from rigs.words.units import FATHOM, FOOT, INCH

GRIDS = (Grid(3, 4), PAGE, Grid(1.5, 8), Grid(1, 12), Grid(0.75, 16), Grid(0.5, 24))
FINE = Grid(1, 12)
SPEED = 1.5  # m/s
READ = 1.5 * INCH  # how well a shine is read, one standard deviation


def net(foot, head, floats, chain, wire):
    """Return an invented net: ropes in feet, the droppers' chain and the legs' wire in inches."""
    bosom = foot / 4
    out, places = bosom / 2, {0.0}
    while out <= foot / 2:
        places |= {out, -out}
        out += 8
    return Rig(
        Headrope(head * FOOT),
        Footrope(bosom * FOOT, *[(foot - bosom) / 2 * FOOT] * 2),
        tuple(Dropper(at * FOOT, 42 * INCH, chain * INCH) for at in sorted(places)),
        tuple(Float(head * FOOT * (i / (floats - 1) - 0.5), 8 * INCH) for i in range(floats)),
        tuple(Leg(side, *[10 * FATHOM] * 2, *[wire * INCH] * 2) for side in SIDES),
        tuple(GroundCable(side, 15 * FATHOM, 3 / 4 * INCH) for side in SIDES),
    )


NETS = {
    "56 ft footrope": net(56, 50, 14, 5 / 16, 1 / 2),
    "80 ft footrope": net(80, 70, 21, 3 / 8, 1 / 2),
    "100 ft footrope": net(100, 88, 26, 3 / 8, 1 / 2),
}
CHANGES = {
    "4 floats more": lambda rig: more_floats(rig, 4),
    "4 floats fewer": lambda rig: fewer_floats(rig, 4),
    "2 droppers more": lambda rig: more_droppers(rig, 2),
    "headrope 4 in longer": Alteration(headrope=4 * INCH).of,
    "footrope 4 in longer": Alteration(footrope=4 * INCH).of,
    "starboard bottom leg 3 in longer": Alteration(legs=(("starboard", "bottom", 3 * INCH),)).of,
}


def _inches(values):
    return "  ".join(f"{value / INCH:6.1f}" for value in values)


def grid():
    """Print heights at five places by grid, and how long one flight takes."""
    print("Heights at five places, in inches, port to starboard, by grid; one core")
    for name, rig in NETS.items():
        beliefs = fit(believe(rig, flight.Told(SPEED)), [custom(rig)])
        guess = beliefs.guess()
        cut, changed = Cut.typical(rig, guess), more_floats(rig, 4)
        flown = None
        print(name)
        for each in GRIDS:
            began = time.perf_counter()
            flown = flight.fly(rig, guess, cut, each, flown)
            took = time.perf_counter() - began
            after = flight.fly(changed, guess, cut, each, flown)
            change = [b.up - a.up for a, b in zip(flown.points, after.points, strict=True)]
            print(
                f"  {each.step:4} m, {each.rows:2} rows: {_inches(p.up for p in flown.points)}   "
                f"4 floats more: {_inches(change)}   {took:6.2f} s, {flown.rest.steps} steps"
            )


def _simple(flown, before, after):
    """Return what the model of one dropper says, as (likely, low, high) in metres; None if not."""
    if before.legs != after.legs or before.footrope != after.footrope:
        return None
    if before.headrope != after.headrope:
        return None
    shines = {
        place: next(
            each.shine for each in flown.trailing if each.dropper == dropper_at(before, place)
        )
        for place in PLACES
    }
    told = heights(Tow(SPEED, shines, rig=before), before)
    found = shown(before, [told]).effect(before, after, lift=lift(after) - lift(before))
    return None if found is None else (found.change, found.low, found.high)


def changes():
    """Print what six changes do to three nets, by the simple model and in flight."""
    print("Change of height in inches: likely, and what holds nine in ten of 20 nets; 1.5 m/s")
    for name, rig in NETS.items():
        beliefs = fit(
            believe(rig, flight.Told(SPEED)),
            [flight.Seen(rig, (flight.Reading(0.0, 18 * INCH, READ),), SPEED)],
        )
        cases = draw(beliefs, rig)
        print(f"{name}, flying at 18 in at the center by its shine")
        for what, make in CHANGES.items():
            after = make(rig)
            simple = _simple(beliefs.flown(rig), rig, after)
            said = (
                "not told"
                if simple is None
                else "{:.1f} ({:.1f} to {:.1f})".format(*(each / INCH for each in simple))
            )
            moved = flight.compare(beliefs, rig, after)
            places = [
                f"{each.change / INCH:.1f} ({spread.change.low / INCH:.1f} to "
                f"{spread.change.high / INCH:.1f})"
                for each, spread in zip(moved, cases.after(after), strict=True)
            ]
            print(f"  {what}: simple {said}; in flight {', '.join(places)}")


def sea(count):
    """Print how well the page's model foretells what a finer net, off in all, does."""
    rng = np.random.default_rng(7)
    rig = NETS["80 ft footrope"]
    errors = {what: [] for what in CHANGES}
    held = {what: [] for what in CHANGES}
    done = 0
    while done < count:
        at_sea = fit(believe(rig, flight.Told(SPEED), FINE), [custom(rig)])
        root = np.linalg.cholesky(at_sea.left + 1e-9 * np.eye(len(at_sea.offs)))
        off = root @ rng.standard_normal(len(at_sea.offs))
        offs = np.clip(at_sea.offs + off, -FARTHEST, FARTHEST)
        try:
            true = at_sea.fly(rig, offs=offs)
            if any(point.lies for point in true.points) or any(e.clear for e in true.trailing):
                continue  # a shine of all or of nothing sets no number
            read = true.up(0.0) + READ * rng.standard_normal()
            seen = flight.Seen(rig, (flight.Reading(0.0, read, READ),), SPEED)
            beliefs = fit(believe(rig, flight.Told(SPEED)), [seen])
            cases = draw(beliefs, rig)
            for what, make in CHANGES.items():
                after = make(rig)
                truth = at_sea.fly(after, true, offs=offs)
                moved = flight.compare(beliefs, rig, after)
                spreads = cases.after(after)
                for old, new, one, spread in zip(
                    true.points, truth.points, moved, spreads, strict=True
                ):
                    change = new.up - old.up
                    errors[what].append(one.change - change)
                    held[what].append(spread.change.low <= change <= spread.change.high)
        except flight.NotAtRest:
            continue
        done += 1
    print(f"{count} nets at sea, each off in all that is not known; five places each; in inches")
    for what in CHANGES:
        off = np.abs(np.array(errors[what])) / INCH
        print(
            f"  {what}: half are off by less than {np.median(off):.1f}, nine in ten by less than "
            f"{np.quantile(off, 0.9):.1f}; the span held the truth {np.mean(held[what]):.0%}"
        )


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("part", nargs="*", choices=["grid", "changes", "sea", []])
    parser.add_argument("--nets", type=int, default=12)
    chosen = parser.parse_args()
    parts = {"grid": grid, "changes": changes, "sea": lambda: sea(chosen.nets)}
    for name in chosen.part or parts:
        parts[name]()
