"""A season report in sentences and charts, in sections that page and paper share."""

from typing import NamedTuple

from django.utils.translation import gettext as _

from rigs.drawing.bars import Bar, bars_view
from rigs.words.days import long_day
from rigs.words.say import gettext_lazy
from training.deck.figures import Figure
from training.deck.plain import counted, listed, verb, without_a_sweep
from training.deck.suppression import SMALLEST
from training.evidence import figures as tow_figures
from training.evidence.words import METHOD, basis
from training.register import conversion_figures

KEPT_BACK = gettext_lazy("left out")
_FEW = gettext_lazy("fewer than {SMALLEST}").format(SMALLEST=SMALLEST)


class ReportPart(NamedTuple):
    """A heading, what is said under it, and a Figure, None if there is none to see."""

    title: str
    sentences: list
    figure: Figure | None = None


def title(report):
    """Return the title of the Report."""
    where = listed(report.harbors) if report.harbors else _("the whole fleet")
    return f"{report.season.title}: {where}"


def headline(report):
    """Return the one sentence that matters most."""
    if report.converted is not None or not report.vessels:
        return without_a_sweep(report.converted or 0, report.vessels)
    return _(
        "Of {counted} on the register, {FEW} fish without a sweep or {FEW} do not yet: too "
        "few to show without pointing at someone."
    ).format(counted=counted(report.vessels, "vessel"), FEW=_FEW)


def sections(report):
    """Return the Sections of the Report in their order."""
    return [
        _uptake(report),
        _parts(report.by_harbor, "harbor", "harbors"),
        _parts(report.by_size, _("size of vessel"), "sizes"),
        _conversion(report),
        _training(report),
        _rules(report),
        _evidence(report),
        _reading(report),
    ]


def _uptake(report):
    season = report.season
    came = (
        _("{FEW} came").format(FEW=_FEW)
        if report.came is None
        else _("{counted} came").format(counted=counted(report.came, "vessel"))
    )
    return ReportPart(
        _("Fishing without a sweep"),
        [
            headline(report),
            _(
                "In the months of the season, {long_day} to {long_day2}, {came} to fish without "
                "one, some perhaps not for the first time."
            ).format(long_day=long_day(season.first), long_day2=long_day(season.last), came=came),
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
        return ReportPart(name, [_("No vessels.")])
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
    said = [_("Vessels that fish without a sweep, by {what}.").format(what=what)]
    if hidden:
        which = _("{hidden} of the {groups} {many} {verb}").format(
            hidden=hidden, groups=len(groups), many=many, verb=verb(hidden, "is", "are")
        )
        said.append(
            _(
                "{value} left out: fewer than {SMALLEST} vessels would be pointed at, or could "
                "be worked out from the others."
            ).format(value=_("All are") if hidden == len(groups) else which, SMALLEST=SMALLEST)
        )
    figure = Figure(
        f"report-{what.split()[0]}",
        name,
        bars_view(
            _("Vessels that fish without a sweep, by {what}").format(what=what), f"{words}.", bars
        ),
        (what, "vessels", _("without a sweep")),
        rows,
    )
    return ReportPart(name, said, figure)


def _conversion(report):
    name = "How long converting takes"
    if not report.followed:
        return ReportPart(name, [_("Too few vessels have been followed to show.")])
    figure = conversion_figures.yearly(report.followed)
    return ReportPart(
        name,
        [
            _("{counted} {verb} been followed from the first contact on.").format(
                counted=counted(len(report.followed), "vessel"),
                verb=verb(len(report.followed), "has", "have"),
            ),
            figure.caption,
        ],
        figure,
    )


def _training(report):
    told = report.training
    if told.people is None:
        return ReportPart(
            _("Training"),
            [_("{FEW} people train here: nothing is shown.").format(FEW=_FEW.capitalize())],
        )
    said = [_people(told.people, _("trains here"), _("train here"))]
    for count, one, many in (
        (told.begun, _("has started to read or practice"), _("have started to read or practice")),
        (told.certified, _("has a certificate"), _("have a certificate")),
    ):
        if count is None:
            said.append(
                _("How many {many} is left out: too few have, or have not.").format(many=many)
            )
        else:
            said.append(_people(count, one, many))
    return ReportPart(_("Training"), said)


def _people(count, one, many):
    who = counted(count, "person", "people") if count else _("Nobody")
    return f"{who} {verb(count, one, many)}."


def _rules(report):
    name = "Hardest rules"
    if not report.rules:
        return ReportPart(name, [_("No rule was asked of enough people to show.")])
    bars = [
        Bar(rule.title, rule.missed, rule.people, f"{rule.missed} of {rule.people}")
        for rule in report.rules
    ]
    figure = Figure(
        "report-rules",
        name,
        bars_view(
            _("People who missed a rule at least once, of those asked about it"),
            "; ".join(f"{bar.name}: {bar.words}" for bar in bars) + ".",
            bars,
        ),
        ("rule", "clause", _("people asked"), _("people who missed it")),
        [(rule.title, rule.clause, rule.people, rule.missed) for rule in report.rules],
    )
    return ReportPart(
        name,
        [
            _(
                "Of the people asked about a rule, how many missed it at least once. A person in "
                "two groups counts in both."
            )
        ],
        figure,
    )


def _evidence(report):
    found = report.evidence
    name = "With the sweep and without"
    if not found.enough:
        return ReportPart(name, [_("There are not enough shared pairs of tows to show.")])
    said = [
        _("{basis} These are of the whole fleet, whichever harbors this report is for.").format(
            basis=basis(found)
        )
    ]
    said += [f"{sentence} {chance}" for __, sentence, chance in tow_figures.told(found)]
    return ReportPart(name, said, tow_figures.ratios(found))


def _reading(report):
    books = listed(
        [
            _("{title}, version {version}, used from {long_day}").format(
                title=book.title, version=book.version, long_day=long_day(book.effective_from)
            )
            for book in report.rulebooks
        ]
    )
    return ReportPart(
        _("How to read this report"),
        [
            _(
                "It says what was known on {long_day}. A vessel counts as fishing without a "
                "sweep when that is the last stage we know of, and we have not heard of it going "
                "back."
            ).format(long_day=long_day(report.on)),
            _(
                "Counts from 1 to {value} are left out, and so are others from which they could "
                "be worked out in this report. Two reports of different days, side by side, can "
                "still show more than each alone. Keep that in mind before you pass them on."
            ).format(value=SMALLEST - 1),
            *METHOD,
            _("Rules: {books}.").format(books=books),
            _(
                "This is training, not legal advice. The current regulation, the permit and your "
                "local officer decide."
            ),
        ],
    )
