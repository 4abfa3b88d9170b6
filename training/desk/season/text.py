"""A season report in sentences and charts, in sections that page and paper share."""

from typing import NamedTuple

from rigs.drawing.bars import Bar, bars_view
from rigs.words.days import long_day
from training.deck.figures import Figure
from training.deck.plain import counted, listed, verb, without_a_sweep
from training.deck.suppression import SMALLEST
from training.evidence import figures as tow_figures
from training.evidence.words import METHOD, basis
from training.register import conversion_figures

KEPT_BACK = "left out"
_FEW = f"fewer than {SMALLEST}"


class ReportPart(NamedTuple):
    """A heading, what is said under it, and a Figure, None if there is none to see."""

    title: str
    sentences: list
    figure: Figure | None = None


def title(report):
    """Return the title of the Report."""
    where = listed(report.harbors) if report.harbors else "the whole fleet"
    return f"{report.season.title}: {where}"


def headline(report):
    """Return the one sentence that matters most."""
    if report.converted is not None or not report.vessels:
        return without_a_sweep(report.converted or 0, report.vessels)
    return (
        f"Of {counted(report.vessels, 'vessel')} on the register, {_FEW} fish without a sweep "
        f"or {_FEW} do not yet: too few to show without pointing at someone."
    )


def sections(report):
    """Return the Sections of the Report in their order."""
    return [
        _uptake(report),
        _parts(report.by_harbor, "harbor", "harbors"),
        _parts(report.by_size, "size of vessel", "sizes"),
        _conversion(report),
        _training(report),
        _rules(report),
        _evidence(report),
        _reading(report),
    ]


def _uptake(report):
    season = report.season
    came = f"{_FEW} came" if report.came is None else f"{counted(report.came, 'vessel')} came"
    return ReportPart(
        "Fishing without a sweep",
        [
            headline(report),
            f"In the months of the season, {long_day(season.first)} to {long_day(season.last)}, "
            f"{came} to fish without one, some perhaps not for the first time.",
        ],
    )


def _parts(groups, what, many):
    rows = [
        (
            group.name,
            group.vessels,
            KEPT_BACK if group.converted is None else group.converted,
        )
        for group in groups
    ]
    hidden = sum(group.converted is None for group in groups)
    name = f"By {what}"
    if not groups:
        return ReportPart(name, ["No vessels."])
    bars = [
        Bar(
            group.name,
            group.converted,
            group.vessels,
            KEPT_BACK if group.converted is None else f"{group.converted} of {group.vessels}",
        )
        for group in groups
    ]
    words = "; ".join(f"{bar.name}: {bar.words}" for bar in bars)
    said = [f"Vessels that fish without a sweep, by {what}."]
    if hidden:
        which = f"{hidden} of the {len(groups)} {many} {verb(hidden, 'is', 'are')}"
        said.append(
            f"{'All are' if hidden == len(groups) else which} left out: fewer than {SMALLEST} "
            "vessels would be pointed at, or could be worked out from the others."
        )
    figure = Figure(
        f"report-{what.split()[0]}",
        name,
        bars_view(f"Vessels that fish without a sweep, by {what}", f"{words}.", bars),
        (what, "vessels", "without a sweep"),
        rows,
    )
    return ReportPart(name, said, figure)


def _conversion(report):
    name = "How long converting takes"
    if not report.followed:
        return ReportPart(name, ["Too few vessels have been followed to show."])
    figure = conversion_figures.yearly(report.followed)
    return ReportPart(
        name,
        [
            f"{counted(len(report.followed), 'vessel')} "
            f"{verb(len(report.followed), 'has', 'have')} been followed from the first contact on.",
            figure.caption,
        ],
        figure,
    )


def _training(report):
    told = report.training
    if told.people is None:
        return ReportPart("Training", [f"{_FEW.capitalize()} people train here: nothing is shown."])
    said = [_people(told.people, "trains here", "train here")]
    for count, one, many in (
        (told.begun, "has started to read or practice", "have started to read or practice"),
        (told.certified, "has a certificate", "have a certificate"),
    ):
        if count is None:
            said.append(f"How many {many} is left out: too few have, or have not.")
        else:
            said.append(_people(count, one, many))
    return ReportPart("Training", said)


def _people(count, one, many):
    who = counted(count, "person", "people") if count else "Nobody"
    return f"{who} {verb(count, one, many)}."


def _rules(report):
    name = "Hardest rules"
    if not report.rules:
        return ReportPart(name, ["No rule was asked of enough people to show."])
    bars = [
        Bar(rule.title, rule.missed, rule.people, f"{rule.missed} of {rule.people}")
        for rule in report.rules
    ]
    figure = Figure(
        "report-rules",
        name,
        bars_view(
            "People who missed a rule at least once, of those asked about it",
            "; ".join(f"{bar.name}: {bar.words}" for bar in bars) + ".",
            bars,
        ),
        ("rule", "clause", "people asked", "people who missed it"),
        [(rule.title, rule.clause, rule.people, rule.missed) for rule in report.rules],
    )
    return ReportPart(
        name,
        [
            "Of the people asked about a rule, how many missed it at least once. A person in "
            "two groups counts in both."
        ],
        figure,
    )


def _evidence(report):
    found = report.evidence
    name = "With the sweep and without"
    if not found.enough:
        return ReportPart(name, ["There are not enough shared pairs of tows to show."])
    said = [f"{basis(found)} These are of the whole fleet, whichever harbors this report is for."]
    said += [f"{sentence} {chance}" for _, sentence, chance in tow_figures.told(found)]
    return ReportPart(name, said, tow_figures.ratios(found))


def _reading(report):
    books = listed(
        [
            f"{book.title}, version {book.version}, used from {long_day(book.effective_from)}"
            for book in report.rulebooks
        ]
    )
    return ReportPart(
        "How to read this report",
        [
            f"It says what was known on {long_day(report.on)}. A vessel counts as fishing "
            "without a sweep when that is the last stage we know of, and we have not heard of it "
            "going back.",
            f"Counts from 1 to {SMALLEST - 1} are left out, and so are others from which they "
            "could be worked out in this report. Two reports of different days, side by side, can "
            "still show more than each alone. Keep that in mind before you pass them on.",
            *METHOD,
            f"Rules: {books}.",
            "This is training, not legal advice. The current regulation, the permit and your "
            "local officer decide.",
        ],
    )
