"""What was said of a net beside what the rules say."""

from typing import NamedTuple

from django.utils.translation import gettext as _

from rigs.rules.judge import FAIL, PASS, Finding
from rigs.words.say import gettext_lazy

MET, BROKEN, UNSURE = "met", "broken", gettext_lazy("not sure")
SAID = (MET, BROKEN, UNSURE)
_SAYS = {PASS: MET, FAIL: BROKEN}


class Compared(NamedTuple):
    """One rule: its Finding, and what was ``said`` of it before."""

    finding: Finding
    said: str

    @property
    def is_decided(self):
        """Whether the rules say anything: what was not measured is neither met nor broken."""
        return self.finding.outcome in _SAYS

    @property
    def is_missed(self):
        """Whether the opposite was said of what the rules say."""
        return self.is_decided and self.said != UNSURE and self.said != self._says

    @property
    def is_right(self):
        return self.is_decided and self.said == self._says

    @property
    def _says(self):
        return _SAYS[self.finding.outcome]

    @property
    def words(self):
        """What was said and what it is, in a sentence."""
        said = (
            _("You were not sure")
            if self.said == UNSURE
            else _("You said {said}").format(said=self.said)
        )
        if not self.is_decided:
            return _("{said}. It is not measured.").format(said=said)
        if self.is_right:
            return _("{said}, and it is.").format(said=said)
        return f"{said}{';' if self.is_missed else ':'} it is {self._says}."


class SaidAndFound(NamedTuple):
    """All rules of a net, sorted by how they were said."""

    missed: list[Compared]
    unsure: list[Compared]
    right: list[Compared]
    not_measured: list[Compared]

    @property
    def said(self):
        """How many rules were called met or broken of those that the rules decide."""
        return len(self.missed) + len(self.right)


def compare(findings, said):
    """Return the SaidAndFound of ``findings`` with ``said``, {key: one of SAID}."""
    found = [Compared(each, said.get(each.key, UNSURE)) for each in findings]
    return SaidAndFound(
        missed=[each for each in found if each.is_missed],
        unsure=[each for each in found if each.is_decided and each.said == UNSURE],
        right=[each for each in found if each.is_right],
        not_measured=[each for each in found if not each.is_decided],
    )
