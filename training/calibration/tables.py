"""A round's calls and figures as rows, for pages and for tables to download."""

from django.utils.translation import gettext as _

from rigs.words.say import gettext_lazy

from .figures import UNSURE, so

DECIMALS = 4

JUDGEMENTS = (
    "officer",
    "e-mail",
    "rig",
    "shown",
    "verdict",
    gettext_lazy("verdict by the rules"),
    gettext_lazy("verdict right"),
    gettext_lazy("rules called broken"),
    gettext_lazy("rules broken"),
    gettext_lazy("false alarms"),
    gettext_lazy("missed faults"),
    "saved",
)

SUMMARY = (
    "of",
    "name",
    gettext_lazy("second officer"),
    "calls",
    gettext_lazy("share right"),
    "from",
    "to",
    "kappa",
    gettext_lazy("kappa from"),
    gettext_lazy("kappa to"),
    gettext_lazy("parts met"),
    gettext_lazy("false alarms"),
    gettext_lazy("parts broken"),
    gettext_lazy("missed faults"),
    gettext_lazy("kappa among officers"),
    gettext_lazy("among from"),
    gettext_lazy("among to"),
    gettext_lazy("ranges are for"),
)


def judgements(rigs, turns):
    """Yield a row for each rig and turn handed in, as in JUDGEMENTS."""
    for turn in turns:
        calls = {call.number: call for call in turn.calls.all()}
        for rig in rigs:
            yield _judgement(turn, rig, calls[rig.number])


def _judgement(turn, rig, call):
    claimed, failed = set(call.failing), rig.verdict.failed_keys
    titles = {each.key: each.title for each in rig.requirements}
    is_open = call.verdict == UNSURE

    def named(keys):
        return "; ".join(title for key, title in titles.items() if key in keys)

    return (
        turn.officer.name,
        turn.officer.email,
        rig.number,
        "drawn" if rig.drawn else "described",
        call.get_verdict_display(),
        so(rig).label,
        call.verdict == so(rig),
        named(claimed),
        named(failed),
        "" if is_open else named(claimed - failed),
        "" if is_open else named(failed - claimed),
        call.saved,
    )


def _figure(value):
    return None if value is None else round(value, DECIMALS)


def _ends(interval):
    return (None, None) if interval is None else tuple(map(_figure, interval))


def _kappa(kappa):
    if kappa is None:
        return None, None, None
    return _figure(kappa.kappa), *_ends(kappa.interval)


def _calling(calling):
    return calling.over.of, calling.over.count, calling.under.of, calling.under.count


OTHERS = gettext_lazy("other officers like these on other rigs")
THESE = gettext_lazy("the same officers on other rigs")


def summary(figures):
    """Yield rows as in SUMMARY: of everybody, of each officer, each rule and each pair."""
    reach = OTHERS if figures.for_others else THESE
    yield (
        "everybody's verdicts",
        "",
        "",
        figures.right.of,
        _figure(figures.right.share),
        *_ends(figures.right_interval),
        *_kappa(figures.kappa),
        *_calling(figures.calling),
        *_kappa(figures.among),
        reach,
    )
    for each in figures.by_officer:
        yield (
            _("an officer's verdicts"),
            each.officer.officer.name,
            "",
            each.right.of,
            _figure(each.right.share),
            *_ends(each.right.wilson),
            *_kappa(each.kappa),
            *_calling(each.calling),
            *_kappa(None),
            THESE,
        )
    for each in figures.by_rule:
        yield (
            _("everybody's calls on a rule"),
            each.requirement.title,
            "",
            each.calling.agreed.of,
            _figure(each.calling.agreed.share),
            *_ends(each.interval),
            *_kappa(each.kappa),
            *_calling(each.calling),
            *_kappa(each.among),
            reach,
        )
    for each in figures.pairs:
        yield (
            _("two officers' verdicts"),
            each.first.officer.name,
            each.second.officer.name,
            each.agreed.of,
            _figure(each.agreed.share),
            *_ends(each.agreed.wilson),
            *_kappa(each.kappa),
            *(None,) * 4,
            *_kappa(None),
            THESE,
        )


def grid(figures):
    """
    Return how every two officers agree, as (officer, cells) in the order of the officers.

    A cell is a PairFigures, None where an officer would meet himself.
    """
    found = {}
    for each in figures.pairs:
        found[each.first, each.second] = found[each.second, each.first] = each
    return [
        (one, [found.get((one, other)) for other in figures.officers]) for one in figures.officers
    ]
