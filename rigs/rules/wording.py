"""
All that is said of a finding, in the words of the deck.

What a requirement is about comes with it, as phrases in its rule set (see ``phrases``);
here they are made into sentences. One sentence is for trainees and for nets, one for an
officer's sheet, which says what was measured against a clause and no more.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

from rigs.requirements.readings import Between
from rigs.words.places import place_text
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import ROUNDING

from .outcomes import CUSTOM_MARKS, FAIL, MARKS, NOT_MEASURED, PASS, SHEET_MARKS
from .rulebook import Requirement

if TYPE_CHECKING:
    from .judge import Finding

CUSTOM_SOURCE = gettext_lazy("By custom; no clause asks for it.")
FROM_MEMORY = gettext_lazy(
    "Limits marked * were written from memory. Check them against the regulation."
)

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
IN_PART = gettext_lazy("Part of it was not measured.")
"""What is said of a limit that is surely met or surely missed, whatever the rest comes to."""
LITTLE = "a little"  # of an amount too small to print
_SIGNS = ("above", "zero", "below")
_THERE_DEFAULT = {
    "reading": gettext_lazy("measured {found}"),
    "none": gettext_lazy("there is none"),
}


def _sentence(text: str) -> str:
    """Return ``text`` with a capital and a full stop."""
    return f"{text[0].upper()}{text[1:]}."


def mark(finding: Finding) -> str:
    """Return how ``finding`` came out, for trainees and on nets: ``met``, ``broken``."""
    return (CUSTOM_MARKS if finding.by_custom else MARKS)[finding.outcome]


def sheet_mark(finding: Finding) -> str:
    """Return how ``finding`` came out, for an officer's sheet: ``inside``, ``outside``."""
    return (CUSTOM_MARKS if finding.by_custom else SHEET_MARKS)[finding.outcome]


def source(requirement: Requirement) -> str:
    """Return where the limit comes from: its clause, with * if written from memory, or custom."""
    if requirement.by_custom:
        return CUSTOM_SOURCE
    return f"{requirement.clause} *" if is_from_memory(requirement) else requirement.clause


def is_from_memory(requirement: Requirement) -> bool:
    """Return whether its limit was written from memory and has to be marked."""
    return requirement.known == "memory" and not requirement.by_custom


def reading(requirement: Requirement) -> str:
    """Return what the site reads into a clause that does not spell it out; empty if nothing."""
    if not requirement.reads_as:
        return ""
    text = requirement.reads_as.replace("{allowed}", requirement.limit_text)
    return _("This site reads it as: {text}.").format(text=text)


def about_memory(findings: Iterable[Finding]) -> str:
    """Return what to say once of limits written from memory if one of ``findings`` has one."""
    return FROM_MEMORY if any(is_from_memory(f.requirement) for f in findings) else ""


def where(finding: Finding) -> tuple[str, ...]:
    """Return the places that break the rule, in words."""
    return tuple(place_text(spot) for spot in finding.spots)


# What is there ---------------------------------------------------------------


def _is_amount(value: object) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def _telling(finding: Finding) -> Any:
    """Return what was measured; if that was a part, the bound that settles the matter."""
    measured, test = finding.measured, finding.requirement.test
    if not isinstance(measured, Between):
        return measured
    upper = test in ("at most", "every")
    return measured.least if upper is (finding.outcome != PASS) else measured.most


def _case(finding: Finding) -> str:
    """Return the name of the phrase that says what is there."""
    measured, requirement = _telling(finding), finding.requirement
    if measured is None:
        return "none"
    if isinstance(measured, bool):
        return "met" if measured else "broken"
    if not _is_amount(measured):
        return "reading"
    if finding.outcome == FAIL and requirement.test == "every" and _margin_key(finding) == "edge":
        return "end"
    sign = "zero" if abs(measured) <= ROUNDING else "above" if measured > 0 else "below"
    return sign if requirement.phrase(sign) else "reading"


def _found(finding: Finding) -> str:
    """Return the measure in the unit of the deck, without a sign where a phrase gives it one."""
    requirement, measured = finding.requirement, finding.measured
    if isinstance(measured, Between) and requirement.phrase("above"):
        least, most = measured if _telling(finding) > 0 else (-measured.most, -measured.least)
        measured = Between(max(0.0, least), most)
    if not _is_amount(measured):
        return requirement.say(measured)
    if requirement.phrase("above"):
        measured = abs(measured)
    text = requirement.say(measured)
    if (
        finding.outcome == FAIL
        and _margin_key(finding) == "past"
        and text == requirement.limit_text
    ):
        if requirement.limit == 0:
            return LITTLE
        return _("just {value} {text}").format(
            value="under" if requirement.test == "at least" else "over", text=text
        )
    return text


def _there(finding: Finding) -> str:
    """Return what is there as a clause: ``the smallest float is 7 in across``."""
    case = _case(finding)
    text = finding.requirement.phrase(case) or _THERE_DEFAULT.get(case, _THERE_DEFAULT["reading"])
    return text.format(found=_found(finding), allowed=finding.requirement.limit_text)


def measured(finding: Finding) -> str:
    """Return what was measured, in the unit of the deck, or what was seen as a clause."""
    if finding.outcome == NOT_MEASURED and not _is_amount(finding.measured):
        return _("not measured")
    if _case(finding) == "reading":
        return _found(finding)
    return _there(finding)


# What is asked ---------------------------------------------------------------


def asked(requirement: Requirement) -> str:
    """Return what is allowed as a clause: ``at least 8 in is needed``, ``there may be none``."""
    if requirement.phrase("asks"):
        return _asks(requirement)
    need = "needed" if requirement.test in ("at least", "every") else "allowed"
    return f"{requirement.allowed_text} is {need}"


def _asks(requirement: Requirement) -> str:
    text = requirement.phrase("asks") or requirement.allowed_text
    return text.replace("{allowed}", requirement.limit_text)


def _asked(finding: Finding) -> str:
    requirement = finding.requirement
    return (
        _("by custom {asks}").format(asks=_asks(requirement))
        if requirement.by_custom
        else asked(requirement)
    )


# By how much -----------------------------------------------------------------


def _margin_key(finding: Finding) -> str:
    """
    Return how the measure lies to the limit.

    ``spare``, ``limit`` or ``almost`` at it, past it by what an ``allowance`` allows; ``past``
    it, or missed at the very ``edge``; empty where there is no saying by how much.
    """
    amount, slack = finding.margin, finding.requirement.slack
    if amount is None or isinstance(finding.measured, bool):
        return ""
    if finding.outcome == FAIL:
        return "edge" if abs(amount) <= max(slack, ROUNDING) else "past"
    if amount < -ROUNDING:
        return "allowance"
    if finding.requirement.limit == 0 and amount <= ROUNDING:
        return ""
    if not _is_amount(finding.measured):
        return "spare" if amount > ROUNDING else "limit"
    if finding.measured <= ROUNDING and finding.requirement.test == "at most":
        return ""  # nothing of what may be at most so much
    if amount <= ROUNDING:
        return "limit"
    say = finding.requirement.say
    return "almost" if say(amount) == say(0 * amount) else "spare"


def margin(finding: Finding) -> str:
    """Return by how much the limit is kept or missed; empty where that cannot be said."""
    key, requirement = _margin_key(finding), finding.requirement
    return _margins(requirement)[key].format(margin=_margin_amount(finding)) if key else ""


def _margin_amount(finding: Finding) -> str:
    if finding.margin is None:
        return ""
    say = finding.requirement.say
    amount = say(abs(finding.margin))
    if amount == say(0 * finding.margin):
        return LITTLE
    return (
        _("at least {amount}").format(amount=amount)
        if isinstance(finding.measured, Between)
        else amount
    )


def _margins(requirement: Requirement) -> dict[str, str]:
    return {
        "spare": _("{margin} to spare"),
        "limit": _("exactly at the limit"),
        "almost": _("almost at the limit"),
        "allowance": _("within the measuring allowance"),
        "past": requirement.phrase("past") or _("{margin} past the limit"),
        "edge": requirement.phrase("at_edge") or _("exactly at the limit, and so not inside it"),
    }


# Sentences -------------------------------------------------------------------


def _with_what_is_open(finding: Finding, told: str) -> str:
    """Return ``told`` with a word on what was not measured, if that leaves nothing open."""
    settled = finding.outcome != NOT_MEASURED and isinstance(finding.measured, Between)
    return f"{told} {IN_PART}" if settled else told


def sentence(finding: Finding) -> str:
    """Return what was found against what is asked, for trainees and for nets."""
    return _with_what_is_open(finding, _sentence_on(finding))


def _sentence_on(finding: Finding) -> str:
    flag = finding.requirement.test == "must be"
    if finding.outcome == NOT_MEASURED:
        if flag:
            seen = _("not all of it was looked at") if finding.measured else _("not looked at")
        elif finding.measured is None:
            seen = _("not measured")
        else:
            seen = _("not all of it was measured. So far {there}").format(there=_there(finding))
        return _sentence(f"{seen}; {_asked(finding)}")
    case, there = _case(finding), _there(finding)
    if finding.outcome == PASS:
        if case == "none":
            return _sentence(_("{there}, so there is nothing to check").format(there=there))
        if flag or finding.requirement.limit == 0:
            return _sentence(there)
    if case == "end":
        return _why_end(finding) or _sentence(f"{there}: {margin(finding)}")
    by = "" if finding.requirement.limit == 0 else margin(finding)
    told = _sentence(f"{there}; {_asked(finding)}{f': {by}' if by else ''}")
    return f"{told} {_why_end(finding)}".strip()


def _ends(finding: Finding) -> list[tuple[str, float]]:
    """Return (side, length of its wing) where a whole step is left at the end of a wing."""
    return [
        (side, wing)
        for side, last, wing, is_end in finding.spots
        if is_end and wing is not None and wing - last <= finding.requirement.edge
    ]


def _why_end(finding: Finding) -> str:
    """Return why a dropper belongs at the end of wings of whole steps; empty for others."""
    requirement = finding.requirement
    text = requirement.phrase("why_end")
    ends = _ends(finding) if text else []
    told = []
    for wing, sides in _wings(ends, requirement.say).items():
        steps = round(wing / requirement.limit)
        if abs(steps * requirement.limit - wing) > ROUNDING:
            return ""
        number = _NUMBERS[steps] if steps < len(_NUMBERS) else str(steps)
        told.append(
            text.format(
                which=_("the {sides} wing").format(sides=sides[0])
                if len(sides) == 1
                else _("each wing"),
                wing=requirement.say(wing),
                steps=_("{number} whole step{value}").format(
                    number=number, value="s" * (steps != 1)
                ),
                allowed=requirement.limit_text,
            )
        )
    return " ".join(_sentence(each) for each in told)


def _wings(
    ends: Iterable[tuple[str, float]], say: Callable[[float], str]
) -> dict[float, list[str]]:
    """Return the sides of ``ends`` by the length of their wing; wings said alike are alike."""
    by_text: dict[str, tuple[float, list[str]]] = {}
    for side, wing in ends:
        by_text.setdefault(say(wing), (wing, []))[1].append(side)
    return dict(by_text.values())


# The officer's sheet ----------------------------------------------------------

_MARGINS_INSIDE = ("", "spare", "limit", "almost", "allowance")
_MARGINS_OUTSIDE = ("past", "edge")


def sheet_sentence(finding: Finding) -> str:
    """
    Return what was measured against what the clause says, and nothing of guilt or of law.

    That is for others, with the whole case before them.
    """
    template = sheet_sentences(finding.requirement)[_sheet_key(finding)]
    told = template.format(found=_found(finding), margin=_margin_amount(finding))
    return _with_what_is_open(finding, told)


def _sheet_key(finding: Finding) -> str:
    if finding.outcome == NOT_MEASURED:
        if finding.requirement.test == "must be" or finding.measured is None:
            return NOT_MEASURED
        return _("partly {case}").format(case=_case(finding))
    return " ".join(
        filter(None, (SHEET_MARKS[finding.outcome], _case(finding), _margin_key(finding)))
    )


def sheet_sentences(requirement: Requirement) -> dict[str, str]:
    """
    Return the sentences of an officer's sheet on ``requirement``, by what they are for.

    Their holes are ``{found}`` and ``{margin}``. A key is the mark, the case and how the
    measure lies to the limit: ``outside reading past``. A script that has them can say
    what ``sheet_sentence`` says and need not know what a rule is about.
    """
    custom = requirement.by_custom
    says = _("by custom") if custom else _("the clause says")
    asks = f"{says} {_asks(requirement)}"

    def there(case: str) -> str:
        text = requirement.phrase(case) or _THERE_DEFAULT.get(case, _THERE_DEFAULT["reading"])
        return text.replace("{allowed}", requirement.limit_text)

    told = {
        "inside none": _sentence(there("none")),
        "outside none": _sentence(f"{there('none')}; {asks}"),
    }
    as_asked = _("as is the custom") if custom else _("as the clause asks")
    if requirement.test == "must be":
        return told | {
            NOT_MEASURED: _sentence(_("not looked at, or not all of it; {asks}").format(asks=asks)),
            "inside met": _sentence(f"{there('met')}, {as_asked}"),
            "outside broken": _sentence(f"{there('broken')}; {asks}"),
        }
    told[NOT_MEASURED] = _sentence(_("not measured; {asks}").format(asks=asks))
    margins = _margins(requirement)
    for case in _cases(requirement):
        told[f"partly {case}"] = _("Not all of it was measured. {sentence}").format(
            sentence=_sentence(_("so far {there}; {asks}").format(there=there(case), asks=asks))
        )
        for mark_, keys in (("inside", _MARGINS_INSIDE), ("outside", _MARGINS_OUTSIDE)):
            for key in keys:
                name = " ".join(filter(None, (mark_, case, key)))
                if requirement.limit == 0:  # what is there says by how much
                    end = f", {as_asked}" if mark_ == "inside" else f"; {asks}"
                else:
                    end = f"; {asks}: {margins[key]}" if key else f"; {asks}"
                told[name] = _sentence(f"{there(case)}{end}")
    return told


def signed(requirement: Requirement) -> list[str]:
    """Return the names of the phrases that say a difference by its sign."""
    return [case for case in _SIGNS if requirement.phrase(case)]


def _cases(requirement: Requirement) -> list[str]:
    """Return the names of the phrases that can say a measure under ``requirement``."""
    cases = signed(requirement)
    cases = cases if len(cases) == len(_SIGNS) else [*cases, "reading"]
    return [*cases, "end"] if requirement.test == "every" else cases


# How to fix it ---------------------------------------------------------------


def general_remedy(requirement: Requirement) -> str:
    """Return how to fix what breaks ``requirement``, whichever way it is broken."""
    return requirement.remedy_text.format(allowed=requirement.limit_text)


def remedy(finding: Finding) -> str:
    """Return how to fix it, the way in which it is broken; empty unless it is."""
    if finding.outcome != FAIL:
        return ""
    requirement = finding.requirement
    ends = _ends(finding) if requirement.test == "every" else []
    told = []
    if len(ends) < len(finding.spots) or not ends:
        text = requirement.phrase(f"remedy_{_case(finding)}")
        told.append(
            text.format(allowed=requirement.limit_text, where=_("the wing end"))
            if text
            else general_remedy(requirement)
        )
    if ends and (text := requirement.phrase("remedy_end")):
        places = (
            _("the {ends} wing end").format(ends=ends[0][0])
            if len(ends) == 1
            else _("each wing end")
        )
        told.append(text.format(allowed=requirement.limit_text, where=places))
    return " ".join(told)
