"""A season report in sentences and charts, in sections that page and paper share."""

from typing import NamedTuple

from django.utils.translation import gettext as _

from rigs.drawing.bars import Bar, bars_view
from rigs.words.days import long_day, short_day
from rigs.words.say import gettext_lazy
from training.deck.figures import Figure, marked
from training.deck.plain import NO_HARBOR, counted, listed, percent, verb, without_a_sweep
from training.deck.suppression import SMALLEST
from training.evidence import figures as tow_figures
from training.evidence.words import METHOD, basis
from training.register import conversion_figures

MOST_BARS = 12
"""As many groups as a chart shows; the table has them all."""
KEPT_BACK = gettext_lazy("left out")
_FEW = gettext_lazy("fewer than {SMALLEST}").format(SMALLEST=SMALLEST)


class ReportTable(NamedTuple):
    """A table without a chart."""

    header: tuple
    rows: list


class ReportPart(NamedTuple):
    """A heading, what is said under it, and a Figure or a table, None if there is none."""

    title: str
    sentences: list
    figure: Figure | None = None
    table: ReportTable | None = None


OFFICE = gettext_lazy("For the office only: holds counts of single vessels and people.")
HAND_ON = gettext_lazy("To hand on: small counts are left out.")
DEMO = gettext_lazy("Demo data: these people, vessels and catches are invented.")
_MOST_NAMED = 3  # harbors in a title


def title(report):
    """Return the title of the Report."""
    season = report.season.title
    if report.is_running:
        season = _("{season} so far").format(season=season)
    return f"{season}: {where(report)}"


def where(report):
    """Return whose vessels the Report is about."""
    if report.harbors is None:
        return _("the whole fleet")
    if not report.harbors:
        return str(NO_HARBOR)
    if len(report.harbors) > _MOST_NAMED:
        return _("{count} harbors").format(count=len(report.harbors))
    return listed(report.harbors)


def as_of(report):
    """Return one sentence on the day of which the Report tells."""
    if report.is_running:
        return _("The season so far, as of {day}.").format(day=long_day(report.on))
    return _("As of {day}, the last day of the season.").format(day=long_day(report.on))


def version(report):
    """Return one sentence on for whom the Report is."""
    return OFFICE if report.for_office else HAND_ON


def headline(report):
    """Return the one sentence that matters most."""
    day = long_day(report.on)
    told = report.told
    if told.converted is not None or not told.vessels:
        return _("On {day}: {sentence}").format(
            day=day, sentence=without_a_sweep(told.converted or 0, told.vessels)
        )
    return _(
        "On {day}, of {counted} on the register, {FEW} fish without a sweep or {FEW} do not yet: "
        "too few to show without pointing at someone."
    ).format(day=day, counted=counted(told.vessels, "vessel"), FEW=_FEW)


def sections(report):
    """Return the Sections of the Report in their order."""
    before = [_beside(report)] if report.before else []
    parts = [
        _uptake(report),
        *before,
        _parts(report.by_harbor, "harbor", "harbors"),
        _parts(report.by_size, _("size of vessel"), "sizes"),
        _conversion(report),
        _training(report),
        _rules(report),
        _evidence(report),
        _reading(report),
    ]
    return [_marked(part, report) for part in parts]


def _marked(part, report):
    if part.figure is None:
        return part
    figures = marked([part.figure], report.on, report.is_demo)
    return part._replace(figure=figures[0])


def _uptake(report):
    said = [headline(report)]
    if report.harbors and len(report.harbors) > _MOST_NAMED:
        said.insert(0, _("The harbors are {names}.").format(names=listed(report.harbors)))
    if report.told.vessels:
        said += [_("Vessels that no longer fished then are left out."), _came(report)]
    return ReportPart(_("Fishing without a sweep"), said)


def _came(report):
    came, days = report.told.came, _days(report.season, report.on)
    if came is None:
        return _(
            "How many of them came to fish without one from {days} is left out: it would tell "
            "of fewer than {SMALLEST} vessels."
        ).format(days=days, SMALLEST=SMALLEST)
    if not came:
        return _("From {days}, none of them came to fish without one.").format(days=days)
    return _(
        "From {days}, {came} of them came to fish without one, some perhaps not for the first "
        "time. {they} even if a vessel went back to a sweep after that."
    ).format(days=days, came=came, they=_("It counts") if came == 1 else _("They count"))


def _days(season, on):
    return _("{first} to {last}").format(first=long_day(season.first), last=long_day(on))


def _beside(report):
    """Return the figures of the season before beside those of this one."""
    before, now = report.before, report.told
    title = _("Beside the season before")
    rows = [
        (name, *(KEPT_BACK if count is None else count for count in counts))
        for name, *counts in (
            (_("vessels on the register that fished"), before.told.vessels, now.vessels),
            (_("of these, fishing without a sweep"), before.told.converted, now.converted),
            (_("came to it in the season"), before.told.came, now.came),
            (_("people with an account"), before.told.people, now.people),
            (_("had started"), before.told.begun, now.begun),
            (_("held a valid certificate"), before.told.certified, now.certified),
        )
    ]
    said = [_sides(report), *_grown(before.told, now), *_shares(report)]
    if any(KEPT_BACK in row for row in rows):
        said.append(
            _(
                "What is left out is small, or would give away a small count: two figures that "
                "differ by fewer than {SMALLEST} are not shown beside each other."
            ).format(SMALLEST=SMALLEST)
        )
    said.append(_("Certificates run out, so fewer can be valid than the year before."))
    header = ("", short_day(before.on), short_day(report.on))
    return ReportPart(title, said, table=ReportTable(header, rows))


def _sides(report):
    before, day = report.before, long_day(report.on)
    if report.is_running:
        return _(
            "The season still runs. Beside it is the season {year} as it was on the same day of "
            "it, {day}, not at its end."
        ).format(year=before.season.year, day=long_day(before.on))
    return _("Both are as of their last day: {day} and {day2}.").format(
        day=long_day(before.on), day2=day
    )


def _grown(before, now):
    """Yield what to bear in mind if the register is not as large as it was."""
    change = now.vessels - before.vessels
    if not change:
        return
    words = _("grown") if change > 0 else _("shrunk")
    yield _(
        "The register has {grown} by {counted}, from {before} to {now}. So the share without a "
        "sweep can change though no vessel changed its net."
    ).format(
        grown=words,
        counted=counted(abs(change), "vessel"),
        before=before.vessels,
        now=now.vessels,
    )


def _shares(report):
    """Yield the share without a sweep in both seasons, if both may be told."""
    before, now = report.before.told, report.told
    if None in (before.converted, now.converted) or not (before.vessels and now.vessels):
        return
    yield _(
        "Fishing without a sweep: {then} of {vessels} ({share}) on {day}, {now} of {vessels2} "
        "({share2}) on {day2}."
    ).format(
        then=before.converted,
        vessels=before.vessels,
        share=percent(before.converted / before.vessels),
        day=long_day(report.before.on),
        now=now.converted,
        vessels2=now.vessels,
        share2=percent(now.converted / now.vessels),
        day2=long_day(report.on),
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
    name = _("By {what}").format(what=what)
    if not groups:
        return ReportPart(name, [_("No vessels.")])
    largest = sorted(groups, key=lambda group: -group.vessels)[:MOST_BARS]
    bars = [
        Bar(
            group.name,
            group.converted,
            group.vessels,
            KEPT_BACK if group.converted is None else f"{group.converted} of {group.vessels}",
        )
        for group in groups
        if group in largest
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
            _("Vessels that fish without a sweep, by {what}").format(what=what),
            f"{words}.",
            bars,
            _in_table(len(groups) - len(bars), many),
        ),
        (what, "vessels", _("without a sweep")),
        rows,
    )
    return ReportPart(name, said, figure)


def _in_table(count, many):
    if not count:
        return ""
    return _("{count} smaller {many} in the table only.").format(count=count, many=many)


def _conversion(report):
    name = _("How long converting takes")
    if not report.followed:
        few = _("No vessel had been followed.")
        if not report.for_office:
            few = _("Too few vessels had been followed to show.")
        return ReportPart(name, [few])
    draw = conversion_figures.figure if report.for_office else conversion_figures.yearly
    figure = draw(report.followed)
    return ReportPart(
        name,
        [
            _(
                "{counted} {verb} been followed from the first contact on, until {day} at most. "
                "Vessels that were met fishing without a sweep already are left out here. "
                "Vessels that no longer fish are in."
            ).format(
                counted=counted(len(report.followed), "vessel"),
                verb=verb(len(report.followed), "has", "have"),
                day=long_day(report.on),
            ),
            figure.caption,
        ],
        figure._replace(caption=""),
    )


def _training(report):
    told, day = report.told, long_day(report.on)
    if told.people is None:
        return ReportPart(
            _("Training"),
            [
                _("{FEW} people trained here on {day}: nothing is shown.").format(
                    FEW=_FEW.capitalize(), day=day
                )
            ],
        )
    said = [
        _("Counted are trainees and officers, with what they had done up to {day}.").format(
            day=day
        ),
        _people(told.people, _("had an account"), _("had an account")),
    ]
    if not told.people:
        return ReportPart(_("Training"), said)
    for count, did in (
        (told.begun, _("had started to read, practice or take an exam")),
        (told.certified, _("held a certificate that was valid on that day")),
    ):
        if count is None:
            said.append(
                _(
                    "How many {did} is left out: it would tell of fewer than {SMALLEST} people."
                ).format(did=did, SMALLEST=SMALLEST)
            )
        else:
            said.append(_people(count, did, did))
    return ReportPart(_("Training"), said)


def _people(count, one, many):
    who = counted(count, "person", "people") if count else _("Nobody")
    return f"{who} {verb(count, one, many)}."


def _rules(report):
    name, days = _("Hardest rules"), _days(report.season, report.on)
    if not report.rules:
        none = _("No rule was missed in an exercise from {days}.")
        if not report.for_office:
            none = _("From {days}, no rule was asked of enough people to show who missed it.")
        return ReportPart(name, [none.format(days=days)])
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
                "In the exercises of the season, {days}: of the people asked about a rule, how "
                "many missed it at least once. Each person counts once for a rule. Rules that "
                "nobody missed are not listed."
            ).format(days=days)
        ],
        figure,
    )


def _evidence(report):
    found = report.evidence
    name = _("With the sweep and without")
    if not found.enough:
        return ReportPart(
            name,
            [
                _("Of tows up to {day} there are not enough shared pairs to show.").format(
                    day=long_day(report.on)
                )
            ],
        )
    said = [
        _(
            "{basis} These are all pairs towed up to {day}, of this season and those before, "
            "that their owners let be counted today. They are of the whole fleet, whichever "
            "harbors this report is for."
        ).format(basis=basis(found), day=long_day(report.on))
    ]
    said += [f"{sentence} {chance}" for __, sentence, chance in tow_figures.told(found)]
    return ReportPart(name, said, tow_figures.ratios(found))


def _kept_back(report):
    if report.for_office:
        return [
            _(
                "Nothing is left out here, so some counts are of single vessels or people. Keep "
                "it in the office. There is a version to hand on."
            )
        ]
    return [
        _(
            "Counts from 1 to {value} are left out, and so are others from which they could "
            "be worked out in this report. Two reports of different days, side by side, can "
            "still show more than each alone. Keep that in mind before you pass them on."
        ).format(value=SMALLEST - 1)
    ]


def _missing(report):
    """Return what the site cannot know of days gone by, if the Report tells of any."""
    if report.is_running and report.before is None:
        return []
    said = [
        _(
            "A vessel that was marked as no longer fishing before the site noted the day is left "
            "out of all past days, even those on which it fished."
        )
    ]
    if report.harbors is not None:
        said.append(
            _(
                "The site keeps no record of groups that people left. Those who left the groups "
                "of these harbors since, or deleted the account, may be missing from past days."
            )
        )
    return said


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
                "It tells of {day}, whatever came after. A vessel counts as fishing without a "
                "sweep when that was the last stage we know of by then, and we had not heard of "
                "it going back."
            ).format(day=long_day(report.on)),
            _(
                "What we heard later about that day is in, and what was corrected counts as "
                "corrected. If somebody deletes the account later, what they read and practiced "
                "goes out of this report. So do tows whose owner no longer lets them be counted."
            ),
            _(
                "A vessel that staff took off the register, as entered twice or by mistake, is in "
                "no report from then on. Two vessels that turn out to be one are counted as one."
            ),
            *_missing(report),
            *_kept_back(report),
            *METHOD,
            _("Rules: {books}.").format(books=books),
            _(
                "This is training, not legal advice. The current regulation, the permit and your "
                "local officer decide."
            ),
        ],
    )
