"""A whole sheet judged: by the rule set for the gear, and by that of the fishery with it."""

from collections.abc import Collection, Iterable
from datetime import date
from typing import NamedTuple

from rigs.rules.judge import Finding, Verdict
from rigs.rules.outcomes import FAIL, NOT_MEASURED, PASS
from rigs.rules.rulebook import FISHERY, Rulebook

from .sheet import Answers, Tally, tally_of
from .sheet import judged as judged_by_one
from .steps import AskedAlike, as_asked


class Whole(NamedTuple):
    """
    The Verdicts of all rule sets that a sheet is checked by, the gear's first.

    What two of them ask alike is told once, by the first.
    """

    verdicts: tuple[Verdict, ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All findings, in the order of the rule sets."""
        return tuple(finding for verdict in self.verdicts for finding in verdict.findings)

    def finding(self, key: str) -> Finding:
        """Return the Finding on the requirement ``key``; raise KeyError if there is none."""
        return {finding.key: finding for finding in self.findings}[key]

    def _of(self, outcome: str) -> tuple[Finding, ...]:
        return tuple(f for f in self.findings if f.outcome == outcome and f.requirement.binds)

    @property
    def failed(self) -> tuple[Finding, ...]:
        """Findings outside a clause."""
        return self._of(FAIL)

    @property
    def passed(self) -> tuple[Finding, ...]:
        """Findings inside a clause."""
        return self._of(PASS)

    @property
    def not_measured(self) -> tuple[Finding, ...]:
        """Findings on what a clause asks and nobody measured, or that cannot be told."""
        return self._of(NOT_MEASURED)

    @property
    def customs(self) -> tuple[Finding, ...]:
        """Findings on what is done by custom, with no clause that asks for it."""
        return tuple(f for f in self.findings if f.by_custom)

    @property
    def warnings(self) -> tuple[Finding, ...]:
        """Findings on what a fishery as a whole is weighed by: a sheet can break none."""
        return tuple(f for f in self.findings if f.requirement.basis == FISHERY)

    @property
    def legal(self) -> bool | None:
        """Whether all is inside, None where a part was not measured and none is outside."""
        if self.failed:
            return False
        return None if self.not_measured else True

    def tally(self, told: Collection[str] = frozenset()) -> Tally:
        """Return the Tally; ``told`` names the questions that were told, not measured."""
        return tally_of(self.failed, self.passed, self.not_measured, told)


def books_of(rulebook: Rulebook | None, fishery: Rulebook | None = None) -> tuple[Rulebook, ...]:
    """Return the rule sets to check by: the gear's, and the fishery's if it is another."""
    if rulebook and fishery and rulebook.name == fishery.name:
        return (rulebook,)
    return tuple(book for book in (rulebook, fishery) if book)


def judged(
    answers: Answers, books: Iterable[Rulebook], on: date | None = None, position: str = ""
) -> Whole:
    """
    Return the Whole of what was written down, on the date ``on``.

    ``position`` is that of the sheet's head, as typed. Raise ValueError if one of ``books``
    has no version for that day.
    """
    verdicts: list[Verdict] = []
    told: set[AskedAlike] = set()
    for book in books:
        verdict = judged_by_one(answers, book, on)
        new = tuple(f for f in verdict.findings if as_asked(f.requirement) not in told)
        told |= {as_asked(finding.requirement) for finding in new}
        verdicts.append(verdict._replace(findings=new))
    return Whole(tuple(verdicts))
