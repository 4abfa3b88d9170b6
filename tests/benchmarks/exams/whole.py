"""Whole exams: who passes, who gets the same verdict twice, what decides a fail."""

from collections import Counter

from tests.benchmarks.exams import tables, trial
from training.certification import blueprints, expected
from training.exercises.hands import people


def run(requirements, count, on):
    """Print how ``count`` people of each type fare, each in two forms of an exam."""
    slots = blueprints.of_requirements(requirements, on)
    minutes = blueprints.time_needed(slots).total_seconds() / 60
    print(
        f"\n{requirements.title}: {len(slots)} questions, about {minutes:.0f} minutes, "
        f"{requirements.pass_percent} percent to pass"
    )
    forms = [trial.form(requirements, number, on) for number in range(2 * count)]
    rows, twice = [], {}
    for name, make in trial.types(requirements, on).items():
        taken = [
            [
                trial.take(forms[at], make(number), trial.rng_for(requirements.slug, name, at))
                for at in (number, count + number)
            ]
            for number in range(count)
        ]
        twice[name] = taken
        rows.append((name, *_cells(taken, count)))
    heads = ("1st try", "points", "same", "by must", "missed most")
    tables.show(f"{count} people of each type, percent ± standard error", heads, rows)
    _honest(twice, count)
    _foretold(slots, requirements, on)


def _cells(taken, count):
    first = [each for each, _ in taken]
    passes = sum(each.passed for each in first) / count
    points = sum(each.points / each.out_of for each in first) / count
    same = sum(one.passed is other.passed for one, other in taken) / count
    by_must = sum(each.enough and not each.passed for each in first) / count
    missed = Counter(key for each in first if not each.passed for key in each.wrong)
    worst = missed.most_common(1)[0][0] if missed else "-"
    return (
        tables.percent(passes, count),
        f"{100 * points:.0f}",
        tables.percent(same, count),
        tables.percent(by_must, count),
        f"  {worst}",
    )


def _honest(twice, count):
    """Print what becomes of the honest people that ``people.HONEST`` assumes."""
    share = {
        percent: sum(one.passed for one, _ in twice[f"knows {percent}%"]) / count
        for percent in people.HONEST
    }
    same = sum(
        weight * sum(one.passed is other.passed for one, other in twice[f"knows {percent}%"])
        for percent, weight in people.HONEST.items()
    )
    less = {each: weight for each, weight in people.HONEST.items() if each < people.ENOUGH}
    more = {each: weight for each, weight in people.HONEST.items() if each >= people.ENOUGH}
    passing = sum(share[each] * weight for each, weight in less.items()) / sum(less.values())
    failing = sum((1 - share[each]) * weight for each, weight in more.items()) / sum(more.values())
    mix = ", ".join(f"{100 * weight:.0f} know {each}%" for each, weight in people.HONEST.items())
    print(
        f"Of 100 honest people ({mix}): same verdict twice {tables.percent(same / count, count)}; "
        f"of those below {people.ENOUGH}% pass {tables.percent(passing, count)}; "
        f"of the others fail {tables.percent(failing, count)}"
    )


def _foretold(slots, requirements, on):
    """Print what the compose page says of the same exam."""
    found = expected.expect(slots, expected.Terms.of(requirements), on)
    print("As the compose page has it:")
    for line in expected.in_words(found, requirements.track):
        print(f"  {line.text} {line.missed}".rstrip())
