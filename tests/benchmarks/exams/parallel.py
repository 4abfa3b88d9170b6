"""Whether all forms of an exam are alike in what they ask, and give nothing away by how."""

from collections import Counter, defaultdict
from statistics import mean, pstdev

from tests.benchmarks.exams import trial
from training.certification import blueprints, drawing
from training.certification.spread import READING
from training.exercises.kinds.one_reading import BROKEN


def run(requirements, count, on):
    """Print what ``count`` forms of ``requirements`` have in common, and what differs."""
    spreads, broken, doubles = Counter(), [], 0
    by_rule, by_place = defaultdict(list), defaultdict(list)
    for number in range(count):
        form = trial.form(requirements, number, on)
        asked = [(spec.slot.kind, spec.slot.difficulty, spec.slot.focus) for spec in form.specs]
        spreads[tuple(sorted(Counter(asked).items()))] += 1
        looks = [drawing.looks(task) for task in form.tasks]
        doubles += len(set(looks)) < len(looks)
        sides = [spec.side == BROKEN for spec in form.specs if spec.slot.kind == READING]
        broken.append(sum(sides))
        for place, (spec, side) in enumerate(zip(form.specs, sides, strict=False)):
            by_rule[spec.slot.focus[0]].append(side)
            by_place[place].append(side)
    readings = len(by_place)
    print(
        f"\n{requirements.title}: {count} forms of "
        f"{len(blueprints.of_requirements(requirements, on))} points"
    )
    print(f"  different spreads by kind, level and rule: {len(spreads)} (one is what is wanted)")
    print(f"  forms with two questions alike: {doubles}")
    print(
        f"  readings broken on a form: {min(broken)} to {max(broken)} of {readings}, "
        f"mean {mean(broken):.1f}, spread {pstdev(broken):.1f}"
    )
    print(f"  share broken by rule:  {_range(by_rule)}")
    print(f"  share broken by place: {_range(by_place)}")


def _range(found):
    """Return the least and the most share, and how far by chance alone the farthest would lie."""
    shares = {key: mean(each) for key, each in found.items()}
    low, high = min(shares, key=shares.get), max(shares, key=shares.get)
    off = max(abs(shares[key] - 0.5) / (0.25 / len(each)) ** 0.5 for key, each in found.items())
    return (
        f"{shares[low]:.2f} ({low}) to {shares[high]:.2f} ({high}); the farthest is {off:.1f} "
        "standard errors of single coins off"
    )
