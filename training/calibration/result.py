"""What an officer is shown after handing in: where calls differ from the rules."""

from django.utils.translation import gettext as _

from rigs.rules.judge import FAIL, PASS
from training.exercises.kinds.base import Line

from . import holding, practice, turns
from .figures import UNSURE, so
from .models import Call
from .report import figures_of, turns_handed_in

# How many others must have handed in before an officer sees how they did: of fewer,
# a name could be guessed.
ENOUGH_OTHERS = 3

LAW = {Call.Verdict.PASSES: PASS, Call.Verdict.FAILS: FAIL}


def judged(entry):
    """
    Return the Lines on one judged rig: the verdict, then every rule, wrong ones first.

    Of a rig that the officer could not tell, no rule counts as called wrong.
    """
    verdict, call = entry.shown.verdict, entry.call
    lines = [
        Line.of(
            finding,
            right=call.verdict == UNSURE or finding.failed is (finding.key in call.failing),
            marks=0,
            out_of=0,
            yours=_yours(call, finding),
        )
        for finding in verdict.regulation
    ]
    truth = so(entry.shown)
    first = Line(
        key="verdict",
        title=_("The rig as a whole"),
        outcome=LAW[truth],
        right=call.verdict == truth,
        marks=0,
        out_of=0,
        yours=call.get_verdict_display(),
        measured_text=_("a rig that {label}").format(label=truth.label),
        clause=verdict.rulebook.citation,
    )
    return [first, *sorted(lines, key=lambda line: (line.right, line.outcome == PASS))]


def _yours(call, finding):
    if call.verdict == UNSURE:
        return _("cannot tell")
    return "broken" if finding.key in call.failing else "met"


def result(turn):
    """Return what the page about ``turn``, handed in, needs, as a dict."""
    counted = turns_handed_in(turn.round)
    figures = figures_of(turn.round, counted)
    mine = next(each for each in figures.by_officer if each.officer == turn)
    entries = turns.entries(turn)
    standings = practice.standings(turn)
    others = [each for each in figures.by_officer if each.officer != turn]
    enough = len(others) >= ENOUGH_OTHERS
    return {
        "turn": turn,
        "round": turn.round,
        "rulebook": turn.round.rulebook,
        "mine": mine,
        "rules": figures.of_one(turn),
        "standings": standings,
        "left": [each for each in standings if not each.holds],
        "held": holding.figures(),
        "others": sorted(each.right.share for each in others) if enough else (),
        "among": figures.among if enough else None,
        "wrong": _wrong(entries),
        "unsure": [each for each in entries if each.call.verdict == UNSURE],
    }


def _wrong(entries):
    """Return (entry, its wrong lines) of those rigs on which anything was called wrong."""
    found = [(each, [line for line in judged(each) if not line.right]) for each in entries]
    return [(each, lines) for each, lines in found if lines]
