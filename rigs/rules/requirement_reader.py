"""One requirement of a rule set as it is written in YAML."""

from collections.abc import Iterator
from datetime import date

from yaml import Node

from rigs.requirements import find, has
from rigs.words.phrases import FLAG_PHRASES, PHRASES, wrong_holes
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import ROUNDING

from .dated import Dated
from .limit_reader import LimitReader
from .limits import Printed
from .requirement import FISHERY, KNOWN, PRACTICE, REGULATION, Requirement
from .seasons import date_text

Vessels = tuple[float | None, float | None, Printed | None]
"""Over and up to how long a vessel is, in metres, and what is printed beside that."""
Days = tuple[date | None, date | None]

_SOURCED = ("limit", "metric", "clause", "known", "later")
"""What each value of a limit says for itself: nothing of it is taken from the value before."""


class RequirementReader(LimitReader):
    """
    Reads requirements; ``allowance`` is that of the rule set, in metres by kind of measure.

    ``days`` are the first and last on which a limit can change; None of each for any day.
    """

    def __init__(self, source: str, allowance: dict[str, float], days: Days = (None, None)) -> None:
        super().__init__(source)
        self.allowance = allowance
        self.days = days

    def of_part(self, source: str) -> "RequirementReader":
        """Return what reads a shared part by the same allowance, whatever days it names."""
        return RequirementReader(source, self.allowance)

    def explained(self, node: Node) -> str:
        """Return a text that may name the limit."""
        text = self.text(node)
        # Whatever else stood in braces would stumble when somebody breaks the rule.
        if set("{}") & set(text.replace("{allowed}", "")):
            self.refuse(node, _("braces stand for the limit alone: {allowed}"))
        return gettext_lazy(text)

    def _basis(self, node: Node, parts: dict[str, Node]) -> tuple[str, str]:
        """Return (basis, clause): the regulation's has a clause, a custom of the trade none."""
        basis = REGULATION
        if "basis" in parts:
            basis = self.choice(parts["basis"], (REGULATION, PRACTICE, FISHERY), "a basis")
        clause = self.text(parts["clause"]) if "clause" in parts else ""
        if basis != PRACTICE and not clause:
            self.refuse(node, _("“clause” is missing"))
        if basis == PRACTICE and clause:
            self.refuse(parts["clause"], _("what is done by custom has no clause: leave it out"))
        return basis, clause

    def _words(
        self, node: Node, parts: dict[str, Node], dimension: str
    ) -> tuple[tuple[str, str], ...]:
        """Return the phrases of the requirement at ``node``, as (name, text) pairs."""
        told = self.mapping(parts["words"], (), PHRASES) if "words" in parts else {}
        for name, part in told.items():
            if wrong := wrong_holes(name, self.text(part)):
                self.refuse(part, wrong)
        lacking = [name for name in FLAG_PHRASES if name not in told]
        if dimension == "flag" and lacking:
            self.refuse(
                parts.get("words", node),
                _("“words” of a yes-or-no rule has to say “{lacking}”").format(lacking=lacking[0]),
            )
        return tuple((name, self.said(part)) for name, part in told.items())

    def _vessels(self, parts: dict[str, Node]) -> Vessels:
        if "vessel" not in parts:
            return None, None, None
        told = self.mapping(parts["vessel"], (), ("over", "up_to", "metric"))
        over = self.length(told["over"]) if "over" in told else None
        up_to = self.length(told["up_to"]) if "up_to" in told else None
        bound = up_to if over is None else over
        if bound is None or None not in (over, up_to):
            self.refuse(
                parts["vessel"],
                _("say either “over” or “up to” how long a vessel is, such as over 60 ft"),
            )
        if bound == 0:
            self.refuse(parts["vessel"], _("a vessel is longer than nothing"))
        metric = self.printed(told["metric"], bound, "ft") if "metric" in told else None
        return over, up_to, metric

    def requirement(self, node: Node) -> Dated:
        """Return the requirement at ``node`` with all the values of its limit."""
        parts = self.mapping(
            node,
            ("key", "title", "test", "limit", "known", "why", "remedy"),
            (
                *("metric", "clause", "basis", "vessel", "from", "to", "words", "reads_as"),
                *("caution", "later"),
            ),
        )
        first = self._made(node, parts)
        if "later" not in parts:
            return Dated(first)
        if first.limit is True:
            self.refuse(
                parts["later"], _("a yes-or-no rule has one value: say “from” and “to” of the rule")
            )
        return Dated(first, tuple(self._later(parts, first)))

    def _later(
        self, parts: dict[str, Node], first: Requirement
    ) -> Iterator[tuple[date, Requirement]]:
        """Yield the later values of a limit, each with the day from which it holds."""
        before = max(filter(None, (self.days[0], first.effective_from)), default=None)
        last = min(filter(None, (self.days[1], first.effective_to)), default=None)
        kept = {name: node for name, node in parts.items() if name not in _SOURCED}
        for item in self.items(parts["later"]):
            own = self.mapping(
                item, ("from", "limit", "known"), ("metric", "clause", "reads_as", "caution")
            )
            day = self.day(own["from"])
            if before and day <= before:
                self.refuse(
                    own["from"],
                    _(
                        "{date_text} is not after {date_text2}, from which the value before it "
                        "holds: put the values in order, each with a day of its own"
                    ).format(date_text=date_text(day), date_text2=date_text(before)),
                )
            if last and day > last:
                self.refuse(
                    own["from"],
                    _(
                        "{date_text} comes after the last day, {date_text2}: take an earlier "
                        "day, or change the last one"
                    ).format(date_text=date_text(day), date_text2=date_text(last)),
                )
            told = {name: node for name, node in own.items() if name != "from"}
            yield day, self._made(item, kept | told)
            before = day

    def _made(self, node: Node, parts: dict[str, Node]) -> Requirement:
        key = self.text(parts["key"])
        if not has(key):
            self.refuse(
                parts["key"], _("nothing is known here that measures “{key}”").format(key=key)
            )
        measure = find(key)
        limit, unit = self.limit(key, parts["limit"])
        test = self.choice(parts["test"], measure.tests, _("a test for {key}").format(key=key))
        if limit == 0 and test not in measure.zero:
            typed = self.text(parts["limit"])
            self.refuse(
                parts["limit"],
                _("“{test} {typed}” sets no limit: it must be more than nothing").format(
                    test=test, typed=typed
                ),
            )
        metric = self.printed(parts["metric"], limit, unit) if "metric" in parts else None
        over, up_to, vessel_metric = self._vessels(parts)
        first, last = self.dates(parts, "from", "to")
        basis, clause = self._basis(node, parts)
        return Requirement(
            key=key,
            title=self.said(parts["title"]),
            test=test,
            limit=limit,
            unit=unit,
            clause=clause,
            known=self.choice(parts["known"], tuple(KNOWN), _("a way of knowing")),
            basis=basis,
            why=self.said(parts["why"]),
            remedy_text=self.explained(parts["remedy"]),
            vessel_over=over,
            vessel_up_to=up_to,
            effective_from=first,
            effective_to=last,
            slack=ROUNDING + self.allowance.get(measure.allowance, 0.0),
            metric=metric,
            vessel_metric=vessel_metric,
            words=self._words(node, parts, measure.dimension),
            reads_as=self.explained(parts["reads_as"]) if "reads_as" in parts else "",
            caution=self.said(parts["caution"]) if "caution" in parts else "",
        )
