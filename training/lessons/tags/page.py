"""What a tag may ask: the rule sets, and lengths and chains by their names."""

import re

from django.utils.translation import gettext as _

from rigs.physics import chain
from rigs.rules.rulebook import RulebookError
from rigs.words import units

from ..errors import TagError

MARK = "*"
"""What stands behind a limit that was written from memory."""

_UNIT = re.compile(r"(?<=\d) (?=(?:in|ft|fm|m|cm|mm|lb|kg|kn)\b)")


def unbroken(text):
    """Return ``text`` with each figure tied to its unit, so that no line ends between them."""
    return _UNIT.sub("\u00a0", text)


class Page:
    """
    The lesson that a tag stands in.

    ``rulebook_name`` is the rule set the lesson goes by; ``load`` returns a rule set
    by its name, ``is_lapsed`` whether it has no version for the day. ``used`` gathers the
    rule sets that were asked for, by name, ``asked`` those since it was last emptied,
    and ``has_marks`` says whether a limit was marked as written from memory. ``live`` are the
    addresses of the tables of the live figures that are shown. ``teaches`` are
    the keys of the rules that the lesson says it teaches, ``passages`` those that it has been
    seen to.
    """

    def __init__(self, rulebook_name, load, is_lapsed=lambda book: False, teaches=()):
        self.rulebook_name = rulebook_name
        self.teaches, self.passages = teaches, []
        self.used, self.asked = {}, {}
        self.live = []
        self._load, self._is_lapsed = load, is_lapsed
        self.has_marks = False
        self._ids = 0

    def next_id(self, word):
        """Return an identifier that nothing else on the page has."""
        self._ids += 1
        return f"{word}-{self._ids}"

    def rulebook(self, name=None):
        """Return the rule set ``name``, the lesson's own if None; raise TagError."""
        name = name or self.rulebook_name
        if name not in self.used:
            try:
                self.used[name] = self._load(name)
            except RulebookError as error:
                raise TagError(str(error)) from error
        self.asked[name] = self.used[name]
        return self.used[name]

    @property
    def lapsed(self):
        """Those of the rule sets ``asked`` that have no version for the day."""
        return [book for book in self.asked.values() if self._is_lapsed(book)]

    def requirement(self, key, rules=None):
        """Return the requirement ``key`` of the rule set ``rules``; raise TagError."""
        try:
            return self.rulebook(rules).requirement(key)
        except KeyError as error:
            raise TagError(error.args[0]) from error

    def mark(self, requirement):
        """Return the mark that goes behind the limit of ``requirement``, "" if it needs none."""
        if requirement.known != "memory":
            return ""
        self.has_marks = True
        return MARK

    def row(self, requirement):
        """Return what a table says of ``requirement``: its limit, and where that is written."""
        metric = requirement.limit_metric_text
        return {
            "title": requirement.title,
            "clause": _("by custom") if requirement.by_custom else requirement.clause,
            "allowed": unbroken(requirement.allowed_text + self.mark(requirement)),
            "metric": metric if requirement.limit and metric != requirement.limit_text else "",
            "caution": requirement.caution,
        }

    def length(self, text):
        """
        Return the metres that ``text`` says; raise TagError if it is unclear.

        The key of a requirement stands for its limit: ``dropper_stock``, or with
        another rule set ``dropper_stock@chain-sweep``.
        """
        reference = re.fullmatch(r"(?P<key>[a-z_]+)(?:@(?P<rules>[a-z0-9-]+))?", text)
        if reference:
            found = self.requirement(reference["key"], reference["rules"])
            if not isinstance(found.limit, float):
                raise TagError(_("“{text}” is no length").format(text=text))
            return found.limit
        try:
            return units.parse_length(text, bare=None)
        except units.UnitError as error:
            raise TagError(str(error)) from error

    @staticmethod
    def speed(text):
        """Return the metres per second that ``text`` says; raise TagError."""
        try:
            return units.parse_speed(text, bare=None)
        except units.UnitError as error:
            raise TagError(str(error)) from error

    def stock(self, text):
        """Return the chain sold under the size ``text``; raise TagError if there is none."""
        try:
            return chain.stock_for(self.length(text))
        except KeyError as error:
            raise TagError(error.args[0]) from error

    def choice(self, text):
        """Return the chain.Choice that ``text`` names: ``2 x 5/16 in``, ``1 x dropper_stock``."""
        match = re.fullmatch(r"([12]) x (.+)", text)
        if not match:
            raise TagError(
                _("“{text}” is no choice of chain: write it like 2 x dropper_stock").format(
                    text=text
                )
            )
        return chain.Choice(self.stock(match[2]), int(match[1]))
